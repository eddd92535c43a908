import type { Definition } from '../definition.ts';
import { COMPLETE } from '../definition.ts';
import { type Edge, graphOf } from '../proof/graph.ts';

/** Ways that are taken when something is not right: they come last where stations are listed. */
const WRONG = ['failsHere', 'outsideLimits', 'noAnswer'];

export const goesWrong = (edge: Pick<Edge, 'guard'>): boolean => WRONG.includes(edge.guard?.type ?? '');

/**
 * The stations in the order in which a job meets them, each before what it leads to unless the way leads back; what is
 * never reached comes last. Does not depend on the order of keys, which canonical JSON sorts.
 */
export function stationOrder(definition: Definition): string[] {
  const { edges, nodes, start } = graphOf(definition);
  const out = new Map<string, string[]>(nodes.map((node) => [node, []]));
  // Visited last comes first: of a fork the first choice, of other stations the way on before the way back.
  for (const edge of edges) {
    const nexts = out.get(edge.from) ?? [];
    if (goesWrong(edge) || edge.condition === null) nexts.push(edge.to);
    else nexts.unshift(edge.to);
  }
  for (const [from, nexts] of out) {
    const wrong = new Set(edges.filter((edge) => edge.from === from && goesWrong(edge)).map(({ to }) => to));
    nexts.sort((a, b) => Number(wrong.has(a)) - Number(wrong.has(b)));
  }
  const seen = new Set<string>();
  const finished: string[] = [];
  const stack: { name: string; at: number }[] = [];
  const enter = (name: string) => {
    if (seen.has(name) || name === COMPLETE || !out.has(name)) return;
    seen.add(name);
    stack.push({ name, at: 0 });
  };
  enter(start);
  for (let top = stack.at(-1); top; top = stack.at(-1)) {
    const next = out.get(top.name)?.[top.at++];
    if (next === undefined) {
      finished.push(top.name);
      stack.pop();
    } else enter(next);
  }
  const rest = nodes.filter((node) => node !== COMPLETE && !seen.has(node)).toSorted();
  return [...finished.reverse(), ...rest];
}
