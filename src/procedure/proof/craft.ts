import type { Definition } from '../definition.ts';
import { COMPLETE, stationOf } from '../definition.ts';
import type { Station } from '../station.ts';
import type { Advice } from './advice.ts';
import { advise } from './advice.ts';
import { wordAdvice } from './craft-words.ts';
import { reach, shortestPath } from './digraph.ts';
import { graphOf } from './graph.ts';

/**
 * Steps in a row without anything being looked at: five to nine items between two pauses, as told of one maker's checklist
 * design in gists.brevy.dev/books/the-checklist-manifesto/06-the-checklist-factory.
 */
export const MOST_STEPS = 9;
/** Share of the shortest way through after which the first hold point is late. Our own. */
const FIRST_HOLD_SHARE = 1 / 3;

interface Chart {
  readonly names: readonly string[];
  readonly stations: readonly (Station | null)[];
  readonly next: readonly (readonly number[])[];
  readonly start: number;
  readonly goal: number;
}

/** Where a procedure departs from measurable advice. Only for a definition that has been read; empty: nothing to say. */
export function craftAdvice(definition: Definition): Advice[] {
  const map = mapOf(definition);
  const words = map.names.flatMap((name, node) => {
    const station = map.stations[node];
    return station ? wordAdvice(name, station) : [];
  });
  return [
    ...words,
    ...pauses(definition, map),
    ...protection(map),
    ...firstHold(map),
    ...release(map),
    ...completion(map),
  ];
}

function mapOf(definition: Definition): Chart {
  const { nodes, edges, start } = graphOf(definition);
  const place = new Map(nodes.map((name, node) => [name, node]));
  const next: number[][] = nodes.map(() => []);
  for (const { from, to } of edges) next[place.get(from) ?? 0]?.push(place.get(to) ?? 0);
  return {
    names: nodes,
    stations: nodes.map((name) => stationOf(definition, name)),
    next,
    start: place.get(start) ?? 0,
    goal: place.get(COMPLETE) ?? 0,
  };
}

/** The longest rows of plain steps. Forks that steer by themselves and look-ups that lack nothing are no pause. */
function pauses(definition: Definition, { names, stations, next }: Chart): Advice[] {
  const silent = (node: number) => definition.states[names[node] ?? '']?.always !== undefined;
  const isStep = (node: number) => {
    const station = stations[node];
    return station?.kind === 'step' && station.rework !== true;
  };
  const inRow = (node: number) => isStep(node) || silent(node);
  const longest = new Map<number, { steps: number; last: number }>();
  const open = new Set<number>();
  const row = (node: number): { steps: number; last: number } => {
    const known = longest.get(node);
    if (known) return known;
    if (open.has(node) || !inRow(node)) return { steps: 0, last: node };
    open.add(node);
    const rest = (next[node] ?? []).map(row).reduce((a, b) => (b.steps > a.steps ? b : a), {
      steps: 0,
      last: node,
    });
    open.delete(node);
    const found = isStep(node) ? { steps: rest.steps + 1, last: rest.steps > 0 ? rest.last : node } : rest;
    longest.set(node, found);
    return found;
  };
  const entered = new Set(next.flatMap((nexts, from) => (inRow(from) ? nexts : [])));
  return names.flatMap((name, node) => {
    if (!inRow(node) || entered.has(node)) return [];
    const { steps, last } = row(node);
    return steps > MOST_STEPS ? [advise(name, 'pause-missing', { steps, last: names[last] ?? '' })] : [];
  });
}

/** Dangerous stations that can be reached without calling off protective equipment. The kit itself may say the danger. */
function protection({ names, stations, next, start }: Chart): Advice[] {
  const protects = (station: Station | null | undefined) =>
    station?.kind === 'kit' && station.items.some(({ kind }) => kind === 'protective');
  const without = next.map((nexts, node) => (protects(stations[node]) ? [] : nexts));
  const unprotected = reach(without, [start]);
  return names.flatMap((name, node) => {
    const station = stations[node];
    const grave = station?.cautions?.some(({ word }) => word === 'danger' || word === 'warning');
    return grave && unprotected[node] && !protects(station) ? [advise(name, 'protection-late')] : [];
  });
}

function firstHold({ names, stations, next, start, goal }: Chart): Advice[] {
  const through = shortestPath(next, start, goal);
  if (!through) return [];
  const ways = names.flatMap((_, node) =>
    stations[node]?.kind === 'hold' ? [shortestPath(next, start, node)] : [],
  );
  const first = ways
    .filter((way) => way !== null)
    .reduce<readonly number[] | null>((a, b) => (a === null || b.length < a.length ? b : a), null);
  const before = (first?.length ?? 0) - 1;
  const all = through.length - 1;
  if (!first || before <= MOST_STEPS || before <= all * FIRST_HOLD_SHARE) return [];
  return [advise(names[first[before] ?? 0] ?? null, 'first-hold-late', { stations: before, all })];
}

function release({ stations }: Chart): Advice[] {
  const released = stations.some(
    (station) => station?.kind === 'hold' && station.witness === 'always' && station.applies === undefined,
  );
  return released ? [] : [advise(null, 'release-missing')];
}

function completion({ names, stations, next, goal }: Chart): Advice[] {
  return names.flatMap((name, node) =>
    next[node]?.includes(goal) && stations[node]?.kind !== 'step' ? [advise(name, 'completion-unsaid')] : [],
  );
}
