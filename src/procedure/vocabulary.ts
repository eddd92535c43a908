import type { Amount, WorkingInput } from './amounts.ts';
import type { ActionName, StateData, TransitionData } from './definition.ts';
import type { Condition, FactValue } from './facts.ts';
import type { Way } from './settle.ts';
import type { KitItem, Measure, Shown, Station, WitnessRule } from './station.ts';

/** A state as written in a procedure file; `T` collects the names it leads to, so that the compiler can check them. */
export interface Draft<T extends string = string> {
  readonly meta: Station;
  readonly tags?: readonly string[];
  readonly always?: readonly TransitionData[];
  readonly on: Readonly<Record<string, readonly TransitionData[]>>;
  readonly leadsTo?: T;
}

const when = (
  way: Way | 'nothingToLookUp',
  target?: string,
  ...actions: ActionName['type'][]
): TransitionData => ({
  guard: { type: way, params: {} },
  ...(target === undefined ? {} : { target }),
  ...(actions.length > 0 ? { actions: actions.map((type) => ({ type, params: {} })) } : {}),
});

/**
 * Do it, then say the advance word. `rework` marks a step that repairs what failed at a hold; `fits` names the kit item
 * whose label can be scanned here.
 */
export function step<const T extends string>(s: Shown & { rework?: true; fits?: string; next: T }): Draft<T> {
  const { next, ...shown } = s;
  const scan = s.fits === undefined ? {} : { scan: [when('partScanned', undefined, 'keepLabel')] };
  return { meta: { kind: 'step', ...shown }, on: { advance: [when('advances', next)], ...scan } };
}

/**
 * A hold point: three ways out. `pass` opens only for its evidence (the phrase, the pedal held down, or a figure within
 * limits; with a witness where the rule asks for one); `fail` leads to rework that comes back; stop is at the root.
 */
export function hold<const P extends string, const F extends string>(
  h: Shown & {
    phrase: string;
    why: string;
    witness?: WitnessRule;
    applies?: Condition;
    measure?: Measure;
    concession?: true;
    pass: P;
    fail: F;
  },
): Draft<P | F> {
  const { pass, fail, witness = 'never', ...shown } = h;
  const event = h.measure ? 'reading' : 'confirm';
  const given = [
    when('evidenceOpens', pass, 'passHold'),
    when('evidenceAwaitsWitness', undefined, 'awaitWitness'),
  ];
  const outside = h.measure ? [when('outsideLimits', fail, 'keepReading', 'failHold')] : [];
  return {
    meta: { kind: 'hold', witness, ...shown },
    tags: ['hold'],
    on: {
      [event]: [...given, ...outside],
      witness: [when('witnessOpens', pass, 'passHold')],
      fail: [when('failsHere', fail, 'failHold')],
      ...(h.concession ? { decide: [when('concedes', pass, 'closeTrouble', 'passHold')] } : {}),
    },
  };
}

/** A measured figure: within its limits the job goes on, outside them it goes to where that is put right. */
export function reading<const I extends string, const O extends string>(
  r: Shown & { measure: Measure; inside: I; outside: O },
): Draft<I | O> {
  const { inside, outside, ...shown } = r;
  return {
    meta: { kind: 'reading', ...shown },
    on: {
      reading: [when('withinLimits', inside, 'keepReading'), when('outsideLimits', outside, 'keepReading')],
    },
  };
}

/** Parts, tools and protective equipment, each called off before the work starts. */
export function kit<const T extends string>(
  k: Shown & { items: Readonly<Record<string, KitItem>>; next: T },
): Draft<T> {
  const { next, items, ...shown } = k;
  const listed = Object.entries(items).map(([key, item]) => ({ key, ...item }));
  return {
    meta: { kind: 'kit', ...shown, items: listed },
    on: {
      callOff: [when('kitComplete', next, 'callOff'), when('toolCalled', undefined, 'callOff')],
      advance: [when('kitComplete', next)],
    },
  };
}

/**
 * The way splits on a fact. A fact that is known steers by itself; `look: true` asks even so, because what is on the
 * machine counts and not what is on its card.
 */
export function fork<const T extends string>(
  f: Shown & { fact: string; look?: boolean; ways: readonly { value: FactValue; phrase: string; to: T }[] },
): Draft<T> {
  const { ways, look = false, ...shown } = f;
  const choices = ways.map(({ value, phrase }) => ({ value, phrase }));
  const known = ways.map(({ value, to }) => ({
    guard: { type: 'factIs', params: { fact: f.fact, value } },
    target: to,
  }));
  const choose = ways.map(({ value, to }) => ({
    guard: { type: 'choiceIs', params: { value } },
    target: to,
    actions: [{ type: 'setFact', params: {} }],
  }));
  return { meta: { kind: 'fork', ...shown, choices }, ...(look ? {} : { always: known }), on: { choose } };
}

/** Runs a named working on what is known; its answer is shown, confirmed and recorded, and may set figures. */
export function working<const T extends string, const O extends string>(
  w: Shown & {
    working: string;
    inputs: Readonly<Record<string, WorkingInput>>;
    answers: readonly { key: string; label: string; unit: string }[];
    gives?: Readonly<Record<string, string>>;
    next: T;
    noAnswer: O;
  },
): Draft<T | O> {
  const { next, noAnswer, ...shown } = w;
  return {
    meta: { kind: 'working', ...shown },
    on: { accept: [when('resultAgrees', next, 'giveFigures')], cannot: [when('noAnswer', noAnswer)] },
  };
}

/** The same act on a ring of fasteners, in opposite pairs, in a number of passes. */
export function round<const T extends string>(
  r: Shown & { fasteners: Amount; passes: readonly string[]; fastener: string; next: T },
): Draft<T> {
  const { next, ...shown } = r;
  return {
    meta: { kind: 'round', ...shown },
    on: {
      advance: [when('roundIsDone', next, 'countFastener'), when('roundGoesOn', undefined, 'countFastener')],
    },
  };
}

/** A timed wait that began on arrival; advancing is refused until it is over. */
export function wait<const T extends string>(w: Shown & { minutes: Amount; next: T }): Draft<T> {
  const { next, ...shown } = w;
  return { meta: { kind: 'wait', ...shown }, on: { advance: [when('waitIsOver', next)] } };
}

/** Asks for each figure that is needed and that the machine's card lacks; passes by itself when nothing is missing. */
export function lookUp<const T extends string>(
  l: Shown & { needs: readonly { figure: string; when?: Condition }[]; next: T },
): Draft<T> {
  const { next, ...shown } = l;
  return {
    meta: { kind: 'lookUp', ...shown },
    always: [when('nothingToLookUp', next)],
    on: { lookUp: [when('figuresKnown', next, 'setFigure'), when('figureGiven', undefined, 'setFigure')] },
  };
}

export type { StateData };
