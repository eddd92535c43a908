import type { Definition } from '../definition.ts';
import { stationOf } from '../definition.ts';
import type { Facts } from '../facts.ts';
import type { Digraph } from './digraph.ts';
import { reach, reversed, shortestPath } from './digraph.ts';
import { dominatorsOf, immediateDominators } from './dominators.ts';
import type { GainsOfEdges } from './explore.ts';
import { holdNodes } from './explore.ts';
import type { Flow } from './flow.ts';
import { openUnderSome, successors } from './flow.ts';
import type { Item } from './knowledge.ts';
import { needsOf } from './knowledge.ts';
import { satisfiesPartly } from './partly.ts';

/** What was proved of one hold point under one combination of facts. */
export interface HoldProof {
  readonly hold: string;
  /** null: whether it applies depends on a fact that the way through does not depend on; it is passed in both cases. */
  readonly applies: boolean | null;
  readonly reached: boolean;
  /** The section cannot be left towards its goal without passing it. */
  readonly dominates: boolean;
  /** Rework from which the job does not come back to the hold. */
  readonly noReturn: readonly string[];
  /** Where it can be missed: a way from the entry to the goal that does not pass it. */
  readonly missedBy: readonly string[] | null;
}

/** What was proved of a section under one combination of facts. */
export interface LeafProof {
  readonly reached: Uint8Array;
  readonly passable: boolean;
  readonly holds: readonly HoldProof[];
  /** Stations from which the goal cannot be reached; where nothing reaches it, those that have no way out at all. */
  readonly dead: readonly string[];
  /** Stations on a circle of ways that are taken without an event. */
  readonly circles: readonly string[];
  /** Items that a station needs and that this section has not made known on every way there. */
  readonly lacking: readonly { readonly station: string; readonly item: Item }[];
  /** Items that are known on every way that leaves the section at its goal. */
  readonly gained: ReadonlySet<Item>;
}

/** Proves a section under settled facts, or says which fact must be settled first. */
export function proveLeaf(
  definition: Definition,
  flow: Flow,
  facts: Facts,
  gains: GainsOfEdges,
): LeafProof | { readonly open: string } {
  const graph = successors(flow, (edge) => edge.from !== flow.goal && openUnderSome(edge, facts) !== false);
  const reached = reach(graph, [flow.entry]);
  const before = reversed(graph);
  const finishes = reach(before, [flow.goal]);
  const holds = proveHolds(definition, flow, facts, graph, reached);
  if ('open' in holds) return holds;
  const stationNodes = flow.names.flatMap((_, node) => (reached[node] && node !== flow.goal ? [node] : []));
  const passNodes = new Set(flow.passOf.values());
  const passable = reached[flow.goal] === 1;
  const stuck = (node: number) => (graph[node] ?? []).every((next) => next === node);
  const dead = stationNodes.filter(
    (node) => !finishes[node] && !passNodes.has(node) && (passable || stuck(node)),
  );
  return {
    reached,
    passable,
    holds: holds.proofs,
    dead: dead.map((node) => flow.names[node] ?? ''),
    circles: circlesOf(flow, facts, reached),
    ...knownAlong(definition, flow, facts, gains, reached),
  };
}

function proveHolds(
  definition: Definition,
  flow: Flow,
  facts: Facts,
  graph: Digraph,
  reached: Uint8Array,
): { readonly proofs: HoldProof[] } | { readonly open: string } {
  const idom = immediateDominators(graph, flow.entry);
  const needed = new Set(dominatorsOf(idom, flow.entry, flow.goal));
  const proofs: HoldProof[] = [];
  for (const node of holdNodes(definition, flow)) {
    const hold = flow.names[node] ?? '';
    const station = stationOf(definition, hold);
    const pass = flow.passOf.get(node);
    const dominates = pass !== undefined && needed.has(pass);
    // The same question put the other way: with the pass edges deleted the goal must be out of reach.
    const open = reach(graph, [flow.entry], pass)[flow.goal] === 1;
    if (open === dominates && reached[flow.goal]) {
      throw new Error(
        `The two proofs about the hold point "${hold}" disagree: this is a fault of the program.`,
      );
    }
    const applies = satisfiesPartly(
      station?.kind === 'hold' ? station.applies : undefined,
      facts,
      definition.meta.facts,
    );
    if (typeof applies === 'object' && !dominates) return applies;
    const does = typeof applies === 'object' ? null : applies;
    const noReturn = reached[node] ? reworkWithoutReturn(flow, node, pass, graph) : [];
    const missedBy = open && applies !== false ? pathAround(flow, graph, pass) : null;
    proofs.push({ hold, applies: does, reached: reached[node] === 1, dominates, noReturn, missedBy });
  }
  return { proofs };
}

/** The ways out of a hold, other than passing it, from which it is not met again, or can be gone round. */
function reworkWithoutReturn(flow: Flow, hold: number, pass: number | undefined, graph: Digraph): string[] {
  const ways = (graph[hold] ?? []).filter((to) => to !== pass && to !== hold);
  const astray = ways.filter((to) => {
    const met = reach(graph, [to], pass);
    return !met[hold] || met[flow.goal];
  });
  return astray.map((to) => flow.names[to] ?? '');
}

/** Stations of a shortest way from the entry to the goal that does not pass a hold. */
function pathAround(flow: Flow, graph: Digraph, pass: number | undefined): string[] {
  const without = graph.map((nexts) => nexts.filter((next) => next !== pass));
  const path = shortestPath(without, flow.entry, flow.goal) ?? [];
  const names = path.map((node) => flow.names[node] ?? '');
  return names.filter((name, at) => name !== names[at - 1]);
}

/** Stations on a circle of ways that nobody has to take: the job would never come to rest. */
function circlesOf(flow: Flow, facts: Facts, reached: Uint8Array): string[] {
  const byItself = successors(
    flow,
    (edge) => edge.edge?.event === 'always' && openUnderSome(edge, facts) !== false,
  );
  return flow.names.filter((_, node) => {
    const nexts = byItself[node] ?? [];
    return reached[node] && nexts.length > 0 && reach(byItself, nexts)[node];
  });
}

/**
 * What is known at each station whatever way led there: the items that every way brings along. Going round a loop
 * brings nothing for sure, since coming back to a station cuts what was done since.
 */
function knownAlong(
  definition: Definition,
  flow: Flow,
  facts: Facts,
  gains: GainsOfEdges,
  reached: Uint8Array,
): Pick<LeafProof, 'lacking' | 'gained'> {
  const known: (Set<Item> | null)[] = flow.names.map(() => null);
  known[flow.entry] = new Set();
  const queue = [flow.entry];
  for (let node = queue.pop(); node !== undefined; node = queue.pop()) {
    if (node === flow.goal) continue;
    for (const index of flow.out[node] ?? []) {
      const edge = flow.edges[index];
      if (!edge || openUnderSome(edge, facts) === false) continue;
      const brought = new Set(known[node]);
      for (const { item, when } of gains[index] ?? []) {
        if (satisfiesPartly(when, facts, definition.meta.facts) === true) brought.add(item);
      }
      const there = known[edge.to];
      const both = there ? new Set([...there].filter((item) => brought.has(item))) : brought;
      if (there && both.size === there.size) continue;
      known[edge.to] = both;
      queue.push(edge.to);
    }
  }
  const passNodes = new Set(flow.passOf.values());
  const lacking = flow.names.flatMap((station, node) => {
    const meta = stationOf(definition, station);
    if (!meta || !reached[node] || node === flow.goal || passNodes.has(node)) return [];
    return needsOf(meta)
      .filter((item) => !known[node]?.has(item))
      .map((item) => ({ station, item }));
  });
  return { lacking, gained: known[flow.goal] ?? new Set() };
}
