import { initialTransition, setup, transition } from 'xstate';
import { actionsFor } from './actions.ts';
import type { JobContext, JobInput } from './context.ts';
import { startingContext } from './context.ts';
import type { Definition } from './definition.ts';
import { COMPLETE, STOPPED, stationOf } from './definition.ts';
import type { Stamped } from './events.ts';
import { guardsFor } from './guards.ts';

/** The state of a job: where the mechanic stands and what is known. */
export interface Snapshot {
  readonly station: string;
  readonly context: JobContext;
  readonly outcome: 'open' | typeof COMPLETE | typeof STOPPED;
}

/** A procedure ready to run: two pure functions over plain snapshots. */
export interface Machine {
  readonly definition: Definition;
  /** The snapshot of a job that has just been opened. */
  start(input: JobInput): Snapshot;
  /** The next snapshot, or null when no transition takes the event. */
  next(snapshot: Snapshot, event: Stamped): Snapshot | null;
}

/** Makes a machine of a definition. The definition is data; guards and actions are looked up by name. */
export function machineFor(definition: Definition): Machine {
  const made = setup({
    types: {} as { context: JobContext; events: Stamped; input: JobInput },
    guards: guardsFor(definition),
    actions: actionsFor(definition),
    // The config is JSON that `findings` has checked; XState's types cannot follow names inside data.
  } as never).createMachine({
    ...definition,
    // Stations that pass by themselves in a ring would otherwise never end; proved procedures have none.
    options: { maxIterations: 1000 },
    context: ({ input }: { input: JobInput }) => startingContext(input),
  } as never);

  type Inner = ReturnType<typeof made.resolveState>;
  const outer = (inner: Inner): Snapshot => {
    const station = String(inner.value);
    const outcome = station === COMPLETE || station === STOPPED ? station : 'open';
    return { station, context: inner.context as JobContext, outcome };
  };
  return {
    definition,
    start: (input) => outer(initialTransition(made, input as never)[0] as Inner),
    next(snapshot, event) {
      // XState 5.33 goes on taking transitions after a final state: a closed job takes nothing.
      if (snapshot.outcome !== 'open') return null;
      const inner = made.resolveState({ value: snapshot.station, context: snapshot.context } as never);
      if (!inner.can(event as never)) return null;
      return outer(transition(made, inner, event as never)[0] as Inner);
    },
  };
}

/**
 * The station before this one at which a person did something, where the mechanic may go back to; null at the start.
 * Forks that steered by a known fact and look-ups that lacked nothing passed by themselves and are skipped.
 */
export function stationBefore(definition: Definition, snapshot: Snapshot): string | null {
  const before = snapshot.context.visits.slice(0, -1).filter((visit) => {
    const kind = stationOf(definition, visit.station)?.kind;
    if (kind === 'fork') return visit.chose !== undefined;
    return kind !== 'lookUp' || visit.figures !== undefined;
  });
  return before[before.length - 1]?.station ?? null;
}
