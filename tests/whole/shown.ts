import type { BrowserContext } from 'playwright-core';
import { eventInWords } from '../../src/job/event-words.ts';
import type { JournalRecord } from '../../src/journal/record.ts';

/** One state of a job that was on the screen for at least one whole frame. */
export interface Shown {
  /** Station that was shown. */
  readonly station: string;
  /** The line of the last input taken: its words and its time of day. */
  readonly accepted: string;
  /** All that changes with a record and with nothing else. */
  readonly all: string;
}

/** Runs in the page: reads what is drawn in every frame and tells it once that frame has been followed by another. */
function watch(): void {
  const tell = (globalThis as unknown as { shownToTest(shown: Shown): Promise<void> }).shownToTest;
  let last = '';
  const frame = () => {
    const station = document
      .querySelector('hf-app')
      ?.shadowRoot?.querySelector('hf-job')
      ?.shadowRoot?.querySelector<HTMLElement>('.station');
    const text = (what: string) =>
      (station?.querySelector(what)?.textContent ?? '').replace(/\s+/g, ' ').trim();
    const accepted = text('.last.yes');
    const parts = ['.place', '.say', '.kit .next', '.ring text', '.ring figcaption', '.opens'];
    const ring = [...(station?.querySelectorAll('.ring .spot') ?? [])].map((spot) => spot.textContent);
    const all = [station?.dataset.station, accepted, ...parts.map(text), ...ring].join('|');
    if (station && all !== last) {
      last = all;
      const shown = { station: station.dataset.station ?? '', accepted, all };
      requestAnimationFrame(() => void tell(shown).catch(() => undefined));
    }
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
}

/** Tells, from outside the page, every state of a job that is painted in any window of this browser. */
export async function watchShown(context: BrowserContext, told: (shown: Shown) => void): Promise<void> {
  await context.exposeBinding('shownToTest', (_, shown: Shown) => told(shown));
  await context.addInitScript(watch);
}

const line = ({ event, at }: JournalRecord): string => `✓ ${eventInWords(event)} ${at.slice(11, 19)}`;

/**
 * What was on the screen and is not in the journal. Every state shown must have its own accepted record, in the order
 * in which they were shown; only the first may be the one before, since a window that opens shows where the job stands.
 */
export function notInJournal(
  shown: readonly Shown[],
  records: readonly JournalRecord[],
  from: number,
): { missing: Shown[]; last: number } {
  const missing: Shown[] = [];
  let last = from;
  for (const [at, one] of shown.entries()) {
    const first = at === 0 ? Math.max(0, last) : last + 1;
    const found = records.findIndex(
      (record, seq) =>
        seq >= first &&
        record.outcome === 'accepted' &&
        record.station === one.station &&
        line(record) === one.accepted,
    );
    if (found < 0) missing.push(one);
    else last = found;
  }
  return { missing, last };
}
