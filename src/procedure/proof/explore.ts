import type { Definition } from '../definition.ts';
import { stationOf } from '../definition.ts';
import type { Facts, FactValue } from '../facts.ts';
import type { Flow } from './flow.ts';
import { openUnderSome } from './flow.ts';
import type { Gain } from './knowledge.ts';
import { satisfiesPartly } from './partly.ts';
import type { LeafProof } from './prove-leaf.ts';
import { proveLeaf } from './prove-leaf.ts';

/** One combination of the facts that a section reads (a fact that it does not name can have any value), and its proof. */
export interface Leaf extends LeafProof {
  readonly facts: Facts;
}

export interface Explored {
  readonly flow: Flow;
  readonly leaves: readonly Leaf[];
  /** There are more combinations than the limit: nothing is proved. */
  readonly tooMany: boolean;
}

/** The gains of each edge of a flow, by index: only those that count as sure. */
export type GainsOfEdges = readonly (readonly Gain[])[];

/**
 * Proves a section for every combination of the facts that it reads. The combinations are unfolded only as far as the
 * ways through need it: a fact is settled, to each of its values in turn, when a way that can be reached splits on it,
 * or when the outcome depends on a condition that names it. Exact: nothing is sampled.
 */
export function explore(definition: Definition, flow: Flow, gains: GainsOfEdges, limit: number): Explored {
  const leaves: Leaf[] = [];
  const declared = definition.meta.facts;
  const open: Facts[] = [{}];
  for (let facts = open.pop(); facts; facts = open.pop()) {
    if (leaves.length + open.length + 1 > limit) return { flow, leaves, tooMany: true };
    const settled = facts;
    const way = walk(flow, settled, declared);
    const asked = 'open' in way ? way : firstAsked(flow, settled, gains, declared, way.reached);
    const result = asked ?? proveLeaf(definition, flow, settled, gains);
    if (!('open' in result)) {
      leaves.push({ facts: settled, ...result });
      continue;
    }
    const values = declared[result.open]?.values ?? [];
    for (const value of [...values].reverse()) open.push({ ...settled, [result.open]: value });
  }
  return { flow, leaves, tooMany: false };
}

type Declared = Readonly<Record<string, { readonly values: readonly FactValue[] }>>;
type Open = { readonly open: string };

/** The nodes met from the entry, or the first fact that has to be settled to know where the way goes. */
function walk(flow: Flow, settled: Facts, declared: Declared): { readonly reached: Uint8Array } | Open {
  const reached = new Uint8Array(flow.names.length);
  reached[flow.entry] = 1;
  const queue = [flow.entry];
  for (let head = 0; head < queue.length; head++) {
    const node = queue[head] as number;
    if (node === flow.goal) continue;
    for (const index of flow.out[node] ?? []) {
      const edge = flow.edges[index];
      if (!edge) continue;
      const isOpen = openUnderSome(edge, settled);
      const fact = edge.condition?.fact ?? '';
      if (isOpen === null && Object.hasOwn(declared, fact)) return { open: fact };
      if (isOpen === false || reached[edge.to]) continue;
      reached[edge.to] = 1;
      queue.push(edge.to);
    }
  }
  return { reached };
}

/** The first fact on which it depends what a look-up that is met asks for; null when none is open. */
function firstAsked(
  flow: Flow,
  settled: Facts,
  gains: GainsOfEdges,
  declared: Declared,
  reached: Uint8Array,
): Open | null {
  for (const [index, edge] of flow.edges.entries()) {
    if (!reached[edge.from]) continue;
    for (const { when } of gains[index] ?? []) {
      const asked = satisfiesPartly(when, settled, declared);
      if (typeof asked === 'object') return asked;
    }
  }
  return null;
}

/** The stations of a flow that are hold points: their node numbers. */
export function holdNodes(definition: Definition, flow: Flow): number[] {
  const passNodes = new Set(flow.passOf.values());
  return flow.names.flatMap((name, node) =>
    !passNodes.has(node) && node !== flow.goal && stationOf(definition, name)?.kind === 'hold' ? [node] : [],
  );
}
