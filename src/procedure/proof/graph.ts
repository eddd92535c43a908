import type { ActionName, Definition, GuardName, TransitionData } from '../definition.ts';
import { COMPLETE, stationOf } from '../definition.ts';
import type { Facts, FactValue } from '../facts.ts';
import type { Station } from '../station.ts';

/** The fact and value without which an edge is closed. */
export interface EdgeCondition {
  readonly fact: string;
  readonly value: FactValue;
}

/** One way from a station to the next. */
export interface Edge {
  readonly from: string;
  readonly to: string;
  /** The event that takes it; `always` for one that is taken without an event. */
  readonly event: string;
  readonly guard: GuardName | null;
  readonly actions: readonly ActionName[];
  /** Set where the way splits on a fact. */
  readonly condition: EdgeCondition | null;
  /** Taking this edge passes the hold point that it leaves. */
  readonly passes: boolean;
}

/**
 * The ways through a procedure. Left out on purpose: `stop`, which is open at every station and so would hide every
 * dead end, and `open`, which only goes back to a station of the path walked so far and cuts the path there. After
 * such a cut the visits that stand are again a path of this graph, so what holds for all its paths holds for the job.
 */
export interface ProcedureGraph {
  readonly start: string;
  /** Every station, in the order of the procedure, and `complete` at the end. */
  readonly nodes: readonly string[];
  readonly edges: readonly Edge[];
}

// A concession is a recorded way through a hold point: it counts as its pass, and `verify` looks at who gave it.
const OPENING_GUARDS: readonly string[] = ['evidenceOpens', 'witnessOpens', 'concedes'];

function passesHold(station: Station | null, { guard, actions = [] }: TransitionData): boolean {
  if (station?.kind !== 'hold' || !guard || !OPENING_GUARDS.includes(guard.type)) return false;
  return actions.some((action) => action.type === 'passHold');
}

function conditionOf(station: Station | null, guard: GuardName | undefined): EdgeCondition | null {
  const value = guard?.params.value;
  if (value === undefined) return null;
  if (guard?.type === 'factIs') return { fact: String(guard.params.fact), value };
  if (guard?.type === 'choiceIs' && station?.kind === 'fork') return { fact: station.fact, value };
  return null;
}

/** The graph of a definition. A transition without a target stays where it is and is no edge; unknown targets are left out. */
export function graphOf(definition: Definition): ProcedureGraph {
  const stations = Object.keys(definition.states).filter((name) => stationOf(definition, name) !== null);
  const exists = new Set([...stations, COMPLETE]);
  const edges = stations.flatMap((from) => {
    const state = definition.states[from];
    const station = stationOf(definition, from);
    const given = Object.entries(state?.on ?? {});
    const all = [['always', state?.always ?? []] as const, ...given];
    return all.flatMap(([event, transitions]) =>
      transitions.flatMap((transition): Edge[] => {
        const { target, guard, actions = [] } = transition;
        if (target === undefined || !exists.has(target)) return [];
        const condition = conditionOf(station, guard);
        const passes = passesHold(station, transition);
        return [{ from, to: target, event, guard: guard ?? null, actions, condition, passes }];
      }),
    );
  });
  return { start: definition.initial, nodes: [...stations, COMPLETE], edges };
}

/** Is the edge open under these facts? A fact that they do not name leaves it open. */
export function openUnder(edge: Edge, facts: Facts): boolean {
  if (!edge.condition) return true;
  const value = facts[edge.condition.fact];
  return value === undefined || value === edge.condition.value;
}

/** The edges that are open under a combination of facts. */
export function edgesUnder(graph: ProcedureGraph, facts: Facts): Edge[] {
  return graph.edges.filter((edge) => openUnder(edge, facts));
}
