import type { JobState } from '../job/runner.ts';
import { digitByDigit } from '../job/spoken.ts';
import type { StationView } from '../job/view.ts';
import { stationOf } from '../procedure/definition.ts';

/** The reason for the station and for each of its cautions; at a working the result. */
export function whySpoken({ why, cautions, result }: StationView): string[] {
  const reasons = [why, ...cautions.map((caution) => caution.why)].filter(
    (reason) => typeof reason === 'string',
  );
  if (reasons.length > 0) return reasons;
  return result?.answers.map((answer) => `${answer.label} ${digitByDigit(answer.digits)}`) ?? [];
}

/** Who does the work now: the one it was handed to, else the one who opened the job. */
export function workerOf({ records, snapshot }: JobState): string {
  return snapshot.context.worker ?? records[0]?.by ?? '';
}

/** The stations that work can go back to, the latest first; those that pass by themselves are left out. */
export function visitedStations({ machine, snapshot }: JobState): { station: string; say: string }[] {
  const lately = [...snapshot.context.visits].reverse().flatMap(({ station }) => {
    const meta = stationOf(machine.definition, station);
    return !meta || meta.kind === 'fork' || meta.kind === 'lookUp' ? [] : [{ station, say: meta.say }];
  });
  return lately.slice(0, 9);
}
