import { digitsOf } from '../job/figures.ts';
import { evidenceInWords } from '../job/story.ts';
import type { Digest } from './digest.ts';
import { sayOf } from './digest.ts';
import { factInWords, failuresInWords, momentInWords, outcomeInWords, spanInWords } from './words.ts';

/** One thing of two records side by side. A dash stands where a record has nothing of the kind. */
export interface Pair {
  readonly what: string;
  readonly a: string;
  readonly b: string;
  readonly differs: boolean;
}

/** A station of two records: what was spent there, ms; null where it was not come to. */
export interface PairOfTimes {
  readonly station: string;
  readonly says: string;
  readonly a: number | null;
  readonly b: number | null;
}

export interface Comparison {
  readonly about: readonly Pair[];
  readonly facts: readonly Pair[];
  readonly times: readonly PairOfTimes[];
  readonly readings: readonly Pair[];
  readonly holds: readonly Pair[];
  readonly refusals: readonly Pair[];
  readonly tools: readonly Pair[];
}

const NONE = '–';

const pair = (what: string, a: string, b: string): Pair => ({ what, a, b, differs: a !== b });

/** Keys of both, those of the first in its order, then what only the second has. */
const keysOf = (a: Iterable<string>, b: Iterable<string>): string[] => [...new Set([...a, ...b])];

function pairsOf(a: ReadonlyMap<string, string>, b: ReadonlyMap<string, string>): Pair[] {
  return keysOf(a.keys(), b.keys()).map((key) => pair(key, a.get(key) ?? NONE, b.get(key) ?? NONE));
}

const people = (digest: Digest) => digest.people.map(({ name, role }) => `${name} (${role})`).join(', ');

function about(a: Digest, b: Digest): Pair[] {
  const line = (what: string, of: (digest: Digest) => string) => pair(what, of(a), of(b));
  return [
    line('Machine', ({ machine }) => machine.says),
    line('Procedure', ({ definition }) => `${definition.meta.title}, revision ${definition.meta.revision}`),
    line('Same text of the procedure', ({ procedureHash }) => procedureHash.slice(0, 12)),
    line('Outcome', ({ outcome }) => outcomeInWords(outcome)),
    line('Opened', ({ openedAt }) => momentInWords(openedAt)),
    line('People', people),
    line('From first to last record', ({ times }) => spanInWords(times.elapsed)),
    line('Of it paused', ({ times }) => spanInWords(times.paused)),
    line('Nonconformances', ({ troubles }) => String(troubles.length)),
  ];
}

function factsOf({ facts, figures, definition }: Digest): Map<string, string> {
  return new Map([
    ...Object.entries(facts).map(([name, value]) => {
      const declared = definition.meta.facts[name];
      return [declared?.says ?? name, factInWords(value)] as const;
    }),
    ...Object.entries(figures).map(([name, { value, unit }]) => {
      const says = definition.meta.figures[name]?.says ?? name;
      return [says, `${digitsOf(value, unit)} ${unit}`.trim()] as const;
    }),
  ]);
}

/** The figures that count, each with its limits and how often it was taken. */
function readingsIn({ readings }: Digest): Map<string, string> {
  const said = new Map<string, string>();
  for (const { name, label } of readings) {
    const all = readings.filter((one) => one.name === name);
    const last = all[all.length - 1];
    if (!last || said.has(label)) continue;
    const tries = all.length > 1 ? `, ${all.length} times measured` : '';
    const outside = last.within ? '' : ', OUTSIDE';
    said.set(label, `${digitsOf(last.value, last.unit)} ${last.unit} (${last.limits})${outside}${tries}`);
  }
  return said;
}

function holdsIn(digest: Digest): Map<string, string> {
  return new Map(
    digest.holds.map((station) => {
      const mine = digest.verdicts.filter((verdict) => verdict.station === station);
      const failed = mine.filter(({ what }) => what === 'failed').length;
      const last = mine.findLast(({ what }) => what !== 'failed');
      const standing = last?.pass ? evidenceInWords(last.pass.evidence) : 'not passed';
      return [sayOf(digest, station), failed > 0 ? `${standing}, ${failuresInWords(failed)}` : standing];
    }),
  );
}

function refusalsIn({ refused }: Digest): Map<string, string> {
  const counts = new Map<string, number>();
  for (const { code } of refused) counts.set(code, (counts.get(code) ?? 0) + 1);
  return new Map([...counts].map(([code, count]) => [code, String(count)]));
}

const toolsIn = ({ tools }: Digest): Map<string, string> =>
  new Map(
    tools.map(({ tool, kind }) => {
      const until = tool.calibratedUntil ? `calibrated until ${tool.calibratedUntil}` : 'no calibration';
      return [`${kind} ${tool.id}`, `${tool.says}, ${until}`];
    }),
  );

/** Two records side by side: what differed, and what did not. */
export function compare(a: Digest, b: Digest): Comparison {
  return {
    about: about(a, b),
    facts: pairsOf(factsOf(a), factsOf(b)),
    times: keysOf(a.times.stations.keys(), b.times.stations.keys()).map((station) => ({
      station,
      says: a.times.stations.has(station) ? sayOf(a, station) : sayOf(b, station),
      a: a.times.stations.get(station) ?? null,
      b: b.times.stations.get(station) ?? null,
    })),
    readings: pairsOf(readingsIn(a), readingsIn(b)),
    holds: pairsOf(holdsIn(a), holdsIn(b)),
    refusals: pairsOf(refusalsIn(a), refusalsIn(b)),
    tools: pairsOf(toolsIn(a), toolsIn(b)),
  };
}
