import { labelsNow } from '../procedure/context.ts';
import { stationOf } from '../procedure/definition.ts';
import { itemOf, partWith } from '../procedure/settle-parts.ts';
import { readLabel } from '../trade/part-label.ts';
import type { Walk } from './walk.ts';

/** A part whose label was read on a job and taken. */
export interface PartUse {
  readonly seq: number;
  /** RFC 3339. */
  readonly at: string;
  readonly by: string;
  readonly station: string;
  /** What the procedure asked for, and what the workshop's list says it is. */
  readonly asked: string;
  readonly says: string;
  /** GTIN or plain code, with what else the label said. */
  readonly code: string;
  readonly batch: string | null;
  readonly serial: string | null;
  /** No later label and no going back has taken its place. */
  readonly stands: boolean;
}

/** The labels of parts that were taken, in order. */
export function partsUsed({ definition, steps, end }: Walk): PartUse[] {
  const standing = labelsNow(end.context);
  return steps.flatMap(({ record, before, after }): PartUse[] => {
    const { event, seq, at, by } = record;
    const typed = event.type === 'callOff' || event.type === 'scan' ? event.label : undefined;
    const label = typed === undefined ? 'unreadable' : readLabel(typed);
    if (record.outcome === 'refused' || typed === undefined || typeof label === 'string') return [];
    const station = stationOf(definition, before.station);
    const fits = station?.kind === 'step' ? station.fits : undefined;
    const key = event.type === 'callOff' ? event.item : (fits ?? '');
    const { code, batch, serial } = label;
    const kept = after.context.visits.find((visit) => visit.labels?.[key] === typed)?.labels;
    return [
      {
        seq,
        at,
        by,
        station: before.station,
        asked: itemOf(definition, key)?.calls ?? key,
        says: partWith(before.context, label)?.says ?? '',
        code,
        batch,
        serial,
        stands: kept !== undefined && standing[key] === typed,
      },
    ];
  });
}
