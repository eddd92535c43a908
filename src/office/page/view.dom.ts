import { LitElement } from 'lit';
import type { DeskLink } from './desk-link.dom.ts';
import { pageStyle } from './page-style.dom.ts';

/** A part of the page that asks the office something and shows the answer, or the sentence why there is none. */
export abstract class View extends LitElement {
  static override properties = { link: { attribute: false }, fault: { state: true } };
  declare link: DeskLink;
  declare fault: string | null;

  static override styles = [pageStyle];

  constructor() {
    super();
    this.fault = null;
  }

  protected async try(work: () => Promise<unknown>): Promise<void> {
    try {
      await work();
      this.fault = null;
    } catch (error) {
      this.fault = error instanceof Error ? error.message : String(error);
    }
    this.requestUpdate();
  }
}

/** `2026-11-20T12:00:00.000Z` as day and time, UTC. */
export const moment = (at: string | null): string =>
  at === null ? '–' : `${at.slice(0, 10)} ${at.slice(11, 16)}`;

/** How long ago, in words. */
export function ago(at: string | null, now: number): string {
  if (at === null) return 'never';
  const minutes = Math.max(0, Math.floor((now - Date.parse(at)) / 60_000));
  if (minutes < 1) return 'just now';
  if (minutes < 60) return `${minutes} min ago`;
  return minutes < 2880 ? `${Math.floor(minutes / 60)} h ago` : `${Math.floor(minutes / 1440)} days ago`;
}
