import { describe, expect, test } from 'vitest';
import { immediateDominators, immediatePostDominators, NONE } from '../../src/procedure/proof/dominators.ts';

/*
 * Published dominator trees, as written out in two open test suites: boostorg/graph, test/dominator_tree_test.cpp, and
 * networkx, networkx/algorithms/tests/test_dominance.py. The books and papers that the suites name were not opened.
 */

interface Published {
  readonly figure: string;
  readonly source: string;
  /** "from>to", separated by blanks. */
  readonly edges: string;
  readonly root: number;
  /** Immediate dominator of each node from 0 on; "-" for the root, for nodes out of reach and for numbers not used. */
  readonly idom: string;
  readonly post?: { readonly goal: number; readonly idom: string };
}

const published: readonly Published[] = [
  {
    figure: 'Lengauer and Tarjan 1979, the example graph, nodes R, A to L renumbered',
    source: 'boostorg/graph, test/dominator_tree_test.cpp',
    edges: '0>1 0>2 0>3 1>4 2>1 2>4 2>5 3>6 3>7 4>12 5>8 6>9 7>9 7>10 8>5 8>11 9>11 10>9 11>0 11>9 12>8',
    root: 0,
    idom: '- 0 0 0 0 0 3 3 0 0 7 0 4',
  },
  {
    figure: 'Appel, Modern Compiler Implementation, p. 441, fig. 19.4',
    source: 'boostorg/graph, test/dominator_tree_test.cpp',
    edges: '0>1 1>2 1>3 2>4 2>5 4>6 5>6 6>1',
    root: 0,
    idom: '- 0 1 1 2 2 2',
  },
  {
    figure: 'the figure of the Boost documentation of dominator trees',
    source: 'boostorg/graph, test/dominator_tree_test.cpp; networkx, test_dominance.py',
    edges: '0>1 1>2 1>3 2>7 3>4 4>5 4>6 5>7 6>4',
    root: 0,
    idom: '- 0 1 1 3 4 4 1',
    post: { goal: 7, idom: '1 7 7 4 5 7 4 -' },
  },
  {
    figure: 'Muchnick, Advanced Compiler Design and Implementation, p. 253, fig. 8.18 (node 5 out of reach)',
    source: 'boostorg/graph, test/dominator_tree_test.cpp',
    edges: '0>1 0>2 1>6 2>3 2>4 3>7 5>7 6>7',
    root: 0,
    idom: '- 0 0 2 2 - 1 0',
  },
  {
    figure: 'the encyclopaedia figure Domrel.png',
    source: 'networkx, test_dominance.py',
    edges: '1>2 2>3 2>4 2>6 3>5 4>5 5>2',
    root: 1,
    idom: '- - 1 2 2 2 2',
    post: { goal: 6, idom: '- 2 6 5 5 2 -' },
  },
  {
    figure: 'Cooper, Harvey and Kennedy 2001, fig. 2, an irreducible graph',
    source: 'networkx, test_dominance.py',
    edges: '1>2 2>1 3>2 4>1 5>3 5>4',
    root: 5,
    idom: '- 5 5 5 5 -',
  },
  {
    figure: 'Cooper, Harvey and Kennedy 2001, fig. 4, an irreducible graph',
    source: 'networkx, test_dominance.py',
    edges: '1>2 2>1 2>3 3>2 4>2 4>3 5>1 6>4 6>5',
    root: 6,
    idom: '- 6 6 6 6 6 -',
  },
];

function graphOf({ edges, idom }: Published): number[][] {
  const graph: number[][] = idom.split(' ').map(() => []);
  for (const edge of edges.split(' ')) {
    const [from = 0, to = 0] = edge.split('>').map(Number);
    graph[from]?.push(to);
  }
  return graph;
}

const tree = (text: string) => text.split(' ').map((one) => (one === '-' ? NONE : Number(one)));

describe('published dominator trees', () => {
  test.each(published)('$figure [$source]', (one) => {
    expect([...immediateDominators(graphOf(one), one.root)]).toEqual(tree(one.idom));
  });

  const turned = published.flatMap(({ post, ...one }) => (post ? [{ ...one, post }] : []));
  test.each(turned)('post-dominators of $figure [$source]', ({ post, ...one }) => {
    expect([...immediatePostDominators(graphOf(one), post.goal)]).toEqual(tree(post.idom));
  });
});
