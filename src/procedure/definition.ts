import type { FactDeclaration } from './facts.ts';
import type { Station } from './station.ts';

/** A guard named in the config: implemented once, in `guards.ts`. */
export interface GuardName {
  readonly type: string;
  readonly params: Readonly<Record<string, string | boolean>>;
}

/** An action named in the config: implemented once, in `actions.ts`. */
export interface ActionName {
  readonly type: string;
  readonly params: Readonly<Record<string, string | boolean>>;
}

export interface TransitionData {
  readonly target?: string;
  readonly guard?: GuardName;
  readonly actions?: readonly ActionName[];
}

/** One state of a procedure: an XState state node that is plain data. */
export interface StateData {
  readonly meta?: Station;
  readonly tags?: readonly string[];
  readonly type?: 'final';
  readonly entry?: readonly ActionName[];
  readonly always?: readonly TransitionData[];
  readonly on?: Readonly<Record<string, readonly TransitionData[]>>;
}

/** A value the procedure takes from the machine's card. */
export interface FigureDeclaration {
  readonly says: string;
  readonly unit: string;
  /** Smallest and largest value that can be right at all: catches a slipped decimal point when one is entered. */
  readonly plausible: readonly [number, number];
}

/** A kind of tool that a procedure uses. */
export interface ToolDeclaration {
  readonly says: string;
  /** The tool measures or sets something that matters: only one with a valid calibration will do. */
  readonly calibrated?: boolean;
}

/** What is true of the whole procedure: the `meta` of its root. */
export interface ProcedureHead {
  readonly title: string;
  readonly revision: number;
  /** One sentence: what the job covers and what it does not. */
  readonly covers: string;
  readonly facts: Readonly<Record<string, FactDeclaration>>;
  readonly figures: Readonly<Record<string, FigureDeclaration>>;
  readonly tools: Readonly<Record<string, ToolDeclaration>>;
  /** A job that falls due after this one is finished. */
  readonly followUp?: FollowUp;
}

export interface FollowUp {
  /** Id of the procedure to be done then. */
  readonly procedure: string;
  readonly says: string;
  readonly afterHours: number;
}

/** A procedure: an XState v5 machine config that is pure JSON. Its canonical SHA-256 identifies the revision. */
export interface Definition {
  readonly id: string;
  readonly initial: string;
  readonly meta: ProcedureHead;
  readonly states: Readonly<Record<string, StateData>>;
  readonly on: Readonly<Record<string, readonly TransitionData[]>>;
}

/** The two ways a job ends. */
export const COMPLETE = 'complete';
export const STOPPED = 'stopped';

/** The station of a state, or null for the two final states and for a name that does not exist. */
export function stationOf(definition: Definition, name: string): Station | null {
  return definition.states[name]?.meta ?? null;
}
