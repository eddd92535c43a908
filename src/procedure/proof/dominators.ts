import type { Digraph } from './digraph.ts';
import { reversed } from './digraph.ts';

/** Marks a node that the root does not reach, and the root itself, which has no immediate dominator. */
export const NONE = -1;

/**
 * Immediate dominators, by the iterative algorithm of Cooper, Harvey and Kennedy, "A Simple, Fast Dominance
 * Algorithm" (Rice University, 2001): the intersection of the dominators of all predecessors, taken in reverse
 * postorder until nothing changes. `idom[v]` is NONE for the root and for nodes that it does not reach.
 */
export function immediateDominators(graph: Digraph, root: number): Int32Array {
  const { order, number } = postorder(graph, root);
  const before = reversed(graph);
  const idom = new Int32Array(graph.length).fill(NONE);
  idom[root] = root;
  const rank = (node: number) => number[node] as number;
  const up = (node: number) => idom[node] as number;
  const intersect = (one: number, other: number): number => {
    let a = one;
    let b = other;
    while (a !== b) {
      while (rank(a) < rank(b)) a = up(a);
      while (rank(b) < rank(a)) b = up(b);
    }
    return a;
  };
  for (let changed = true; changed; ) {
    changed = false;
    for (let at = order.length - 1; at >= 0; at--) {
      const node = order[at] as number;
      if (node === root) continue;
      let next = NONE;
      for (const from of before[node] ?? []) {
        if (up(from) === NONE) continue;
        next = next === NONE ? from : intersect(from, next);
      }
      if (idom[node] === next) continue;
      idom[node] = next;
      changed = true;
    }
  }
  idom[root] = NONE;
  return idom;
}

/** Immediate post-dominators towards `goal`: the dominators of the graph with its edges turned round. */
export function immediatePostDominators(graph: Digraph, goal: number): Int32Array {
  return immediateDominators(reversed(graph), goal);
}

/** Every dominator of `node`, itself first and the root last; empty when the root does not reach it. */
export function dominatorsOf(idom: Int32Array, root: number, node: number): number[] {
  if (node !== root && (idom[node] ?? NONE) === NONE) return [];
  const all = [node];
  for (let at = node; at !== root; ) {
    at = idom[at] as number;
    all.push(at);
  }
  return all;
}

/** The nodes in postorder of a depth-first walk (without recursion: a long procedure must not use up the stack). */
function postorder(graph: Digraph, root: number) {
  const order: number[] = [];
  const number = new Int32Array(graph.length).fill(NONE);
  const seen = new Uint8Array(graph.length);
  seen[root] = 1;
  const stack = [{ node: root, next: 0 }];
  for (let top = stack[stack.length - 1]; top; top = stack[stack.length - 1]) {
    const to = graph[top.node]?.[top.next++];
    if (to === undefined) {
      number[top.node] = order.length;
      order.push(top.node);
      stack.pop();
    } else if (!seen[to]) {
      seen[to] = 1;
      stack.push({ node: to, next: 0 });
    }
  }
  return { order, number };
}
