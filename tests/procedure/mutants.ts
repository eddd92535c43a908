import type { Definition, GuardName, StateData, TransitionData } from '../../src/procedure/definition.ts';
import { COMPLETE, STOPPED } from '../../src/procedure/definition.ts';
import type { HoldStation, Measure, Station } from '../../src/procedure/station.ts';

/** A procedure with one fault put into it. */
export interface Mutant {
  readonly operator: string;
  readonly at: string;
  /** What may be wrong JSON altogether. */
  readonly definition: Definition;
  /**
   * The fault is in what the procedure says and not in how it is built: a correct procedure could say it. The check
   * cannot know better than its author; such a change is shown in words when a revision is published.
   */
  readonly judgement: boolean;
}

type Random = () => number;
type Ways = readonly TransitionData[];

const pick = <T>(random: Random, all: readonly T[]): T => all[Math.floor(random() * all.length)] as T;

/** Every mutant of a procedure: each operator at each place where it fits. `random` picks among many possible targets. */
export function mutantsOf(definition: Definition, random: Random): Mutant[] {
  const stations = Object.keys(definition.states).filter((name) => definition.states[name]?.meta);
  return [
    ...stations.flatMap((name) => {
      const state = definition.states[name];
      if (!state?.meta) return [];
      const context = { definition, name, state, stations, random };
      return [
        ...(state.meta.kind === 'hold' ? holdMutants({ ...context, meta: state.meta }) : []),
        ...stationMutants({ ...context, meta: state.meta }),
      ];
    }),
    ...rootMutants(definition, stations, random),
  ];
}

interface At<M extends Station> {
  readonly definition: Definition;
  readonly name: string;
  readonly state: StateData;
  readonly meta: M;
  readonly stations: readonly string[];
  readonly random: Random;
}

const withState = (definition: Definition, name: string, state: StateData): Definition => ({
  ...definition,
  states: { ...definition.states, [name]: state },
});

/** Changes the ways of a state, `always` included; a way that becomes null is taken out. */
function ways(
  state: StateData,
  change: (way: TransitionData, event: string) => TransitionData | null,
): StateData {
  const all = (list: Ways, event: string) => list.flatMap((way) => change(way, event) ?? []);
  const on = Object.fromEntries(
    Object.entries(state.on ?? {}).map(([event, list]) => [event, all(list, event)]),
  );
  return { ...state, ...(state.always ? { always: all(state.always, 'always') } : {}), on };
}

const without = <T extends object, K extends keyof T>(value: T, key: K): Omit<T, K> => {
  const { [key]: _, ...rest } = value;
  return rest;
};

const opens = (way: TransitionData) => ['evidenceOpens', 'witnessOpens'].includes(way.guard?.type ?? '');
const withAction = (way: TransitionData, type: string) =>
  way.actions?.some((action) => action.type === type) === true;
const retargeted = (way: TransitionData, target: string): TransitionData => ({
  ...way,
  target,
  ...(way.guard ? { guard: completing(way.guard, target) } : {}),
});

/** The guard as procedure() would write it for this target, so that a retargeted way is as well made as can be. */
function completing(guard: GuardName, target: string): GuardName {
  const { completes: _, ...params } = guard.params;
  return { ...guard, params: target === COMPLETE ? { ...params, completes: true } : params };
}

function holdMutants({ definition, name, state, meta, stations, random }: At<HoldStation>): Mutant[] {
  const pass =
    Object.values(state.on ?? {})
      .flat()
      .find(opens)?.target ?? COMPLETE;
  const fail = state.on?.fail?.[0]?.target ?? COMPLETE;
  const make = (operator: string, mutated: StateData, judgement = false): Mutant => ({
    operator,
    at: name,
    judgement,
    definition: withState(definition, name, mutated),
  });
  const said = (operator: string, station: Station, judgement = false) =>
    make(operator, { ...state, meta: station }, judgement);
  const plain = { type: 'advances', params: { station: name } } as const;
  const bypass: TransitionData = { target: pass, guard: completing(plain, pass) };
  const others = stations.filter((other) => other !== name);
  const otherHold = others.find((other) => definition.states[other]?.meta?.kind === 'hold');
  const otherPhrase = definition.states[otherHold ?? '']?.meta;
  const event = meta.measure ? 'reading' : 'confirm';
  const list = (key: string) => state.on?.[key] ?? [];
  return [
    make(
      "drop a hold's guard",
      ways(state, (way) => (opens(way) ? without(way, 'guard') : way)),
    ),
    make(
      'put another guard on a pass',
      ways(state, (way) =>
        opens(way) ? { ...way, guard: completing({ ...plain, type: 'failsHere' }, pass) } : way,
      ),
    ),
    make('add a bypass on the advance word', { ...state, on: { ...state.on, advance: [bypass] } }),
    make('add an unguarded bypass', { ...state, on: { ...state.on, note: [{ target: pass }] } }),
    make('add a bypass by itself', { ...state, always: [{ target: pass }] }),
    make('open on a shorter word', {
      ...state,
      on: { ...without(state.on ?? {}, event), advance: list(event) },
    }),
    make(
      'retarget a pass',
      ways(state, (way) => (opens(way) ? retargeted(way, pick(random, others)) : way)),
    ),
    make(
      'retarget a pass to the end',
      ways(state, (way) => (opens(way) ? retargeted(way, COMPLETE) : way)),
    ),
    make(
      'retarget one of two passes',
      ways(state, (way) =>
        way.guard?.type === 'witnessOpens' ? retargeted(way, pick(random, others)) : way,
      ),
    ),
    make(
      'swap pass and fail',
      ways(state, (way) => {
        if (opens(way)) return retargeted(way, fail);
        return way.target === fail ? retargeted(way, pass) : way;
      }),
    ),
    make(
      'fail leads on',
      ways(state, (way) => (way.target === fail ? retargeted(way, pass) : way)),
    ),
    make(
      'fail leads elsewhere',
      ways(state, (way) => (way.target === fail ? retargeted(way, pick(random, others)) : way)),
    ),
    make('drop the fail way', { ...state, on: without(state.on ?? {}, 'fail') }),
    make(
      'drop passHold',
      ways(state, (way) => ({
        ...way,
        actions: (way.actions ?? []).filter(({ type }) => type !== 'passHold'),
      })),
    ),
    make(
      'passHold on the fail way',
      ways(state, (way) =>
        withAction(way, 'failHold')
          ? { ...way, actions: [{ type: 'passHold', params: { station: name } }] }
          : way,
      ),
    ),
    make(
      'passHold of another station',
      ways(state, (way) => ({
        ...way,
        actions: (way.actions ?? []).map((action) =>
          action.type === 'passHold' ? { ...action, params: { station: otherHold ?? 'elsewhere' } } : action,
        ),
      })),
    ),
    make(
      "drop a witness's wait",
      ways(state, (way) => (way.guard?.type === 'evidenceAwaitsWitness' ? null : way)),
    ),
    make(
      'witness waiting passes',
      ways(state, (way) =>
        way.guard?.type === 'evidenceAwaitsWitness'
          ? { ...way, target: pass, actions: [{ type: 'passHold', params: { station: name } }] }
          : way,
      ),
    ),
    make('drop the way of the witness', { ...state, on: without(state.on ?? {}, 'witness') }),
    make('drop the tag of a hold', without(state, 'tags')),
    make('drop arrive', { ...state, entry: [] }),
    make('arrive elsewhere', {
      ...state,
      entry: [{ type: 'arrive', params: { station: pick(random, others) } }],
    }),
    make('pass on arrival', {
      ...state,
      entry: [...(state.entry ?? []), { type: 'passHold', params: { station: name } }],
    }),
    said('make a phrase generic', { ...meta, phrase: 'next step' }),
    said('put a generic word into a phrase', { ...meta, phrase: `${meta.phrase} stop` }),
    said('make a phrase its negation of another', {
      ...meta,
      phrase: `not ${otherPhrase?.kind === 'hold' ? otherPhrase.phrase : 'next step'}`,
    }),
    said('empty a phrase', { ...meta, phrase: ' ' }),
    ...(otherPhrase?.kind === 'hold'
      ? [said('duplicate a phrase', { ...meta, phrase: otherPhrase.phrase })]
      : []),
    said('an unknown fact in applies', { ...meta, applies: { nobodyKnows: true } }),
    ...(meta.measure
      ? measureMutants(meta.measure).map(([operator, measure, judgement]) =>
          said(
            operator,
            measure ? { ...meta, measure } : (without(meta, 'measure') as HoldStation),
            judgement,
          ),
        )
      : []),
    // What only a person can judge: a correct procedure could say it.
    ...(meta.witness === 'never' ? [] : [said('ask for no witness', { ...meta, witness: 'never' }, true)]),
    ...(meta.applies
      ? [
          said('apply always', without(meta, 'applies') as HoldStation),
          ...Object.entries(meta.applies).map(([fact, wanted]) => {
            const { values = [] } = definition.meta.facts[fact] ?? {};
            const left = values.filter((value) => value !== wanted);
            return said('apply for other values', { ...meta, applies: { ...meta.applies, [fact]: left } });
          }),
        ]
      : Object.entries(definition.meta.facts).map(([fact, { values }]) =>
          said('apply for one value only', { ...meta, applies: { [fact]: values[0] ?? true } }, true),
        )),
    make(
      'make a hold an ordinary step',
      { meta: { kind: 'step', say: meta.say }, entry: state.entry ?? [], on: { advance: [bypass] } },
      true,
    ),
  ];
}

type MeasureMutant = readonly [operator: string, measure: Measure | null, judgement: boolean];

/** Faults in limits; the ones that only a person can see are the small ones. */
function measureMutants(measure: Measure): MeasureMutant[] {
  const { tolerancePercent: percent, min, max } = measure;
  const bare = without(without(without(measure, 'min'), 'max'), 'tolerancePercent');
  const constant = [measure.target, min, max].every((amount) => typeof amount !== 'object');
  return [
    ['limits the wrong way round', { ...bare, min: 5, max: 4 }, false],
    ['limits that nothing meets', { ...bare, min: 5, max: 5 }, false],
    ['take the limits away', bare, false],
    [
      'a tolerance of everything',
      { ...without(without(measure, 'min'), 'max'), tolerancePercent: 100 },
      false,
    ],
    [
      'a tolerance below nothing',
      { ...without(without(measure, 'min'), 'max'), tolerancePercent: -5 },
      false,
    ],
    ['a tolerance beside limits', { ...measure, min: 1, max: 2, tolerancePercent: 5 }, false],
    ['an unknown figure', { ...bare, min: { figure: 'nobodyKnows' } }, false],
    ['an unknown reading', { ...bare, max: { reading: 'nobodyTook' } }, false],
    ['an unknown result', { ...bare, max: { result: 'nobodyComputed', of: 'it' } }, false],
    ['an unknown tool', { ...measure, tool: 'spoon' }, false],
    ['an unknown unit', { ...measure, unit: 'furlong' }, false],
    // With limits written as bare numbers nothing ties them to a unit.
    ['another unit', { ...measure, unit: measure.unit === 'mm' ? 'in' : 'mm' }, constant],
    ['no measure', null, false],
    ...(measure.tool === undefined ? [] : [['any tool', without(measure, 'tool') as Measure, true] as const]),
    ...(percent === undefined
      ? []
      : [['a wider tolerance', { ...measure, tolerancePercent: percent * 2 }, true] as const]),
    ...(typeof max === 'number'
      ? [['a wider upper limit', { ...measure, max: max * 1.5 + 1 }, true] as const]
      : []),
    ...(typeof min === 'number'
      ? [['a lower limit that is lower', { ...measure, min: min - 1 }, true] as const]
      : []),
  ];
}

function stationMutants({ definition, name, state, meta, stations, random }: At<Station>): Mutant[] {
  const make = (operator: string, mutated: StateData, judgement = false): Mutant => ({
    operator,
    at: name,
    judgement,
    definition: withState(definition, name, mutated),
  });
  const others = stations.filter((other) => other !== name);
  const found: Mutant[] = [];
  const rework = meta.kind === 'step' && meta.rework;
  const skipping = ways(state, (way) => {
    const next = way.target === undefined ? undefined : definition.states[way.target];
    const beyond =
      next?.meta?.kind === 'hold'
        ? Object.values(next.on ?? {})
            .flat()
            .find(opens)?.target
        : undefined;
    return beyond === undefined || beyond === name ? way : retargeted(way, beyond);
  });
  const leadsToHold = JSON.stringify(skipping) !== JSON.stringify(state);
  if (leadsToHold) found.push(make(rework ? 'rework leads past its hold' : 'lead past a hold', skipping));
  if (rework) {
    found.push(
      make(
        'retarget rework',
        ways(state, (way) => retargeted(way, pick(random, others))),
      ),
      make(
        'rework leads to the end',
        ways(state, (way) => retargeted(way, COMPLETE)),
      ),
    );
  }
  if (meta.kind !== 'hold') {
    found.push(
      make(
        'lead to the end',
        ways(state, (way) => (way.target === undefined ? way : retargeted(way, COMPLETE))),
      ),
      make(
        'drop the guard of a step',
        ways(state, (way) => without(way, 'guard')),
      ),
      make(
        'lead nowhere',
        ways(state, (way) => (way.target === undefined ? way : { ...way, target: 'nowhere' })),
      ),
      make('take every way out away', { ...state, on: {} }),
      make('drop arrive at a station', without(state, 'entry')),
      make('add a way out that the kind has not', {
        ...state,
        on: { ...state.on, confirm: [{ target: pick(random, others) }] },
      }),
    );
  }
  const completes = Object.values(state.on ?? {})
    .flat()
    .some((way) => way.target === COMPLETE);
  if (completes) {
    found.push(
      make(
        'drop completes',
        ways(state, (way) =>
          way.guard ? { ...way, guard: { type: way.guard.type, params: { station: name } } } : way,
        ),
      ),
    );
  }
  if (meta.kind === 'fork') found.push(...forkMutants(make, state, meta.choices.length, definition, meta));
  if (meta.kind === 'reading') {
    for (const [operator, measure, judgement] of measureMutants(meta.measure)) {
      // A reading without limits is a note in the record: it leads on whatever the figure is.
      const asPerson = judgement || operator === 'take the limits away';
      if (measure) found.push(make(operator, { ...state, meta: { ...meta, measure } }, asPerson));
    }
  }
  if (meta.kind === 'working') {
    found.push(make('an unknown working', { ...state, meta: { ...meta, working: 'guess' } }));
    found.push(make('a working without inputs', { ...state, meta: { ...meta, inputs: {} } }));
  }
  if (meta.kind === 'lookUp') {
    found.push(make('look nothing up', { ...state, meta: { ...meta, needs: [] } }));
    if (meta.needs.length > 1) {
      found.push(make('forget to look one up', { ...state, meta: { ...meta, needs: meta.needs.slice(1) } }));
    }
  }
  if (meta.drawing !== undefined)
    found.push(make('an unknown drawing', { ...state, meta: { ...meta, drawing: 'none.svg' } }));
  return found;
}

function forkMutants(
  make: (operator: string, mutated: StateData) => Mutant,
  state: StateData,
  choices: number,
  definition: Definition,
  meta: Extract<Station, { kind: 'fork' }>,
): Mutant[] {
  const choose = state.on?.choose ?? [];
  const targets = choose.map(({ target }) => target ?? '');
  const turned = (list: Ways): Ways =>
    list.map((way, at) => ({ ...way, target: targets[(at + 1) % choices] ?? '' }));
  const values = definition.meta.facts[meta.fact]?.values ?? [];
  return [
    make('change where one choice of a fork leads', {
      ...state,
      on: { choose: choose.map((way, at) => (at === 0 ? { ...way, target: targets[1] ?? '' } : way)) },
    }),
    make('turn the ways of a fork round', {
      ...state,
      on: { choose: turned(choose) },
      ...(state.always ? { always: turned(state.always) } : {}),
    }),
    make('drop a choice of a fork', {
      ...state,
      meta: { ...meta, choices: meta.choices.slice(1) },
      on: { choose: choose.slice(1) },
      ...(state.always ? { always: state.always.slice(1) } : {}),
    }),
    make('one choice twice', {
      ...state,
      meta: { ...meta, choices: meta.choices.map((choice) => ({ ...choice, value: values[0] ?? true })) },
    }),
    make('two choices that sound alike', {
      ...state,
      meta: { ...meta, choices: meta.choices.map((choice) => ({ ...choice, phrase: 'that one' })) },
    }),
    make('a fork on an unknown fact', { ...state, meta: { ...meta, fact: 'nobodyKnows' } }),
    make('a choice that sets no fact', {
      ...state,
      on: { choose: choose.map((way) => without(way, 'actions')) },
    }),
  ];
}

function rootMutants(definition: Definition, stations: readonly string[], random: Random): Mutant[] {
  const make = (operator: string, at: string, change: Partial<Definition>): Mutant => ({
    operator,
    at,
    judgement: false,
    definition: { ...definition, ...change },
  });
  const open = definition.on.open ?? [];
  const on = (change: Partial<Definition['on']>): Definition['on'] =>
    ({ ...definition.on, ...change }) as Definition['on'];
  const later = stations.slice(1);
  return [
    ...stations.slice(0, 20).map((name) =>
      make('break a way back', name, {
        on: on({ open: open.filter(({ target }) => target !== `.${name}`) }),
      }),
    ),
    make('a way back without its guard', 'open', {
      on: on({ open: open.map((way) => without(way, 'guard')) }),
    }),
    make('a way back that leads on', 'open', {
      on: on({
        open: open.map((way, at) => (at === 0 ? { ...way, target: `.${pick(random, later)}` } : way)),
      }),
    }),
    make('a way back to the end', 'open', { on: on({ open: [...open, { target: `.${COMPLETE}` }] }) }),
    make('stop completes', 'stop', { on: on({ stop: [{ target: `.${COMPLETE}` }] }) }),
    make('no stop', 'stop', { on: without(definition.on, 'stop') as Definition['on'] }),
    make('the advance word everywhere', 'advance', {
      on: on({ advance: [{ target: `.${pick(random, later)}` }] }),
    }),
    make('any event everywhere', '*', { on: on({ '*': [{ target: `.${COMPLETE}` }] }) }),
    make('start later', 'initial', { initial: pick(random, later) }),
    make('start at the end', 'initial', { initial: COMPLETE }),
    make('start nowhere', 'initial', { initial: 'nowhere' }),
    make('an end that goes on', COMPLETE, {
      states: {
        ...definition.states,
        [COMPLETE]: { type: 'final', on: { note: [{ target: stations[0] ?? '' }] } },
      },
    }),
    make('a second end', 'finished', { states: { ...definition.states, finished: { type: 'final' } } }),
    make('stopped is no end', STOPPED, { states: { ...definition.states, [STOPPED]: {} } }),
    make('a service of its own', stations[0] ?? '', {
      states: {
        ...definition.states,
        [stations[0] ?? '']: { ...definition.states[stations[0] ?? ''], invoke: { src: 'x' } } as StateData,
      },
    }),
    make('a timer', stations[0] ?? '', {
      states: {
        ...definition.states,
        [stations[0] ?? '']: {
          ...definition.states[stations[0] ?? ''],
          after: { 1000: COMPLETE },
        } as StateData,
      },
    }),
    ...Object.keys(definition.meta.figures)
      .slice(0, 3)
      .map((name) =>
        make('a figure that cannot be', name, {
          meta: {
            ...definition.meta,
            figures: {
              ...definition.meta.figures,
              [name]: { says: 'x', unit: definition.meta.figures[name]?.unit ?? '', plausible: [9, 1] },
            },
          },
        }),
      ),
    ...Object.keys(definition.meta.tools).map((name) =>
      make('forget to declare a tool', name, {
        meta: { ...definition.meta, tools: without(definition.meta.tools, name) },
      }),
    ),
  ];
}
