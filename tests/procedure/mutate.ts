import type { Definition, GuardName, StateData, TransitionData } from '../../src/procedure/definition.ts';
import { COMPLETE } from '../../src/procedure/definition.ts';
import type { Station } from '../../src/procedure/station.ts';

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

export type Random = () => number;
export type Ways = readonly TransitionData[];

export const pick = <T>(random: Random, all: readonly T[]): T => all[Math.floor(random() * all.length)] as T;

/** A station that is to be harmed, with what is around it. */
export interface At<M extends Station> {
  readonly definition: Definition;
  readonly name: string;
  readonly state: StateData;
  readonly meta: M;
  readonly stations: readonly string[];
  readonly random: Random;
}

export const withState = (definition: Definition, name: string, state: StateData): Definition => ({
  ...definition,
  states: { ...definition.states, [name]: state },
});

/** Changes the ways of a state, `always` included; a way that becomes null is taken out. */
export function ways(
  state: StateData,
  change: (way: TransitionData, event: string) => TransitionData | null,
): StateData {
  const all = (list: Ways, event: string) => list.flatMap((way) => change(way, event) ?? []);
  const on = Object.fromEntries(
    Object.entries(state.on ?? {}).map(([event, list]) => [event, all(list, event)]),
  );
  return { ...state, ...(state.always ? { always: all(state.always, 'always') } : {}), on };
}

export const without = <T extends object, K extends keyof T>(value: T, key: K): Omit<T, K> => {
  const { [key]: _, ...rest } = value;
  return rest;
};

export const opens = (way: TransitionData) =>
  ['evidenceOpens', 'witnessOpens', 'concedes'].includes(way.guard?.type ?? '');
export const withAction = (way: TransitionData, type: string) =>
  way.actions?.some((action) => action.type === type) === true;
export const retargeted = (way: TransitionData, target: string): TransitionData => ({
  ...way,
  target,
  ...(way.guard ? { guard: completing(way.guard, target) } : {}),
});

/** The guard as procedure() would write it for this target, so that a retargeted way is as well made as can be. */
export function completing(guard: GuardName, target: string): GuardName {
  const { completes: _, ...params } = guard.params;
  return { ...guard, params: target === COMPLETE ? { ...params, completes: true } : params };
}
