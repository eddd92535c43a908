import { COMPLETE } from '../definition.ts';
import type { FactValue } from '../facts.ts';
import type { Edge, EdgeCondition, ProcedureGraph } from './graph.ts';

export interface FlowEdge {
  readonly from: number;
  readonly to: number;
  readonly condition: EdgeCondition | null;
  /** The edge of the procedure that it stands for; null for the second half of a split pass edge. */
  readonly edge: Edge | null;
}

/**
 * A procedure, or a stretch of one, as numbered nodes. Each hold point has a second node, its pass: the edges that pass
 * it run through that node, so that "cannot be finished without passing" is "the pass dominates the goal".
 */
export interface Flow {
  /** Station of each node; a pass node bears the name of its hold. */
  readonly names: readonly string[];
  readonly entry: number;
  readonly goal: number;
  readonly edges: readonly FlowEdge[];
  /** Indexes into `edges` of the ways out of each node. */
  readonly out: readonly (readonly number[])[];
  /** Hold node -> pass node. */
  readonly passOf: ReadonlyMap<number, number>;
}

export function makeFlow(
  names: readonly string[],
  entry: number,
  goal: number,
  edges: readonly FlowEdge[],
  passOf: ReadonlyMap<number, number>,
): Flow {
  const out: number[][] = names.map(() => []);
  edges.forEach((edge, at) => {
    out[edge.from]?.push(at);
  });
  return { names, entry, goal, edges, out, passOf };
}

/** The whole procedure as one flow from its start to `complete`. */
export function flowOf(graph: ProcedureGraph): Flow {
  const names = [...graph.nodes];
  const number = new Map(names.map((name, at) => [name, at]));
  const passOf = new Map<number, number>();
  const joined = new Set<string>();
  const at = (name: string) => number.get(name) ?? 0;
  const edges = graph.edges.flatMap((edge): FlowEdge[] => {
    const from = at(edge.from);
    const to = at(edge.to);
    const { condition } = edge;
    if (!edge.passes) return [{ from, to, condition, edge }];
    const pass = passOf.get(from) ?? names.push(edge.from) - 1;
    passOf.set(from, pass);
    const second = { from: pass, to, condition: null, edge: null };
    const half = { from, to: pass, condition, edge };
    const key = `${pass} ${to}`;
    if (joined.has(key)) return [half];
    joined.add(key);
    return [half, second];
  });
  return makeFlow(names, at(graph.start), at(COMPLETE), edges, passOf);
}

/** The successors of each node over the edges that `open` lets through. */
export function successors(flow: Flow, open: (edge: FlowEdge) => boolean = () => true): number[][] {
  return flow.out.map((indexes) => {
    const nexts: number[] = [];
    for (const index of indexes) {
      const edge = flow.edges[index];
      if (edge && open(edge)) nexts.push(edge.to);
    }
    return nexts;
  });
}

/** Is the edge open under facts of which only some may be settled? null: it depends on a fact that is not. */
export function openUnderSome(edge: FlowEdge, facts: Readonly<Record<string, FactValue>>): boolean | null {
  if (!edge.condition) return true;
  const value = facts[edge.condition.fact];
  return value === undefined ? null : value === edge.condition.value;
}
