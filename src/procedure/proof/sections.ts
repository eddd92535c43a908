import { reach } from './digraph.ts';
import { dominatorsOf, immediateDominators, NONE } from './dominators.ts';
import type { Flow, FlowEdge } from './flow.ts';
import { makeFlow, successors } from './flow.ts';

/**
 * Cuts a procedure into sections that can be proved one by one.
 *
 * The stations that dominate `complete` when every way of every fork is open are gates: every job goes through all of
 * them, in the same order. A station belongs to the last gate that dominates it. Then an edge leads to a station of the
 * same section, to the next gate, or back; were there another, it would go round a dominator. So whether `complete` can
 * be reached without something that lies in one section depends on the facts that are read in that section alone, and
 * the combinations of facts of one section add to those of the next instead of multiplying with them.
 *
 * An edge back to a gate is led back to the section's own gate, which the job must reach again from there. Sections
 * between which an edge leads back to the middle are joined.
 */
export function sectionsOf(flow: Flow): Flow[] {
  const graph = successors(flow);
  const reached = reach(graph, [flow.entry]);
  if (!reached[flow.goal]) return [flow];
  const idom = immediateDominators(graph, flow.entry);
  const passNodes = new Set(flow.passOf.values());
  const gates = dominatorsOf(idom, flow.entry, flow.goal)
    .reverse()
    .filter((node) => !passNodes.has(node));
  const sectionOf = lastGateOf(flow, idom, gates);
  const group = joinGroups(flow, sectionOf, gates);
  const count = gates.length - 1;
  const members: number[][] = Array.from({ length: count }, () => []);
  flow.names.forEach((_, node) => {
    const section = sectionOf[node] ?? NONE;
    if (reached[node] && node !== flow.goal && section !== NONE) members[group[section] ?? 0]?.push(node);
  });
  return members.flatMap((nodes, first) => {
    if (group[first] !== first) return [];
    let next = first + 1;
    while (next < count && group[next] === first) next++;
    return [sectionFlow(flow, nodes, gates[first] ?? 0, gates[next] ?? 0)];
  });
}

/** For each node the number of the last gate that dominates it. */
function lastGateOf(flow: Flow, idom: Int32Array, gates: readonly number[]): Int32Array {
  const last = new Int32Array(flow.names.length).fill(NONE);
  gates.forEach((gate, at) => {
    last[gate] = at;
  });
  for (let node = 0; node < last.length; node++) {
    const way: number[] = [];
    let at = node;
    while (at !== NONE && last[at] === NONE) {
      way.push(at);
      at = idom[at] ?? NONE;
    }
    const gate = at === NONE ? NONE : (last[at] ?? NONE);
    for (const passed of way) last[passed] = gate;
  }
  return last;
}

/** For each section the first one of the group it is joined with. */
function joinGroups(flow: Flow, sectionOf: Int32Array, gates: readonly number[]): number[] {
  const isGate = new Set(gates);
  const count = gates.length - 1;
  const joinedUpTo = Array.from({ length: count }, (_, section) => section);
  for (const { from, to } of flow.edges) {
    const low = sectionOf[to] ?? NONE;
    const high = sectionOf[from] ?? NONE;
    if (isGate.has(to) || low === NONE || low >= high) continue;
    joinedUpTo[low] = Math.max(joinedUpTo[low] ?? low, high);
  }
  const group: number[] = [];
  let first = 0;
  let last = -1;
  for (let section = 0; section < count; section++) {
    if (section > last) first = section;
    last = Math.max(last, joinedUpTo[section] ?? section);
    group.push(first);
  }
  return group;
}

function sectionFlow(flow: Flow, nodes: readonly number[], entry: number, goal: number): Flow {
  const all = [...nodes, goal];
  const local = new Map(all.map((node, at) => [node, at]));
  const own = local.get(entry) ?? 0;
  const edges = nodes.flatMap((node) =>
    (flow.out[node] ?? []).map((index): FlowEdge => {
      const edge = flow.edges[index] as FlowEdge;
      // Back to an earlier gate: the job must come through this section's own gate again.
      return { ...edge, from: local.get(node) ?? 0, to: local.get(edge.to) ?? own };
    }),
  );
  const passOf = new Map<number, number>();
  for (const node of nodes) {
    const pass = flow.passOf.get(node);
    if (pass !== undefined) passOf.set(local.get(node) ?? 0, local.get(pass) ?? 0);
  }
  return makeFlow(
    all.map((node) => flow.names[node] ?? ''),
    own,
    local.get(goal) ?? 0,
    edges,
    passOf,
  );
}
