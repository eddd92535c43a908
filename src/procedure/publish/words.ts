import type { Amount } from '../amounts.ts';
import { canonicalEqual } from '../canonical-equal.ts';
import type { Definition, TransitionData } from '../definition.ts';
import { COMPLETE, STOPPED } from '../definition.ts';
import type { Condition, FactValue } from '../facts.ts';
import type { Measure, Station, StationKind, WitnessRule } from '../station.ts';

/** Words for the parts of a definition, for people who do the work and not for those who write procedures. */

const KINDS: Readonly<Record<StationKind, string>> = {
  step: 'step',
  hold: 'hold point',
  reading: 'reading',
  kit: 'kit',
  fork: 'fork',
  working: 'working',
  round: 'round',
  wait: 'wait',
  lookUp: 'look-up',
};

/** What a station of this kind is called. A kind that does not exist keeps its own name. */
export const kindInWords = (kind: string): string =>
  Object.hasOwn(KINDS, kind) ? KINDS[kind as StationKind] : kind;

export const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);

/** Anything else as short JSON: a part that no words were found for is still told. */
export function plainly(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (typeof value === 'string') return `“${value}”`;
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  const text = JSON.stringify(value) ?? 'nothing';
  return text.length > 160 ? `${text.slice(0, 157)}…` : text;
}

/** “Tighten the axle nut.” for a station that exists, its name for one that does not. */
export function stationInWords(definition: Definition, name: string | undefined): string {
  if (name === undefined) return 'nowhere';
  if (name === COMPLETE) return 'the end of the job';
  if (name === STOPPED) return 'the job stopped';
  const say = definition.states[name]?.meta?.say;
  return say === undefined ? name : `“${say}”`;
}

export function amountInWords(amount: Amount | undefined, definition: Definition): string {
  if (amount === undefined) return 'nothing';
  if (typeof amount === 'number') return String(amount);
  if (typeof amount !== 'object' || amount === null) return plainly(amount);
  if ('figure' in amount) {
    const says = definition.meta.figures?.[amount.figure]?.says ?? amount.figure;
    return amount.plus ? `${says} ${amount.plus > 0 ? '+' : '−'} ${Math.abs(amount.plus)}` : says;
  }
  if ('reading' in amount) return `the reading ${amount.reading}`;
  if ('result' in amount) return `${amount.of} from ${stationInWords(definition, amount.result)}`;
  return plainly(amount);
}

/** “30 to 40 mm”, “Axle nut torque ± 5 % N·m”, “at least 3 mm”, “no limits, mm”. */
export function measureInWords(measure: Measure, definition: Definition): string {
  const { target, min, max, tolerancePercent, unit } = measure;
  const say = (amount: Amount | undefined) => amountInWords(amount, definition);
  const limits = [
    min !== undefined && max !== undefined
      ? canonicalEqual(min, max)
        ? `exactly ${say(min)}`
        : `${say(min)} to ${say(max)}`
      : min !== undefined
        ? `at least ${say(min)}`
        : max !== undefined
          ? `at most ${say(max)}`
          : '',
    target === undefined ? '' : `${min === undefined && max === undefined ? '' : 'aim '}${say(target)}`,
    tolerancePercent === undefined ? '' : `± ${tolerancePercent} %`,
  ].filter((part) => part !== '');
  return limits.length === 0 ? `no limits, ${unit}` : `${limits.join(' ')} ${unit}`.trim();
}

const valueInWords = (value: FactValue): string =>
  value === true ? 'yes' : value === false ? 'no' : String(value);

/** “Joining link: clip” and so on; “always” where nothing is asked. */
export function conditionInWords(condition: Condition | undefined, definition: Definition): string {
  if (condition === undefined) return 'always';
  const parts = Object.entries(condition).map(([fact, wanted]) => {
    const values = (Array.isArray(wanted) ? wanted : [wanted]) as readonly FactValue[];
    return `${definition.meta.facts?.[fact]?.says ?? fact}: ${values.map(valueInWords).join(' or ') || 'never'}`;
  });
  return parts.length === 0 ? 'always' : `when ${parts.join(' and ')}`;
}

export function witnessInWords(witness: WitnessRule): string {
  switch (witness) {
    case 'never':
      return 'no witness';
    case 'apprentice':
      return 'a witness when an apprentice does the work';
    case 'always':
      return 'a witness every time';
    default:
      return plainly(witness);
  }
}

const WAYS: Readonly<Record<string, string>> = {
  advances: 'when done',
  kitComplete: 'when all is called off',
  withinLimits: 'within limits',
  outsideLimits: 'outside limits',
  figuresKnown: 'when the figures are there',
  nothingToLookUp: 'when nothing is missing',
  resultAgrees: 'when the result is confirmed',
  noAnswer: 'when there is no answer',
  evidenceOpens: 'when passed',
  witnessOpens: 'when witnessed',
  failsHere: 'when it fails',
  concedes: 'on a concession',
  roundIsDone: 'when the round is done',
  waitIsOver: 'when the wait is over',
};

/** When a way is taken: “within limits”, “clip link”, “when it fails”. */
export function wayInWords(
  station: Station | undefined,
  event: string,
  way: Pick<TransitionData, 'guard'>,
): string {
  const type = way.guard?.type ?? '';
  const value = way.guard?.params?.value;
  if (value !== undefined && station?.kind === 'fork') {
    return station.choices.find((choice) => choice.value === value)?.phrase ?? valueInWords(value);
  }
  return WAYS[type] ?? (type === '' ? `on ${event}, unguarded` : `on ${event}`);
}
