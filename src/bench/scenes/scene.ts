import type { nothing, ReactiveControllerHost, TemplateResult } from 'lit';
import type { Heard } from '../../hear/ear.ts';
import type { Workshop } from '../../job/workshop.ts';
import type { Gesture } from '../../press/gesture.ts';
import type { Presses } from '../../press/presses.dom.ts';
import type { Desk } from '../desk.dom.ts';
import type { Listening } from '../listening.dom.ts';
import type { LivePhrase } from '../voice.ts';

/** What a scene may ask of the bench around it. */
export interface Bench {
  readonly desk: Desk;
  readonly host: ReactiveControllerHost;
  readonly presses: Presses | null;
  readonly listening: Listening;
  workshop: Workshop | null;
  /** A sentence about what went wrong last, shown by the scene; cleared when another scene comes. */
  fault: string | null;
  /** Shows another scene; the one before is closed. */
  show(scene: Scene): void;
  toShelf(): Promise<void>;
  toHealth(): Promise<void>;
  toJob(job: string): Promise<void>;
  /** Tells the other windows that this job was written to. */
  tell(job: string): void;
  fail(error: unknown): void;
  /** Runs what may fail: a fault becomes a sentence on the screen. */
  try(work: Promise<unknown>): void;
  redraw(): void;
}

/** One screen of the bench: what it shows, and what a gesture does there. */
export interface Scene {
  pressed(gesture: Gesture): void;
  /** A text that a gauge or scanner typed; absent: it means nothing here. */
  typed?(text: string): void;
  /** A phrase that was heard; absent: nothing can be said here. */
  heard?(heard: Heard): void;
  /** What may be said now. */
  readonly phrases?: readonly LivePhrase[];
  /** Who is likely to speak: their own ways of saying the phrases count. */
  readonly person?: string;
  render(): TemplateResult | typeof nothing;
  /** Another window wrote to this job. */
  news?(job: string): void;
  close?(): void;
  /** Resolves when everything that was pressed so far has been written down. */
  readonly idle?: Promise<unknown>;
}
