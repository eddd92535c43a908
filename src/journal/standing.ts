import type { Amount } from '../procedure/amounts.ts';
import { outputAt } from '../procedure/amounts.ts';
import type { Definition } from '../procedure/definition.ts';
import { stationOf } from '../procedure/definition.ts';
import type { FactValue } from '../procedure/facts.ts';
import type { JournalRecord, OpenedEvent } from './record.ts';

/** One stop on the way through a procedure, with what the records say was settled there. */
export interface Stop {
  readonly station: string;
  /** The hold point here was opened by its evidence. */
  readonly opened?: true;
  /** Who gave evidence that still waits for a witness. */
  readonly awaiting?: string;
  readonly facts?: Readonly<Record<string, FactValue>>;
  readonly figures?: Readonly<Record<string, number>>;
  readonly readings?: Readonly<Record<string, number>>;
  readonly results?: Readonly<Record<string, unknown>>;
  /** Kit item -> number of the tool called off for it. */
  readonly called?: Readonly<Record<string, string | null>>;
}

export type Trail = readonly Stop[];

/** Coming to a station again undoes it and everything after it. */
export function arrive(trail: Trail, station: string): Trail {
  const before = trail.findIndex((stop) => stop.station === station);
  return [...(before < 0 ? trail : trail.slice(0, before)), { station }];
}

/** The same trail with something settled at its last stop. */
export function settleHere(trail: Trail, settled: Omit<Partial<Stop>, 'station'>): Trail {
  const last = trail[trail.length - 1];
  return last ? [...trail.slice(0, -1), { ...last, ...settled }] : trail;
}

const merged = <T>(...tables: readonly (Readonly<Record<string, T>> | undefined)[]) =>
  new Map(tables.flatMap((table) => Object.entries(table ?? {})));

export const factsNow = (opened: OpenedEvent, trail: Trail): ReadonlyMap<string, FactValue> =>
  merged(opened.facts, ...trail.map((stop) => stop.facts));

export const toolsCalled = (trail: Trail): ReadonlySet<string | null> =>
  new Set(merged(...trail.map((stop) => stop.called)).values());

/** The number that an amount stands for, or null. */
export function numberNow(amount: Amount | undefined, opened: OpenedEvent, trail: Trail): number | null {
  if (amount === undefined) return null;
  if (typeof amount === 'number') return amount;
  if ('figure' in amount) {
    const card = Object.entries(opened.figures).map(([key, figure]) => [key, figure.value] as const);
    const value = merged(Object.fromEntries(card), ...trail.map((stop) => stop.figures)).get(amount.figure);
    return value === undefined ? null : value + (amount.plus ?? 0);
  }
  if ('reading' in amount) {
    return merged(...trail.map((stop) => stop.readings)).get(amount.reading) ?? null;
  }
  const results = trail.findLast((stop) => stop.station === amount.result)?.results;
  const value = results && outputAt(results, amount.of);
  return typeof value === 'number' ? value : null;
}

/** What an accepted event settled at the station where it was given; evidence at hold points is weighed elsewhere. */
export function settledBy(definition: Definition, trail: Trail, event: JournalRecord['event']): Trail {
  const here = trail[trail.length - 1];
  const station = stationOf(definition, here?.station ?? '');
  if (!here || !station) return trail;
  switch (event.type) {
    case 'fail': {
      // Evidence that waited for its witness counts no more.
      const { awaiting: _, ...rest } = here;
      return [...trail.slice(0, -1), rest];
    }
    case 'callOff': {
      const items = station.kind === 'kit' ? station.items : [];
      const isTool = items.some(({ key, tool }) => key === event.item && tool !== undefined);
      const toolId = isTool ? (event.toolId ?? null) : null;
      return settleHere(trail, { called: { ...here.called, [event.item]: toolId } });
    }
    case 'lookUp':
      return settleHere(trail, { figures: { ...here.figures, [event.figure]: event.value } });
    case 'choose':
      return station.kind === 'fork' ? settleHere(trail, { facts: { [station.fact]: event.value } }) : trail;
    case 'reading': {
      const measure = 'measure' in station ? station.measure : undefined;
      return measure ? settleHere(trail, { readings: { [measure.name]: event.value } }) : trail;
    }
    case 'accept': {
      const gives = station.kind === 'working' ? Object.entries(station.gives ?? {}) : [];
      const given = gives.flatMap(([figure, key]) => {
        const value = outputAt(event.output, key);
        return typeof value === 'number' ? [[figure, value] as const] : [];
      });
      return settleHere(trail, { results: event.output, figures: Object.fromEntries(given) });
    }
    default:
      return trail;
  }
}

/**
 * The trail after an event that ended at `landing`. Stations that pass by themselves (a fork whose fact is known, a
 * look-up that lacks nothing) leave no record of their own, so the way there is worked out from the procedure.
 */
export function follow(
  definition: Definition,
  opened: OpenedEvent,
  trail: Trail,
  starts: readonly string[],
  landing: string,
): Trail {
  for (const start of starts) {
    let way = arrive(trail, start);
    // As many stations as there are and no more: a ring would go round for ever.
    for (let n = Object.keys(definition.states).length; n >= 0; n--) {
      const at = way[way.length - 1]?.station ?? '';
      if (at === landing) return way;
      const facts = factsNow(opened, way);
      const next = definition.states[at]?.always?.find(
        ({ guard }) =>
          guard?.type !== 'factIs' || facts.get(String(guard.params.fact)) === guard.params.value,
      );
      if (next?.target === undefined) break;
      way = arrive(way, next.target);
    }
  }
  // The records jump: the replay says so. Here it counts as having been where the way begins, which undoes most.
  return arrive(starts[0] === undefined ? trail : arrive(trail, starts[0]), landing);
}
