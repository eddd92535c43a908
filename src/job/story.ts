import { toMoment } from '../journal/moment.ts';
import { type Pass, passes, personOf } from '../procedure/context.ts';
import { stationOf } from '../procedure/definition.ts';
import { digitsOf } from './figures.ts';
import type { JobState } from './runner.ts';

/** A hold point that was passed, in words for people. */
export interface HoldEvidence {
  readonly station: string;
  readonly says: string;
  /** What opened it: "pedal held 1.4 s", "92 N·m with TW-2". */
  readonly opened: string;
  readonly by: string;
  readonly witness: string | null;
  /** Time of day, UTC. */
  readonly at: string;
}

/** What opened a hold point. A concession is never to be taken for evidence: it says so in capitals. */
export function evidenceInWords(evidence: Pass['evidence']): string {
  switch (evidence.kind) {
    case 'press':
      return `pedal held ${(evidence.heldMs / 1000).toFixed(1)} s`;
    case 'phrase':
      return `“${evidence.phrase}”`;
    case 'concession':
      return `CONCEDED: ${evidence.says}`;
    case 'reading': {
      const { value, unit, tool } = evidence.reading;
      return `${digitsOf(value, unit)} ${unit}${tool ? ` with ${tool}` : ''}`;
    }
  }
}

/** The hold points of a job that stand as passed, in the order in which they were passed. */
export function holdEvidence({ machine, snapshot }: JobState): HoldEvidence[] {
  const { context } = snapshot;
  const name = (id: string) => personOf(context, id)?.name ?? id;
  return Object.entries(passes(context)).map(([station, pass]) => {
    const { evidence } = pass;
    return {
      station,
      says: stationOf(machine.definition, station)?.say ?? station,
      opened: evidenceInWords(evidence),
      by: name(pass.by),
      witness: pass.witness ? name(pass.witness.by) : null,
      at: toMoment(pass.at).slice(11, 19),
    };
  });
}

/** First 12 hex digits of a hash in groups of four: short enough to be read out, long enough to be told apart. */
export function shortCode(hash: string): string {
  return (hash.slice(0, 12).match(/.{4}/g) ?? []).join(' ');
}
