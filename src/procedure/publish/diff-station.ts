import type { Definition } from '../definition.ts';
import type { HoldStation, Measure, Station } from '../station.ts';
import { cautionDifferences, choiceDifferences, kitDifferences, needDifferences } from './diff-lists.ts';
import { type Group, type Tell, wasIs } from './difference.ts';
import { same } from './same.ts';
import {
  amountInWords,
  conditionInWords,
  kindInWords,
  measureInWords,
  plainly,
  witnessInWords,
} from './words.ts';

/** The same station in two revisions, each with the definition that it stands in. */
export interface Pair {
  readonly before: Station;
  readonly after: Station;
  readonly definitions: readonly [Definition, Definition];
}

/** Parts of every kind of station: all that is compared where the kind itself has changed. */
const SHARED = ['say', 'cautions', 'why', 'drawing', 'shows', 'measure'];

/** Where a part with no words of its own belongs. */
const GROUP_OF: Readonly<Record<string, Group>> = {
  why: 'word',
  drawing: 'word',
  shows: 'word',
  fact: 'way',
  rework: 'station',
};

/** Everything in what a station says and asks that is not as it was. No part is left out: one without words is shown as it is. */
export function stationDifferences(pair: Pair, tell: Tell): void {
  const { before, after } = pair;
  if (before.kind !== after.kind) kindChanged(before, after, tell);
  const keys = [...new Set([...Object.keys(before), ...Object.keys(after)])].filter(
    (key) => key !== 'kind' && (before.kind === after.kind || SHARED.includes(key)),
  );
  for (const key of keys) {
    const [old, now] = [part(before, key), part(after, key)];
    if (same(old, now)) continue;
    let told = false;
    partDifference(pair, key, old, now, (group, says) => {
      told = true;
      tell(group, says);
    });
    if (!told) tell('build', asItIs(key, old, now));
  }
}

const part = (station: Station, key: string): unknown => (station as unknown as Record<string, unknown>)[key];

function kindChanged(before: Station, after: Station, tell: Tell): void {
  const [was, is] = [kindInWords(before.kind), kindInWords(after.kind)];
  if (before.kind === 'hold') tell('hold', `no longer a hold point: it is now a ${is}`);
  else if (after.kind === 'hold')
    tell('hold', `now a hold point, was a ${was}; it opens for “${after.phrase}”`);
  else tell('station', wasIs(`a ${was}`, `a ${is}`));
}

function partDifference(pair: Pair, key: string, old: unknown, now: unknown, tell: Tell): void {
  const { before, after, definitions } = pair;
  const hold = before.kind === 'hold' && after.kind === 'hold' ? ([before, after] as const) : null;
  if (hold && holdPart(key, hold, definitions, tell)) return;
  switch (key) {
    case 'say':
      tell(hold ? 'hold' : 'word', `reworded: ${wasIs(plainly(old), plainly(now))}`);
      break;
    case 'cautions':
      cautionDifferences(before.cautions, after.cautions, tell);
      break;
    case 'measure':
      measureDifferences(old as Measure | undefined, now as Measure | undefined, definitions, tell);
      break;
    case 'items':
      if (before.kind === 'kit' && after.kind === 'kit') kitDifferences(before, after, definitions, tell);
      break;
    case 'choices':
      if (before.kind === 'fork' && after.kind === 'fork') choiceDifferences(before, after, tell);
      break;
    case 'needs':
      if (before.kind === 'lookUp' && after.kind === 'lookUp')
        needDifferences(before, after, definitions, tell);
      break;
    case 'minutes':
    case 'fasteners': {
      const say = (value: unknown, side: 0 | 1) => amountInWords(value as never, definitions[side]);
      tell('work', `${key} ${wasIs(say(old, 0), say(now, 1))}`);
      break;
    }
    default:
      tell(GROUP_OF[key] ?? 'work', asItIs(key, old, now));
  }
}

const asItIs = (key: string, old: unknown, now: unknown): string =>
  `${key} ${wasIs(plainly(old), plainly(now))}`;

/** The parts of a hold point that say what opens it and for whom. */
function holdPart(
  key: string,
  [before, after]: readonly [HoldStation, HoldStation],
  definitions: readonly [Definition, Definition],
  tell: Tell,
): boolean {
  switch (key) {
    case 'phrase':
      tell('hold', `the phrase ${wasIs(plainly(before.phrase), plainly(after.phrase))}`);
      return true;
    case 'witness':
      tell('hold', wasIs(witnessInWords(before.witness), witnessInWords(after.witness)));
      return true;
    case 'applies': {
      const [was, is] = [before, after].map((one, side) =>
        conditionInWords(one.applies, definitions[side as 0 | 1]),
      );
      tell('hold', `it applies: ${wasIs(was ?? '', is ?? '')}`);
      return true;
    }
    case 'concession':
      tell('hold', after.concession ? 'a supervisor may now concede it' : 'nobody may concede it any more');
      return true;
    default:
      return false;
  }
}

function measureDifferences(
  before: Measure | undefined,
  after: Measure | undefined,
  definitions: readonly [Definition, Definition],
  tell: Tell,
): void {
  const say = (measure: Measure, side: 0 | 1) => measureInWords(measure, definitions[side]);
  if (!before || !after) {
    if (after) tell('limit', `now asks for a figure: ${after.label}, ${say(after, 1)}`);
    if (before) tell('limit', `no figure is asked for any more; it was ${before.label}, ${say(before, 0)}`);
    return;
  }
  const limitsOf = ({ target, min, max, tolerancePercent, unit }: Measure) => [
    target,
    min,
    max,
    tolerancePercent,
    unit,
  ];
  if (!same(limitsOf(before), limitsOf(after))) {
    const [was, is] = [say(before, 0), say(after, 1)];
    tell(
      'limit',
      was === is
        ? `${after.label}: where the limits come from has changed`
        : `${after.label}: ${wasIs(was, is)}`,
    );
  }
  const toolName = (measure: Measure, side: 0 | 1) =>
    measure.tool === undefined
      ? 'any tool'
      : (definitions[side].meta.tools?.[measure.tool]?.says ?? measure.tool);
  if (before.tool !== after.tool)
    tell('limit', `measured with: ${wasIs(toolName(before, 0), toolName(after, 1))}`);
  if (before.label !== after.label)
    tell('word', `the figure is called “${after.label}”, was “${before.label}”`);
  if (before.name !== after.name)
    tell('word', `in the record the figure is “${after.name}”, was “${before.name}”`);
}
