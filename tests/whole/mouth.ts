import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { clip, RATE, type Said, spoken, waveFile } from '../tools/clips.ts';
import type { Hands } from './hands.ts';
import { until } from './screen.ts';

/*
 * A person who speaks: a sound file that the browser takes for the microphone. It starts from its beginning whenever the
 * microphone is opened, so it is written first and then the page is loaded; the first key, as on any bench that listens,
 * opens the microphone. The file runs on whatever the app does: it is a timeline and no answer.
 */

/** What is said, or a pause, s. */
export type Word = string | number;

/** Silence after each word, s: the ear is sure up to 1.0 s after it, a refusal sounds for 0.42 s, the room for 0.25 s. */
const PAUSE = 1.6;
/** Before the first word: the engine starts and hears the room. */
const LEAD = 2.5;

export interface Spoken extends Said {
  readonly text: string;
}

/** The timeline of what is said, one after the other. */
export function timeline(words: readonly Word[], pause = PAUSE): Spoken[] {
  let at = LEAD;
  const said: Spoken[] = [];
  for (const word of words) {
    if (typeof word === 'number') {
      at += word;
      continue;
    }
    const sound = clip(word);
    said.push({ at, text: word, sound });
    at += sound.length / RATE + pause;
  }
  return said;
}

export class Mouth {
  readonly #folder = mkdtempSync(join(tmpdir(), 'holdfast-mouth-'));
  readonly #file = join(this.#folder, 'microphone.wav');

  constructor() {
    this.#write([]);
  }

  /** What makes the browser take this mouth for its microphone, and ask nobody. */
  get flags(): string[] {
    return [
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-audio-capture=${this.#file}%noloop`,
    ];
  }

  /** Loads the page again, opens its microphone, and speaks. Returns how long it will speak, ms. */
  async speak(hands: Hands, words: readonly Word[], pause = PAUSE): Promise<number> {
    const ms = this.#write(timeline(words, pause));
    await hands.page.reload();
    await hands.atStation();
    // "Say again": a key that moves nothing.
    await hands.tap('KeyA');
    await listens(hands.page);
    return ms;
  }

  /** Speaks to whatever opens the microphone next. Returns how long, ms. */
  prepare(words: readonly Word[], pause = PAUSE): number {
    return this.#write(timeline(words, pause));
  }

  #write(said: readonly Said[]): number {
    const sound = spoken(said, 2);
    writeFileSync(this.#file, waveFile(sound));
    return (1000 * sound.length) / RATE;
  }

  close(): void {
    rmSync(this.#folder, { recursive: true, force: true });
  }
}

/** Waits until the screen says that the bench listens. */
export const listens = (page: Page) =>
  until(page, 'that it listens', ({ text }) => /Listening/.test(text), 20_000);
