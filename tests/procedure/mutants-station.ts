import type { Definition, StateData } from '../../src/procedure/definition.ts';
import { COMPLETE } from '../../src/procedure/definition.ts';
import type { Station } from '../../src/procedure/station.ts';
import { measureMutants } from './mutants-measure.ts';
import {
  type At,
  type Mutant,
  opens,
  pick,
  retargeted,
  type Ways,
  ways,
  without,
  withState,
} from './mutate.ts';

/** Faults at any other station, and ways that lead past a hold. */
export function stationMutants({ definition, name, state, meta, stations, random }: At<Station>): Mutant[] {
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
