import type { Definition } from '../definition.ts';
import { COMPLETE } from '../definition.ts';
import type { Facts } from '../facts.ts';
import { factsInWords } from '../facts.ts';
import { assignedFindings } from './assigned.ts';
import { reach } from './digraph.ts';
import type { Explored, GainsOfEdges } from './explore.ts';
import { explore, holdNodes } from './explore.ts';
import type { Finding } from './finding.ts';
import { finding } from './finding.ts';
import type { Flow } from './flow.ts';
import { flowOf, successors } from './flow.ts';
import { graphOf } from './graph.ts';
import { gainsOf } from './knowledge.ts';
import { sectionsOf } from './sections.ts';
import type { FactReading } from './settled.ts';
import { factReading, readTooEarly } from './settled.ts';

export interface Proof {
  readonly sections: readonly Explored[];
  readonly findings: readonly Finding[];
  /** How many combinations of facts were gone through, over all sections. */
  readonly combinations: number;
}

/** Combinations of facts in one section beyond which the check gives up and says so. */
export const COMBINATION_LIMIT = 5000;

/** Steps of work in one section beyond which it does so sooner: a file that somebody made up must not stop the bench. */
const WORK_LIMIT = 1e9;

function limitFor(definition: Definition, flow: Flow, limit: number): number {
  const work = flow.edges.length * (1 + holdNodes(definition, flow).length);
  return Math.max(1, Math.min(limit, Math.floor(WORK_LIMIT / Math.max(1, work))));
}

/**
 * Proves a procedure whose states have the shape of their kind: for every combination of facts each hold point that
 * applies must be passed, rework comes back, nothing is a dead end, and what is used is known.
 */
export function prove(definition: Definition, limit = COMBINATION_LIMIT): Proof {
  const whole = flowOf(graphOf(definition));
  const reading = factReading(definition, whole);
  const sections = sectionsOf(whole).map((flow) =>
    explore(definition, flow, gainsAlong(definition, flow, reading), limitFor(definition, flow, limit)),
  );
  const findings = [
    ...neverReached(whole, sections),
    ...readTooEarly(definition, reading),
    ...sections.flatMap((section) => sectionFindings(section, limitFor(definition, section.flow, limit))),
    ...assignedFindings(sections),
  ];
  const combinations = sections.reduce((sum, { leaves }) => sum + leaves.length, 0);
  return { sections, findings: once(findings), combinations };
}

/** What each edge of a section makes known. A look-up asked under a fact that is found out later gives nothing for sure. */
function gainsAlong(definition: Definition, flow: Flow, reading: FactReading): GainsOfEdges {
  return flow.edges.map(({ edge }) => {
    if (!edge) return [];
    return gainsOf(definition, edge).filter(({ when }) =>
      Object.keys(when ?? {}).every((fact) => reading.forksAfter(edge.from, fact).length === 0),
    );
  });
}

function neverReached(whole: Flow, sections: readonly Explored[]): Finding[] {
  const seen = new Set<string>();
  for (const { flow, leaves } of sections) {
    for (const { reached } of leaves) {
      flow.names.forEach((name, node) => {
        if (reached[node]) seen.add(name);
      });
    }
  }
  const inUnion = reach(successors(whole), [whole.entry]);
  const stations = whole.names.slice(0, whole.names.indexOf(COMPLETE));
  return stations
    .filter((name, node) => !seen.has(name) || !inUnion[node])
    .map((name) => finding(name, 'never-reached'));
}

const inWords = (facts: Facts) =>
  Object.keys(facts).length === 0 ? 'whatever the facts' : factsInWords(facts);

function sectionFindings({ flow, leaves, tooMany }: Explored, limit: number): Finding[] {
  const name = (node: number) => flow.names[node] ?? '';
  if (tooMany) {
    const details = { limit, from: name(flow.entry), to: name(flow.goal) };
    return [finding(name(flow.entry), 'too-many-combinations', details)];
  }
  return leaves.flatMap((leaf) => {
    const facts = inWords(leaf.facts);
    const holds = leaf.holds.flatMap(({ hold, applies, reached, missedBy, noReturn }) => {
      const returns = noReturn.map((rework) => finding(hold, 'rework-does-not-return', { rework, facts }));
      if (applies === false) return returns;
      if (!reached) return [...returns, finding(hold, 'hold-never-met', { facts })];
      if (!missedBy) return returns;
      return [...returns, finding(hold, 'hold-can-be-missed', { facts, path: missedBy.join(', ') })];
    });
    return [
      ...(leaf.passable ? [] : [finding(null, 'complete-out-of-reach', { facts })]),
      ...holds,
      ...leaf.dead.map((station) => finding(station, 'dead-end', { facts })),
      ...leaf.circles.map((station) => finding(station, 'loop-without-a-person', { facts })),
    ];
  });
}

/** One finding of a kind for a station is enough: the first combination of facts shows the fault. */
function once(findings: readonly Finding[]): Finding[] {
  const first = new Map<string, Finding>();
  for (const one of findings) {
    const key = `${one.station} ${one.code} ${one.code.startsWith('hold') || one.code === 'dead-end' ? '' : one.says}`;
    if (!first.has(key)) first.set(key, one);
  }
  return [...first.values()];
}
