import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { COMMANDS, NUMBERS, standing } from '../../src/bench/teachable.ts';
import { ear, type Phrase } from '../../src/hear/ear.ts';
import { lexicon } from '../../src/hear/lexicon.ts';
import { outputOf } from '../../src/hear/phones.ts';
import { refusalsOf } from '../../src/hear/refusals.ts';
import { retranscribe, type Take, taker } from '../../src/hear/taker.ts';
import { isOwnWord, soundFault, takeFault, tooAlike, waysOf, wordsOf } from '../../src/hear/teach.ts';
import { readWeights, type Weights } from '../../src/hear/weights.ts';
import { clip, faster, hiss, RATE, spoken } from '../tools/clips.ts';

const at = (path: string) => new URL(path, import.meta.url);
const words = lexicon(
  JSON.parse(readFileSync(at('../../assets/voice/words.json'), 'utf8')) as Record<string, string>,
);
let weights: Weights;
beforeAll(() => {
  const { buffer, byteOffset, byteLength } = readFileSync(at('../../assets/voice/ear.bin'));
  const read = readWeights(buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer);
  if ('code' in read) throw new Error(read.says);
  weights = read;
});

const out = (phones: string) => phones.split(' ').map((p) => outputOf(p) ?? 0);
const NEXT = { text: 'next step', kind: 'word' } as const;
const HOLD = { text: 'every line unbroken', kind: 'hold' } as const;
const spelt = (text: string) => wordsOf(text, words).flat();

function takes(sound: Float32Array): Take[] {
  const t = taker(weights);
  const all: Take[] = [];
  for (let i = 0; i < sound.length; i += 480) {
    const take = t.feed(sound.subarray(i, i + 480));
    if (take) all.push(take);
  }
  return all;
}

const own = () => clip('own-word');
const thrice = (sound: Float32Array) =>
  spoken(
    [1, 3, 5].map((from, i) => ({ at: from, sound: faster(sound, 0.96 + 0.04 * i) })),
    2,
  );

describe('cutting takes out of the sound', () => {
  test('three words are three takes, each with its room, its length and its ratio', () => {
    const all = takes(thrice(clip('next step')));
    expect(all).toHaveLength(3);
    for (const take of all) {
      expect(soundFault(take)).toBeNull();
      expect(takeFault(NEXT, take.phones, [], words)).toBeNull();
      expect(take.samples.length / RATE).toBeGreaterThan(0.7);
      expect(take.samples.length / RATE).toBeLessThan(1.9);
      expect(take.speechToNoise).toBeGreaterThan(25);
    }
  });

  test('a quiet shop and a knock are no takes', () => {
    const knock = Float32Array.from({ length: 400 }, (_, i) => (i % 7 < 3 ? 0.8 : -0.8) * (1 - i / 400));
    expect(takes(hiss(3))).toEqual([]);
    expect(takes(spoken([{ at: 1, sound: knock }], 2))).toEqual([]);
  });

  test('a kept take read anew says the same, near enough', () => {
    const [take] = takes(thrice(clip('next step')));
    const again = retranscribe(weights, take?.samples ?? new Float32Array());
    expect(takeFault(NEXT, again, [take?.phones ?? []], words)).toBeNull();
  });
});

describe('what is wrong with a take', () => {
  const good = { phones: spelt('next step'), ms: 600, peak: 0.3, clipped: 0, speechToNoise: 30 };

  test.each([
    ['too-quiet', { ...good, speechToNoise: 5 }],
    ['too-quiet', { ...good, peak: 0.004, speechToNoise: null }],
    ['clipped', { ...good, peak: 1, clipped: 200 }],
    ['too-long', { ...good, ms: 4000 }],
  ])('%s', (code, take) => {
    expect(soundFault(take)?.code).toBe(code);
  });

  test('a take that is cut short, and one that is unlike those before', () => {
    expect(soundFault(good)).toBeNull();
    expect(takeFault(NEXT, out('N EH'), [], words)?.code).toBe('too-short');
    expect(takeFault(NEXT, out('T R AH B AH L'), [spelt('next step')], words)?.code).toBe('unlike-others');
    expect(takeFault(NEXT, out('N EH K S T EH P'), [spelt('next step')], words)).toBeNull();
  });
});

describe('a hold phrase', () => {
  test('is taught by its own words in the person’s accent', () => {
    const accent = out('EH V R IY L AY N AH M B R OW K AH N');
    expect(takeFault(HOLD, accent, [], words)).toBeNull();
    const [way] = waysOf(HOLD, [accent], words);
    expect(way).toHaveLength(3);
  });

  test('is never taught by any of its negated and partial forms', () => {
    for (const form of refusalsOf(HOLD.text)) {
      const fault = takeFault(HOLD, spelt(form), [], words);
      expect(fault?.code, form).toBe('near-refusal');
      expect(waysOf(HOLD, [spelt(form)], words)).toEqual([]);
    }
  });

  test('is never taught by another word of the person’s own, nor with a word missing', () => {
    expect(takeFault(HOLD, out('V AY T ER B IH T AH'), [], words)?.code).toMatch(/unlike-hold|near-refusal/);
    expect(takeFault(HOLD, spelt('every line'), [], words)).not.toBeNull();
    expect(takeFault(HOLD, spelt('every line broken'), [], words)?.code).toBe('unlike-hold');
    expect(takeFault(HOLD, spelt(HOLD.text), [], words)).toBeNull();
  });
});

describe('ways in the live grammar', () => {
  const live: Phrase[] = [
    NEXT,
    { text: 'say again', kind: 'word' },
    { text: 'stop work', kind: 'stop' },
    HOLD,
  ];
  const hears = (phrases: readonly Phrase[], sound: Float32Array) => {
    const e = ear(weights, words);
    e.listen(phrases);
    const heard: string[] = [];
    for (let i = 0; i < sound.length; i += 480) {
      const h = e.feed(sound.subarray(i, i + 480));
      if (h) heard.push(h.phrase);
    }
    return heard;
  };

  test('a command is heard by the person’s own word for it, in another language, once it is taught', () => {
    const said = spoken([{ at: 1, sound: faster(own(), 1.02) }], 2);
    expect(hears(live, said)).toEqual([]);
    const ways = waysOf(
      NEXT,
      takes(thrice(own())).map(({ phones }) => phones),
      words,
    );
    expect(ways.length).toBeGreaterThan(0);
    expect(isOwnWord('next step', ways, words)).toBe(true);
    expect(hears([{ ...NEXT, ways }, ...live.slice(1)], said)).toEqual(['next step']);
    expect(
      hears([{ ...NEXT, ways }, ...live.slice(1)], spoken([{ at: 1, sound: clip('next step') }], 2)),
    ).toEqual(['next step']);
  });

  test('a taught hold still opens for its phrase and for none of the app’s own sentences', () => {
    const ways = waysOf(
      HOLD,
      takes(thrice(clip('every line unbroken'))).map(({ phones }) => phones),
      words,
    );
    const taught = [...live.slice(0, 3), { ...HOLD, ways }];
    expect(hears(taught, spoken([{ at: 1, sound: clip('every line unbroken') }], 2))).toEqual([HOLD.text]);
    expect(hears(taught, spoken([{ at: 1, sound: clip('app-hold') }], 2))).toEqual([]);
    expect(hears(taught, spoken([{ at: 1, sound: clip('app-refusal') }], 2))).toEqual([]);
  });
});

describe('what is safe', () => {
  const say = (text: string, phones: string) => ({ text, ways: [[out(phones)]] });

  test('two own words that sound alike are named, the closest first', () => {
    const pairs = tooAlike(
      [
        say('one step back', 'N AH Z AH D'),
        say('next step', 'N AH Z AH T'),
        say('stop work', 'S T AA P W ER K'),
      ],
      words,
    );
    expect(pairs.map(({ one, other }) => [one, other])).toEqual([['one step back', 'next step']]);
  });

  test('the app’s own words are far enough apart untaught', () => {
    const all = [...COMMANDS, ...NUMBERS].map(({ text }) => ({ text, ways: [wordsOf(text, words)] }));
    expect(tooAlike(all, words)).toEqual([]);
  });

  test('a word is safe with three takes that fit, and not while it sounds like another', () => {
    const takesOf = (many: number) => new Map([['one step back', Array.from({ length: many })]]);
    const taught = new Map([['one step back', [wordsOf('one step back', words)]]]);
    const of = (many: number, ways = taught) =>
      standing(COMMANDS, takesOf(many), ways, words).find(({ text }) => text === 'one step back');
    expect(of(0, new Map())?.stands).toBe('untaught');
    expect(of(2)?.stands).toBe('begun');
    expect(of(3)?.stands).toBe('safe');
    expect(of(3, new Map([['one step back', [[spelt('say again')]]]]))).toMatchObject({
      stands: 'alike',
      like: ['say again'],
    });
  });
});
