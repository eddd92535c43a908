import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { ear, type Phrase } from '../../src/hear/ear.ts';
import { lexicon } from '../../src/hear/lexicon.ts';
import { readWeights, type Weights } from '../../src/hear/weights.ts';
import { clip, faster, RATE, type Said, spoken } from '../tools/clips.ts';

// Radio talk and the app's own voice, with the words of commands in their sentences, through the whole ear faster than
// time goes by: 5 stations × 44 s in every run; TALK_ROUNDS=7 makes it five minutes at each. The voices: engines as in tests/voice-bench/clips.sh; one of the four was kept out of the model's training.

/** A busy machine is slow at this: the time is no part of what is tested. */
const PATIENCE = 180_000;

const at = (path: string) => new URL(path, import.meta.url);
let weights: Weights;
const words = lexicon(
  JSON.parse(readFileSync(at('../../assets/voice/words.json'), 'utf8')) as Record<string, string>,
);
beforeAll(() => {
  const bytes = readFileSync(at('../../assets/voice/ear.bin'));
  const read = readWeights(
    bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer,
  );
  if ('code' in read) throw new Error(read.says);
  weights = read;
});

const word = (text: string): Phrase => ({ text, kind: 'word' });
const ALWAYS: readonly Phrase[] = [
  ...['tell me why', 'one step back', 'trouble here', 'say again', 'take note', 'next step'].map(word),
  { text: 'pause the job', kind: 'stop' },
  { text: 'stop work', kind: 'stop' },
];
const HOLD: readonly Phrase[] = [
  { text: 'every line unbroken', kind: 'hold' },
  word('not passed'),
  ...ALWAYS,
];
const FIGURE: readonly Phrase[] = [
  { text: '', kind: 'figure' },
  ...['figure correct', 'that is wrong', 'not passed', 'how much', 'show the drawing'].map(word),
  ...ALWAYS,
];
const FORK: readonly Phrase[] = [...['centre bolt', 'circlip ring', 'nut with tab'].map(word), ...ALWAYS];
const LINK: readonly Phrase[] = [...['clip link', 'riveted link'].map(word), ...ALWAYS];
const TOOLS: readonly Phrase[] = ['number one', 'number two', 'number three', 'leave it'].map(word);

const stations = [
  ['a step', ALWAYS],
  ['a hold point', HOLD],
  ['a figure', FIGURE],
  ['a fork', FORK],
  ['a list of tools', TOOLS],
] as const;

/** Phrases that the ear takes in a sound. */
function taken(phrases: readonly Phrase[], sound: Float32Array): string[] {
  const listening = ear(weights, words);
  listening.listen(phrases);
  const out: string[] = [];
  for (let from = 0; from < sound.length; from += 480) {
    const heard = listening.feed(sound.subarray(from, from + 480));
    if (heard) out.push(heard.phrase);
  }
  return out;
}

const ROUNDS = Number(process.env.TALK_ROUNDS ?? 1);

/** Six speakers one after the other, `rounds` times over, each time at another speed and pitch. */
function radio(rounds: number): Float32Array {
  const said: Said[] = [];
  let time = 1;
  for (let round = 0; round < rounds; round++) {
    for (let n = 1; n <= 6; n++) {
      const sound = faster(clip(`talk-${n}`), 1 + 0.14 * Math.sin(round * 2.4 + n));
      said.push({ at: time, sound });
      time += sound.length / RATE + 0.4;
    }
  }
  return spoken(said);
}

describe('the radio talks, and nothing is taken', { timeout: PATIENCE }, () => {
  test.each(stations)('at %s', (_, phrases) => {
    const sound = radio(ROUNDS);
    expect(sound.length / RATE).toBeGreaterThan(40 * ROUNDS);
    expect(taken(phrases, sound)).toEqual([]);
  });

  test('but a word that is said alone in it is', () => {
    const talk = clip('talk-1');
    const next = clip('next step');
    const from = 1 + talk.length / RATE;
    const sound = spoken([
      { at: 0.5, sound: talk },
      { at: from + 0.6, sound: next },
      { at: from + 2.6, sound: clip('talk-6') },
    ]);
    for (const [, phrases] of stations.slice(0, 4)) expect(taken(phrases, sound)).toEqual(['next step']);
  });
});

describe('the app hears itself, not even deaf, and nothing opens', { timeout: PATIENCE }, () => {
  test.each([
    ['app-step', ALWAYS],
    ['app-hold', HOLD],
    ['app-refusal', HOLD],
    ['app-wrong-phrase', HOLD],
    ['app-fork', LINK],
    ['app-fork-refusal', LINK],
  ] as const)('%s', (name, phrases) => {
    const sound = spoken([0.9, 1, 1.12].map((by, n) => ({ at: 1 + 9 * n, sound: faster(clip(name), by) })));
    expect(taken(phrases, sound)).toEqual([]);
  });

  test('a figure read back commits nothing', () => {
    const heard = taken(FIGURE, spoken([{ at: 1, sound: clip('app-read-back') }]));
    expect(heard).not.toContain('figure correct');
    expect(heard).not.toContain('that is wrong');
  });
});
