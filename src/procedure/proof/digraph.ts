/** A directed graph over the nodes 0 … n−1: the successors of each. */
export type Digraph = readonly (readonly number[])[];

/** Marks (1) of the nodes that can be reached from `roots`, the roots included; as if the node `deleted` were not there. */
export function reach(graph: Digraph, roots: readonly number[], deleted = -1): Uint8Array {
  const seen = new Uint8Array(graph.length);
  const stack = roots.filter((root) => root !== deleted);
  for (const root of stack) seen[root] = 1;
  for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
    for (const next of graph[node] ?? []) {
      if (seen[next] || next === deleted) continue;
      seen[next] = 1;
      stack.push(next);
    }
  }
  return seen;
}

/** The graph with every edge turned round. */
export function reversed(graph: Digraph): number[][] {
  const back: number[][] = graph.map(() => []);
  graph.forEach((nexts, from) => {
    for (const to of nexts) back[to]?.push(from);
  });
  return back;
}

/** A shortest path from `from` to `to`, both included, or null. */
export function shortestPath(graph: Digraph, from: number, to: number): number[] | null {
  const cameFrom = new Int32Array(graph.length).fill(-1);
  cameFrom[from] = from;
  const queue = [from];
  for (let head = 0; head < queue.length && cameFrom[to] === -1; head++) {
    const node = queue[head] as number;
    for (const next of graph[node] ?? []) {
      if (cameFrom[next] !== -1) continue;
      cameFrom[next] = node;
      queue.push(next);
    }
  }
  if (cameFrom[to] === -1) return null;
  const path = [to];
  for (let node = to; node !== from; ) {
    node = cameFrom[node] as number;
    path.push(node);
  }
  return path.reverse();
}
