import type { Definition, StateData } from '../../src/procedure/definition.ts';
import { COMPLETE, STOPPED } from '../../src/procedure/definition.ts';
import { holdMutants } from './mutants-hold.ts';
import { stationMutants } from './mutants-station.ts';
import { type Mutant, pick, type Random, without } from './mutate.ts';

export type { Mutant };

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

/** Faults at the root and at the two ends. */
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
