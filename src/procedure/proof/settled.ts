import type { Definition } from '../definition.ts';
import { stationOf } from '../definition.ts';
import { factsIn } from './amounts-used.ts';
import { reach } from './digraph.ts';
import type { Finding } from './finding.ts';
import { finding } from './finding.ts';
import type { Flow } from './flow.ts';
import { successors } from './flow.ts';

/**
 * When a fact is read before the job has found out about it, what it is read for may rest on a wrong value, or on none.
 * That is so where a job can come to the station without the fork, go on to it from there, and learn something: a fork
 * that looks at the machine always may; one that steers by what is known only asks when nothing is known.
 */
export interface FactReading {
  /** Forks at which a job may learn the fact, or another value of it, after `station` has read it. */
  forksAfter(station: string, fact: string): readonly string[];
  /** Does every way to the station go through a fork that asks for the fact where it is not known? */
  asked(station: string, fact: string): boolean;
}

export function factReading(definition: Definition, flow: Flow): FactReading {
  const forks = new Map<string, number[]>();
  flow.names.forEach((name, node) => {
    const station = stationOf(definition, name);
    if (station?.kind === 'fork') forks.set(station.fact, [...(forks.get(station.fact) ?? []), node]);
  });
  const graph = successors(flow);
  const number = new Map(flow.names.map((name, node) => [name, node] as const).reverse());
  return {
    forksAfter(station, fact) {
      const from = number.get(station);
      const all = forks.get(fact) ?? [];
      if (from === undefined || all.length === 0) return [];
      const after = reach(graph, graph[from] ?? []);
      const unknown = reachesAround(graph, flow.entry, all, from);
      return all.flatMap((fork) => {
        const name = flow.names[fork] ?? '';
        if (fork === from || !after[fork]) return [];
        const learns = looks(definition, name) ? reachesAround(graph, flow.entry, [fork], from) : unknown;
        return learns ? [name] : [];
      });
    },
    asked(station, fact) {
      const to = number.get(station);
      return to === undefined || !reachesAround(graph, flow.entry, forks.get(fact) ?? [], to);
    },
  };
}

/** Does the fork ask even when the fact is known? */
const looks = (definition: Definition, fork: string): boolean =>
  definition.states[fork]?.always === undefined;

/** Can `to` be reached from `from` without going on from any of `around`? */
function reachesAround(
  graph: readonly (readonly number[])[],
  from: number,
  around: readonly number[],
  to: number,
): boolean {
  const without = graph.map((nexts, node) => (around.includes(node) ? [] : nexts));
  return reach(without, [from])[to] === 1;
}

/**
 * Stations whose outcome would not be undone when a fork later finds another value: a working that reckons with the
 * fact, known or not, and a fork that steered by the card where a later one has a look at the machine.
 */
export function readTooEarly(definition: Definition, reading: FactReading): Finding[] {
  return Object.entries(definition.states).flatMap(([name, state]) => {
    const station = state.meta;
    if (station?.kind === 'working') {
      return [...new Set(factsIn(station.inputs))].flatMap((fact) => [
        ...(reading.asked(name, fact) ? [] : [finding(name, 'fact-not-asked', { fact })]),
        ...early(name, fact, reading.forksAfter(name, fact)),
      ]);
    }
    if (station?.kind !== 'fork') return [];
    const later = reading.forksAfter(name, station.fact).filter((fork) => looks(definition, fork));
    return early(name, station.fact, later);
  });
}

const early = (station: string, fact: string, [fork]: readonly string[]): Finding[] =>
  fork === undefined ? [] : [finding(station, 'fact-read-too-early', { fact, fork })];
