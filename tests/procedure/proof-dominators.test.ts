import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Digraph } from '../../src/procedure/proof/digraph.ts';
import { reach, reversed, shortestPath } from '../../src/procedure/proof/digraph.ts';
import {
  dominatorsOf,
  immediateDominators,
  immediatePostDominators,
  NONE,
} from '../../src/procedure/proof/dominators.ts';

/** Any directed graph of up to 12 nodes, loops and nodes out of reach included. */
const graphs = fc.integer({ min: 1, max: 12 }).chain((count) =>
  fc
    .array(fc.tuple(fc.nat(count - 1), fc.nat(count - 1)), { maxLength: 3 * count })
    .map((edges): number[][] => {
      const graph: number[][] = Array.from({ length: count }, () => []);
      for (const [from, to] of edges) graph[from]?.push(to);
      return graph;
    }),
);

/** The definition itself: `d` dominates `v` when taking `d` away puts `v` out of reach. */
function dominatesByRemoval(graph: Digraph, root: number, d: number, v: number): boolean {
  if (!reach(graph, [root])[v]) return false;
  if (d === v || d === root) return true;
  const without = graph.map((nexts, node) => (node === d ? [] : nexts.filter((next) => next !== d)));
  return !reach(without, [root])[v];
}

describe('dominators', () => {
  test('are the nodes whose removal puts a node out of reach', () => {
    fc.assert(
      fc.property(graphs, (graph) => {
        const idom = immediateDominators(graph, 0);
        for (let v = 0; v < graph.length; v++) {
          const found = new Set(dominatorsOf(idom, 0, v));
          for (let d = 0; d < graph.length; d++) {
            expect(found.has(d)).toBe(dominatesByRemoval(graph, 0, d, v));
          }
        }
      }),
      { numRuns: 500 },
    );
  });

  test('the immediate one is dominated by all the others', () => {
    fc.assert(
      fc.property(graphs, (graph) => {
        const idom = immediateDominators(graph, 0);
        for (let v = 1; v < graph.length; v++) {
          const nearest = idom[v] ?? NONE;
          if (nearest === NONE) continue;
          const strict = dominatorsOf(idom, 0, v).filter((d) => d !== v);
          for (const d of strict) expect(dominatesByRemoval(graph, 0, d, nearest)).toBe(true);
        }
      }),
    );
  });

  test('post-dominators lie on every way to the goal', () => {
    fc.assert(
      fc.property(graphs, (graph) => {
        const goal = graph.length - 1;
        const idom = immediatePostDominators(graph, goal);
        const back = reversed(graph);
        for (let v = 0; v < graph.length; v++) {
          const found = new Set(dominatorsOf(idom, goal, v));
          for (let d = 0; d < graph.length; d++) {
            expect(found.has(d)).toBe(dominatesByRemoval(back, goal, d, v));
          }
        }
      }),
    );
  });

  test('a chain of 100 000 nodes does not use up the stack', () => {
    const graph = Array.from({ length: 100_000 }, (_, node) => (node < 99_999 ? [node + 1] : []));
    expect(immediateDominators(graph, 0)[99_999]).toBe(99_998);
  });
});

test('a shortest path is a path, and no shorter one exists', () => {
  fc.assert(
    fc.property(graphs, (graph) => {
      const goal = graph.length - 1;
      const path = shortestPath(graph, 0, goal);
      expect(path !== null).toBe(reach(graph, [0])[goal] === 1);
      if (!path) return;
      path.slice(1).forEach((node, at) => {
        expect(graph[path[at] ?? 0]).toContain(node);
      });
      let ring = new Set([0]);
      for (let steps = 0; steps < path.length - 1; steps++) {
        expect(ring.has(goal)).toBe(false);
        ring = new Set([...ring, ...[...ring].flatMap((node) => graph[node] ?? [])]);
      }
    }),
  );
});
