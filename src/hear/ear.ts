import { type Candidate, decoder, type Listened } from './decode.ts';
import { features } from './features.ts';
import { type FigureCandidate, figureSearch } from './figure-search.ts';
import { judge, type Refusal } from './judge.ts';
import { level } from './level.ts';
import type { Lexicon } from './lexicon.ts';
import { network } from './network.ts';
import { FIGURE_WORDS, figureOf } from './numbers.ts';
import { outputOf } from './phones.ts';
import { refusalsOf, turned } from './refusals.ts';
import { tokensOf } from './tokens.ts';
import type { Weights } from './weights.ts';

/** What was heard. Times are milliseconds of the audio clock: samples fed since the ear was made. */
export interface Heard {
  /** The phrase as given to `listen`; for a figure its words, "one two decimal five". */
  readonly phrase: string;
  /** Mean log ratio a phone against the background of all phones; 0 is best. */
  readonly score: number;
  readonly runnerUp: string | null;
  readonly runnerUpScore: number;
  readonly startedAt: number;
  readonly endedAt: number;
}

/** Something that was nearly said, and why it did not count: for the screen and the journal. */
export interface Nearly {
  readonly heard: Heard;
  readonly refusal: Refusal;
}

export interface Phrase {
  readonly text: string;
  readonly kind: 'stop' | 'word' | 'hold' | 'figure';
  /**
   * The person's own ways of saying it, as `src/hear/teach.ts` lets them through. A hold's ways bring their own negated
   * forms: without those, on the bench, takes raised the altered phrases that opened one from 2 to 10 of 1,800.
   */
  readonly ways?: readonly (readonly (readonly number[])[])[];
}

export interface Ear {
  /** The live grammar from now on; what was said before it counts for nothing. A phrase of kind figure opens the figure grammar. */
  listen(phrases: readonly Phrase[]): void;
  /** Mono samples in -1..1 at 16 kHz, best 20 to 40 ms at a time. */
  feed(block: Float32Array): Heard | null;
  /** What the last block nearly brought; null where nothing. */
  nearly(): Nearly | null;
  /** dBFS. */
  noiseFloorDb(): number;
  /** Of the last phrase heard, over the sound of the second before it; null before the first. */
  speechToNoiseDb(): number | null;
}

/** Figures must be surer than ordinary words: they are read back, and still. */
export const FIGURE_LIMITS = { score: -0.8, weakest: -1.6, around: 1 };

/** Columns by which the model may show a phone late: what it shows sooner after a change of grammar began before it. */
const LATE = 3;

/** Throws a RangeError where the weights are not this model's. */
export function ear(weights: Weights, words: Lexicon): Ear {
  const front = features(weights.features);
  const model = network(weights);
  const levels = level();
  const perColumn = weights.features.hop * weights.features.stack;
  const outputs = (word: string) => words.phones(word).flatMap((p) => outputOf(p) ?? []);
  const spelt = (text: string) =>
    text
      .trim()
      .split(/\s+/)
      .map(outputs)
      .filter((w) => w.length > 0);
  /** Phones of the shortest way to say it: the fewer there are, the surer they must be. */
  const shortest = ({ text, ways = [] }: Phrase) =>
    Math.min(...[spelt(text), ...ways].map((way) => way.flat().length));
  /** The phrase's own negated forms, and those of the person's ways of saying it. */
  const negated = ({ text, ways = [] }: Phrase) => [
    ...refusalsOf(text).map((form) => ({ text: form, words: spelt(form) })),
    ...ways.flatMap((way) =>
      turned(way, outputs).map(({ turn, words }) => ({ text: `${turn} … ${text}`, words })),
    ),
  ];
  const phonesIn = new Map<string, number>();
  const known = weights.network.words ?? [];
  const figures = figureSearch(
    FIGURE_WORDS.map((word) => ({ word, phones: outputs(word), token: known.indexOf(word) + 1 })),
  );
  let decode = decoder([]);
  let wantsFigure = false;
  let began = 0; // model's column with which the present grammar's search counts from 0
  let origin = 0; // nothing said before this column counts
  let column = 0; // of the features
  let scored = 0; // of the model, which is behind
  let filled = 0;
  let square = 0;
  let near: Nearly | null = null;
  let found: Heard | null = null;
  let ratio: number | null = null;
  let lastEnd = Number.NEGATIVE_INFINITY;

  const ms = (c: number) => (c * perColumn * 1000) / weights.features.rate;

  const heard = (c: Candidate): Heard => ({
    phrase: c.text,
    score: c.score,
    runnerUp: c.runnerUp,
    runnerUpScore: c.runnerUpScore,
    startedAt: ms(began + c.startColumn),
    endedAt: ms(began + c.endColumn + 1),
  });

  function figure(c: FigureCandidate): void {
    const said: Heard = {
      phrase: c.words.join(' '),
      score: c.score,
      runnerUp: null,
      runnerUpScore: Number.NEGATIVE_INFINITY,
      startedAt: ms(origin + c.startColumn),
      endedAt: ms(origin + c.endColumn + 1),
    };
    const sure =
      c.score >= FIGURE_LIMITS.score &&
      c.weakest >= FIGURE_LIMITS.weakest &&
      c.around <= FIGURE_LIMITS.around;
    if (sure && 'value' in figureOf(c.words)) found ??= said;
    else
      near ??= {
        heard: said,
        refusal: { code: 'too-unsure', says: 'The figure was not clear. Say it again digit by digit.' },
      };
  }

  function take(scores: Float32Array): void {
    scored += 1;
    if (scored <= origin) {
      decode.overhear(scores);
      return;
    }
    for (const c of decode.step(scores, model.words())) {
      if (began + c.startColumn <= lastEnd) continue;
      const refusal = judge(c, phonesIn.get(c.text) ?? 1);
      if (refusal) {
        near ??= { heard: heard(c), refusal };
      } else if (!found) {
        found = heard(c);
        lastEnd = began + c.endColumn;
        ratio = levels.overFloorDb(began + c.startColumn, began + c.endColumn + 1) ?? ratio;
      }
    }
    if (wantsFigure) {
      const c = figures.step(scores, model.words());
      if (c && origin + c.startColumn > lastEnd) figure(c);
    }
  }

  return {
    listen(phrases) {
      const spoken = phrases.filter((p) => p.kind !== 'figure');
      decode = decoder(
        spoken.map(
          (p): Listened => ({
            text: p.text,
            kind: p.kind === 'figure' ? 'word' : p.kind,
            words: spelt(p.text),
            tokens: tokensOf(p.text, known) ?? [],
            ways: p.ways ?? [],
            refusals: p.kind === 'hold' ? negated(p) : [],
          }),
        ),
      );
      phonesIn.clear();
      for (const p of spoken) phonesIn.set(p.text, shortest(p));
      wantsFigure = phrases.some((p) => p.kind === 'figure');
      figures.reset();
      // What the model still owes belongs to the time before: it may only show that somebody was talking.
      origin = column + LATE;
      began = scored;
    },
    feed(block) {
      near = null;
      found = null;
      for (const v of block) {
        square += v * v;
        filled += 1;
        if (filled === perColumn) {
          levels.push(square / perColumn);
          filled = 0;
          square = 0;
        }
      }
      front.push(block, (row) => {
        column += 1;
        const scores = model.step(row);
        if (scores) take(scores);
      });
      return found;
    },
    nearly: () => near,
    noiseFloorDb: () => levels.floorDb(),
    speechToNoiseDb: () => ratio,
  };
}
