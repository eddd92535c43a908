import type { Definition, StateData, TransitionData } from '../definition.ts';
import { stateOf } from '../procedure.ts';
import type { Station } from '../station.ts';
import type { Draft } from '../vocabulary.ts';
import { fork, hold, kit, lookUp, reading, round, step, wait, working } from '../vocabulary.ts';

/** Stands for a way out that the state lacks: no station can have this name. */
export const NOWHERE = '';

/**
 * What the vocabulary makes of a state's own `meta` and of the stations that it leads to. A state that differs from this
 * has been altered after it was written.
 */
export function rebuilt(name: string, state: StateData): StateData | null {
  return state.meta ? stateOf(name, draftOf(state.meta, state)) : null;
}

function draftOf(station: Station, state: StateData): Draft {
  const to = (event: string, guard: string): string =>
    targetOf(event === 'always' ? state.always : state.on?.[event], guard);
  switch (station.kind) {
    case 'step': {
      const { kind, ...shown } = station;
      return step({ ...shown, next: to('advance', 'advances') });
    }
    case 'hold': {
      const { kind, ...shown } = station;
      const event = station.measure ? 'reading' : 'confirm';
      return hold({ ...shown, pass: to(event, 'evidenceOpens'), fail: to('fail', 'failsHere') });
    }
    case 'reading': {
      const { kind, ...shown } = station;
      return reading({
        ...shown,
        inside: to('reading', 'withinLimits'),
        outside: to('reading', 'outsideLimits'),
      });
    }
    case 'kit': {
      const { kind, items: listed, ...shown } = station;
      const items = Object.fromEntries(listed.map(({ key, ...item }) => [key, item]));
      return kit({ ...shown, items, next: to('callOff', 'kitComplete') });
    }
    case 'fork': {
      const { kind, choices, ...shown } = station;
      const ways = choices.map(({ value, phrase }) => ({ value, phrase, to: chosen(state, value) }));
      return fork({ ...shown, look: state.always === undefined, ways });
    }
    case 'working': {
      const { kind, ...shown } = station;
      return working({ ...shown, next: to('accept', 'resultAgrees'), noAnswer: to('cannot', 'noAnswer') });
    }
    case 'round': {
      const { kind, ...shown } = station;
      return round({ ...shown, next: to('advance', 'roundIsDone') });
    }
    case 'wait': {
      const { kind, ...shown } = station;
      return wait({ ...shown, next: to('advance', 'waitIsOver') });
    }
    case 'lookUp': {
      const { kind, ...shown } = station;
      return lookUp({ ...shown, next: to('always', 'nothingToLookUp') });
    }
  }
}

function targetOf(transitions: readonly TransitionData[] | undefined, guard: string): string {
  return transitions?.find((transition) => transition.guard?.type === guard)?.target ?? NOWHERE;
}

function chosen(state: StateData, value: unknown): string {
  const way = state.on?.choose?.find(
    ({ guard }) => guard?.type === 'choiceIs' && guard.params.value === value,
  );
  return way?.target ?? NOWHERE;
}

/** The stations of a definition: every state but the two ends. */
export function stationNames(definition: Definition): string[] {
  return Object.keys(definition.states).filter((name) => definition.states[name]?.meta !== undefined);
}
