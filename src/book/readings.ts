import { stationOf } from '../procedure/definition.ts';
import type { Stamped } from '../procedure/events.ts';
import { judgeMeasure, limitsInWords, limitsNow } from '../procedure/measure.ts';
import type { Walk } from './walk.ts';

/** A figure that was measured, with the limits that held when it was. */
export interface Reading {
  readonly seq: number;
  /** RFC 3339. */
  readonly at: string;
  readonly by: string;
  readonly station: string;
  /** Name in the procedure, and what people call it. */
  readonly name: string;
  readonly label: string;
  readonly value: number;
  readonly unit: string;
  readonly min: number | null;
  readonly max: number | null;
  readonly limits: string;
  readonly within: boolean;
  readonly tool: string | null;
  /** It is the figure that counts at the end: no later one, and no going back, has taken its place. */
  readonly stands: boolean;
}

/** Every figure that was measured and taken, in order, those outside their limits included. */
export function readingsOf({ definition, steps, end }: Walk): Reading[] {
  const standing = new Map(
    end.context.visits.flatMap(({ reading }) => (reading ? [[reading.name, reading.taken.at] as const] : [])),
  );
  return steps.flatMap(({ record, before, at }): Reading[] => {
    const { event, by } = record;
    const station = stationOf(definition, before.station);
    const measure = station && 'measure' in station ? station.measure : undefined;
    if (record.outcome === 'refused' || event.type !== 'reading' || !measure) return [];
    const stamped: Stamped<typeof event> = { ...event, at, by, via: record.via };
    const judged = judgeMeasure(definition, before.context, measure, stamped);
    const limits = limitsNow(measure, before.context);
    const { min, max } = limits;
    return [
      {
        seq: record.seq,
        at: record.at,
        by,
        station: before.station,
        name: measure.name,
        label: measure.label,
        value: event.value,
        unit: event.unit,
        min,
        max,
        limits: limitsInWords(measure, limits),
        within: judged.refused === undefined && judged.within,
        tool: event.toolId ?? null,
        stands: standing.get(measure.name) === at,
      },
    ];
  });
}
