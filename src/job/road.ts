import type { JobContext } from '../procedure/context.ts';
import { known, passes } from '../procedure/context.ts';
import type { Definition, StateData } from '../procedure/definition.ts';
import { COMPLETE } from '../procedure/definition.ts';
import type { Facts } from '../procedure/facts.ts';
import { holdsThatApply } from '../procedure/guards.ts';

const GOOD_WAYS = [
  'advances',
  'kitComplete',
  'evidenceOpens',
  'withinLimits',
  'resultAgrees',
  'roundIsDone',
  'waitIsOver',
  'figuresKnown',
] as const;

function goodWay(state: StateData, facts: Facts): string | null {
  const transitions = [...(state.always ?? []), ...Object.values(state.on ?? {}).flat()];
  const steering = transitions.filter(({ guard }) => guard?.type === 'choiceIs' || guard?.type === 'factIs');
  if (steering.length > 0 && state.meta?.kind === 'fork') {
    const value = facts[state.meta.fact];
    const chosen = steering.find(({ guard }) => guard?.params.value === value) ?? steering[0];
    return chosen?.target ?? null;
  }
  return transitions.find(({ guard }) => GOOD_WAYS.some((way) => way === guard?.type))?.target ?? null;
}

/**
 * The stations of a job in which nothing goes wrong, in order, as far as the facts are known; a fork whose fact is not
 * known yet is taken by its first way. Used to say where we are.
 */
export function goodRoad(definition: Definition, facts: Facts): string[] {
  const road: string[] = [];
  let name: string | null = definition.initial;
  while (name !== null && name !== COMPLETE && !road.includes(name)) {
    road.push(name);
    const state: StateData | undefined = definition.states[name];
    name = state ? goodWay(state, facts) : null;
  }
  return road;
}

export interface Progress {
  /** 1 for the first station. While on rework: the station that it leads back to. */
  readonly place: number;
  readonly stations: number;
  readonly holds: readonly { readonly station: string; readonly passed: boolean; readonly here: boolean }[];
}

/** Where the job stands: the place on the road and the hold points that apply, in the order they are met. */
export function progressOf(definition: Definition, context: JobContext, station: string): Progress {
  const { facts } = known(context);
  const road = goodRoad(definition, facts);
  const passed = passes(context);
  const applying = new Set(holdsThatApply(definition, facts));
  const places = context.visits.map((visit) => road.indexOf(visit.station)).filter((place) => place >= 0);
  const at = road.indexOf(station);
  return {
    place: (at >= 0 ? at : Math.max(0, ...places)) + 1,
    stations: road.length,
    holds: road
      .filter((name) => applying.has(name))
      .map((name) => ({ station: name, passed: name in passed, here: name === station })),
  };
}
