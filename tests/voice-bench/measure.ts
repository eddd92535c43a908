/**
 * The bench of the product's own way: the ear's search and judge over the posteriors of the bench's streams.
 * Usage: tsx tests/voice-bench/measure.ts BENCH POSTERIORS DICTIONARY OUT.json [taught]
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { type Candidate, decoder, type Kind, type Listened } from '../../src/hear/decode.ts';
import { FIGURE_LIMITS } from '../../src/hear/ear.ts';
import { figureSearch } from '../../src/hear/figure-search.ts';
import { judge } from '../../src/hear/judge.ts';
import { lexicon } from '../../src/hear/lexicon.ts';
import { FIGURE_WORDS, figureOf } from '../../src/hear/numbers.ts';
import { outputOf } from '../../src/hear/phones.ts';
import { refusalsOf } from '../../src/hear/refusals.ts';
import { transcribe, wayOfSaying } from '../../src/hear/take.ts';
import { tokensOf } from '../../src/hear/tokens.ts';
import { readWeights } from '../../src/hear/weights.ts';

interface Item {
  readonly text: string;
  readonly kind: string;
  readonly target: string;
  readonly voice: string;
}
interface Matrix {
  readonly rows: number;
  readonly columns: number;
  readonly data: Int16Array;
}

const [benchAt, postAt, dictionaryAt, outAt, mode] = process.argv.slice(2) as [
  string,
  string,
  string,
  string,
  string?,
];
const OUTPUTS = 40;
const COLUMN = 30;
/** The model looks 150 ms ahead and a column ends when its last window is full. */
const BEHIND = 150 + 15;
const LEVELS = ['clean', '20', '10', '5', '0'];
const NEGATIVES = ['human_en', 'human_es', 'human_ru', 'talk', 'noise', 'talk_noise'];

const read = <T>(path: string) => JSON.parse(readFileSync(path, 'utf8')) as T;
const vocabulary = read<{ stop: string[]; words: string[]; holds: string[] }>(
  new URL('vocabulary.json', import.meta.url).pathname,
);
const own = read<Record<string, string>>(new URL('own-words.json', import.meta.url).pathname);
const table: Record<string, string> = {};
for (const line of readFileSync(dictionaryAt, 'utf8').split('\n')) {
  const at = line.indexOf(' ');
  const word = line.slice(0, at).toLowerCase();
  if (at > 0) table[word] ??= line.slice(at + 1).replace(/\d/g, '');
}
const words = lexicon({ ...table, ...own });
const spelt = (text: string) => text.split(' ').map((w) => words.phones(w).flatMap((p) => outputOf(p) ?? []));

function matrix(path: string): Matrix {
  const b = readFileSync(path);
  const head = b.readUInt16LE(8);
  const shape = /\((\d+), (\d+)\)/.exec(b.toString('latin1', 10, 10 + head));
  return {
    rows: Number(shape?.[1]),
    columns: Number(shape?.[2]),
    data: new Int16Array(b.buffer.slice(b.byteOffset + 10 + head, b.byteOffset + b.byteLength)),
  };
}
const row = new Float32Array(OUTPUTS);
function column(m: Matrix, c: number): Float32Array {
  for (let k = 0; k < OUTPUTS; k++) row[k] = (m.data[c * m.columns + k] ?? 0) / 1000;
  return row;
}
/** The model's own words in that column; null where the model has none. */
function wordColumn(m: Matrix, c: number): Float32Array | null {
  if (m.columns === OUTPUTS) return null;
  return Float32Array.from(
    { length: m.columns - OUTPUTS },
    (_, k) => (m.data[c * m.columns + OUTPUTS + k] ?? 0) / 1000,
  );
}

const items = read<Item[]>(`${benchAt}/speech.json`);
/** A lone "stop" was tried and dropped: fifteen false ones an hour of talk. Its clips stay in the audio. */
const dropped = (it: Item) =>
  (it.kind === 'stop' && !vocabulary.stop.includes(it.text)) ||
  // "point" alone and the like are no figures.
  (it.kind.endsWith('figure') && !('digits' in figureOf(it.text.split(' '))));
const file = readFileSync(new URL('../../assets/voice/ear.bin', import.meta.url).pathname);
const weights = readWeights(new Uint8Array(file).buffer);
const KNOWN = 'code' in weights ? [] : (weights.network.words ?? []);
const FIGURE_LANES = FIGURE_WORDS.map((word) => ({
  word,
  phones: spelt(word).flat(),
  token: KNOWN.indexOf(word) + 1,
}));
const marks = read<[number, number][]>(`${postAt}/marks.json`);
const clean = matrix(`${postAt}/level_clean.npy`);
const span = (i: number, before: number, after: number): [number, number] => {
  const [a, b] = marks[i] ?? [0, 0];
  return [Math.max(0, Math.round(a / COLUMN) - before), Math.round(b / COLUMN) + after];
};

/** Three takes a phrase would be taught; here the two others of the same voice, never the clip under test. */
function takes(text: string, voice: string): number[][][] {
  if (mode !== 'taught' || voice === 'human') return [];
  return items.flatMap((it, i) => {
    if (
      it.text !== text ||
      it.voice === voice ||
      it.voice.slice(0, 10) !== voice.slice(0, 10) ||
      it.kind === 'near'
    )
      return [];
    const [from, to] = span(i, 4, 8);
    const heard = transcribe(
      Array.from({ length: to - from }, (_, c) => Float32Array.from(column(clean, from + c))),
    );
    const way = wayOfSaying(spelt(text), heard);
    return way ? [way] : [];
  });
}
const listened = (text: string, kind: Kind, voice = ''): Listened => ({
  text,
  kind,
  words: spelt(text),
  tokens: tokensOf(text, KNOWN) ?? [],
  ways: takes(text, voice),
  refusals: kind === 'hold' ? refusalsOf(text).map((t) => ({ text: t, words: spelt(t) })) : [],
});
const ordinary = (voice: string) => [
  ...vocabulary.stop.map((t) => listened(t, 'stop', voice)),
  ...vocabulary.words.map((t) => listened(t, 'word', voice)),
];
const phones = (text: string) => spelt(text).flat().length;
const counts = (c: Candidate) => judge(c, phones(c.text)) === null;
const percent = (n: number, of: number) => Math.round((1000 * n) / Math.max(1, of)) / 10;
const quantile = (xs: number[], q: number) =>
  Math.round([...xs].sort((a, b) => a - b)[Math.floor(xs.length * q)] ?? 0);

const result: Record<string, unknown> = {};
const confusions: Record<string, number> = {};
const latencies: Record<string, number[]> = {};
const opened: string[] = [];
for (const level of LEVELS) {
  const m = matrix(`${postAt}/level_${level}.npy`);
  const said: Record<string, number> = {};
  const right: Record<string, number> = {};
  const wrong: Record<string, number> = {};
  const add = (to: Record<string, number>, key: string) => {
    to[key] = (to[key] ?? 0) + 1;
  };
  for (const [i, it] of items.entries()) {
    if (dropped(it)) continue;
    const [from, to] = span(i, 30, 32);
    const groups = [it.kind, `${it.kind} (${it.voice.slice(0, 10)})`];
    for (const g of groups) add(said, g);
    if (it.kind.endsWith('figure')) {
      const search = figureSearch(FIGURE_LANES);
      for (let c = from; c < to; c++) {
        const f = search.step(column(m, c), wordColumn(m, c));
        if (
          !f ||
          f.score < FIGURE_LIMITS.score ||
          f.weakest < FIGURE_LIMITS.weakest ||
          f.around > FIGURE_LIMITS.around
        )
          continue;
        const want = figureOf(it.text.split(' '));
        const got = figureOf(f.words);
        if (!('digits' in got)) continue;
        const same = 'digits' in want && want.digits === got.digits;
        for (const g of groups) add(same ? right : wrong, g);
        break;
      }
      continue;
    }
    const kind = it.kind === 'word' || it.kind === 'stop' ? it.kind : 'hold';
    const hold = kind === 'hold' ? it.target : (vocabulary.holds[i % vocabulary.holds.length] ?? '');
    const d = decoder([...ordinary(it.voice), listened(hold, 'hold', it.voice)]);
    let last = -1;
    let done = false;
    for (let c = from; c < to; c++) {
      for (const h of d.step(column(m, c), wordColumn(m, c))) {
        if (h.startColumn <= last || !counts(h)) continue;
        last = h.endColumn;
        if (h.text === it.target && !done) {
          done = true;
          for (const g of groups) add(right, g);
          if (it.kind === 'near') opened.push(`${level} dB: "${it.text}" opened "${h.text}"`);
          else {
            latencies[kind] ??= [];
            latencies[kind].push((c + 1) * COLUMN + BEHIND - (marks[i]?.[1] ?? 0));
          }
        } else if (h.text !== it.target) {
          for (const g of groups) add(wrong, g);
          add(confusions, `${level}: ${it.text} -> ${h.text}`);
        }
      }
    }
  }
  result[level] = Object.fromEntries(
    Object.keys(said)
      .sort()
      .map((g) => [
        g,
        {
          said: said[g],
          accepted: percent(right[g] ?? 0, said[g] ?? 0),
          wrong: percent(wrong[g] ?? 0, said[g] ?? 0),
        },
      ]),
  );
}

/** Closed choice, no rejection, as the other ways of the bake-off are measured: the best-scoring of all labels. */
const closed: Record<string, Record<string, number>> = {};
const labels = [...vocabulary.stop, ...vocabulary.words, ...vocabulary.holds];
for (const level of LEVELS) {
  const m = matrix(`${postAt}/level_${level}.npy`);
  const hit: Record<string, number> = {};
  const all: Record<string, number> = {};
  for (const [i, it] of items.entries()) {
    if (!['stop', 'word', 'hold'].includes(it.kind) || dropped(it)) continue;
    const d = decoder(labels.map((t) => ({ ...listened(t, 'word', it.voice), refusals: [] })));
    const [from, to] = span(i, 10, 20);
    const best = new Map<string, number>();
    for (let c = from; c < to; c++) {
      // Summed evidence against a floor a phone, so that a short label inside a long one does not win.
      for (const h of d.step(column(m, c), wordColumn(m, c))) {
        best.set(h.text, Math.max(best.get(h.text) ?? -1e9, (h.score + 3.2) * phones(h.text)));
      }
    }
    const top = [...best].sort((a, b) => b[1] - a[1])[0]?.[0];
    for (const g of ['all', it.voice.slice(0, 10)]) {
      all[g] = (all[g] ?? 0) + 1;
      if (top === it.text) hit[g] = (hit[g] ?? 0) + 1;
    }
  }
  closed[level] = Object.fromEntries(Object.keys(all).map((g) => [g, percent(hit[g] ?? 0, all[g] ?? 0)]));
}

const false_: Record<
  string,
  { hours: number; stop: number; word: number; hold: number; which: Record<string, number> }
> = {};
for (const name of NEGATIVES) {
  const m = matrix(`${postAt}/negative_${name}.npy`);
  // Where voices were taught, one person's takes are live too.
  const person = 'pico en-US';
  const d = decoder([...ordinary(person), ...vocabulary.holds.map((t) => listened(t, 'hold', person))]);
  const tally = {
    hours: (m.rows * COLUMN) / 3_600_000,
    stop: 0,
    word: 0,
    hold: 0,
    which: {} as Record<string, number>,
  };
  let last = -1;
  for (let c = 0; c < m.rows; c++) {
    for (const h of d.step(column(m, c), wordColumn(m, c))) {
      if (h.startColumn <= last || !counts(h)) continue;
      last = h.endColumn;
      tally[h.kind] += 1;
      tally.which[h.text] = (tally.which[h.text] ?? 0) + 1;
    }
  }
  false_[name] = tally;
}
const out = {
  accepted: result,
  closedChoice: closed,
  falseAccepts: false_,
  nearMissOpened: opened,
  confusions,
  latencyMs: Object.fromEntries(
    Object.entries(latencies).map(([k, v]) => [k, { p50: quantile(v, 0.5), p95: quantile(v, 0.95) }]),
  ),
};
writeFileSync(outAt, JSON.stringify(out, null, 1));
console.log(JSON.stringify(out, null, 1));
