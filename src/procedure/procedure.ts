import type { ActionName, Definition, ProcedureHead, StateData, TransitionData } from './definition.ts';
import { COMPLETE, STOPPED } from './definition.ts';
import type { Draft } from './vocabulary.ts';

type NamesLedTo<S> = S[keyof S] extends Draft<infer T> ? T : never;

/** Each state may lead only to a state that exists, or to `complete`: the compiler points at the one that does not. */
type Checked<S> = [NamesLedTo<S>] extends [keyof S | typeof COMPLETE]
  ? unknown
  : {
      [K in keyof S]: S[K] extends Draft<infer T>
        ? [T] extends [keyof S | typeof COMPLETE]
          ? unknown
          : never
        : never;
    };

/** Fills in which station an action or guard belongs to, so that the config can be read without its surroundings. */
function named(station: string, transition: TransitionData): TransitionData {
  const params = (given: Readonly<Record<string, string | boolean>>) => ({ station, ...given });
  const { target, guard, actions } = transition;
  return {
    ...(target === undefined ? {} : { target }),
    ...(guard
      ? {
          guard: {
            type: guard.type,
            params: { ...params(guard.params), ...(target === COMPLETE ? { completes: true } : {}) },
          },
        }
      : {}),
    ...(actions
      ? { actions: actions.map((action) => ({ type: action.type, params: params(action.params) })) }
      : {}),
  };
}

/** The state that a station is written out to. */
export function stateOf(name: string, draft: Draft): StateData {
  const arrive: ActionName = { type: 'arrive', params: { station: name } };
  return {
    meta: draft.meta,
    ...(draft.tags ? { tags: draft.tags } : {}),
    entry: [arrive],
    ...(draft.always ? { always: draft.always.map((transition) => named(name, transition)) } : {}),
    on: Object.fromEntries(
      Object.entries(draft.on).map(([event, ways]) => [event, ways.map((way) => named(name, way))]),
    ),
  };
}

/** What can happen at every station: stop, go back to a station visited before, pause, resume, note. */
export function everywhere(stations: readonly string[]): Definition['on'] {
  const simple = (guard: string, action: string): TransitionData => ({
    guard: { type: guard, params: {} },
    actions: [{ type: action, params: {} }],
  });
  return {
    stop: [{ ...simple('stops', 'stopJob'), target: `.${STOPPED}` }],
    pause: [simple('pauses', 'pauseJob')],
    resume: [simple('resumes', 'resumeJob')],
    note: [simple('notes', 'keepNote')],
    signOn: [simple('signsOn', 'signOn')],
    handOver: [simple('handsOver', 'handOver')],
    trouble: [simple('raisesTrouble', 'raiseTrouble')],
    attach: [simple('attaches', 'attach')],
    decide: stations.map((station) => ({
      guard: { type: 'returnsTo', params: { station } },
      target: `.${station}`,
      actions: [{ type: 'closeTrouble', params: {} }],
    })),
    open: stations.map((station) => ({
      guard: { type: 'opensAgain', params: { station } },
      target: `.${station}`,
    })),
  };
}

/**
 * Makes a procedure: a plain-data XState v5 machine config. Names of states are checked by the compiler, everything
 * else by `findings` (`npm run check`).
 */
export function procedure<const S extends Readonly<Record<string, Draft>>>(
  written: ProcedureHead & { id: string; initial: keyof S & string; states: S & Checked<S> },
): Definition {
  const { id, initial, states, ...meta } = written;
  const drafts = Object.entries(states as Readonly<Record<string, Draft>>);
  return {
    id,
    initial,
    meta,
    states: {
      ...Object.fromEntries(drafts.map(([name, draft]) => [name, stateOf(name, draft)])),
      [COMPLETE]: { type: 'final' },
      [STOPPED]: { type: 'final' },
    },
    on: everywhere(drafts.map(([name]) => name)),
  };
}
