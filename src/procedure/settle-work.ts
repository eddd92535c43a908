import { amountNow, resolveInput } from './amounts.ts';
import { canonicalEqual } from './canonical-equal.ts';
import type { JobContext } from './context.ts';
import { here, known } from './context.ts';
import type { Definition } from './definition.ts';
import type { Stamped } from './events.ts';
import { judgeMeasure } from './measure.ts';
import { refuse } from './refusal.ts';
import type { Settlement } from './settle.ts';
import { itemOf, labelRefusal } from './settle-parts.ts';
import type { Measure, RoundStation, StepStation, WorkingStation } from './station.ts';
import { runFor } from './working-run.ts';

const notHere = (what: string): Settlement => ({ refused: refuse('not-here', { what }) });

export function settleStep(
  definition: Definition,
  context: JobContext,
  station: StepStation,
  event: Stamped,
): Settlement {
  if (event.type === 'scan' && station.fits !== undefined) {
    const refused = labelRefusal(definition, context, itemOf(definition, station.fits), event.label);
    return refused ? { refused } : { way: 'partScanned' };
  }
  return event.type === 'advance'
    ? { way: 'advances' }
    : notHere('do the step, then say next step or press once');
}

export function settleReading(
  definition: Definition,
  context: JobContext,
  measure: Measure,
  event: Stamped,
): Settlement {
  if (event.type !== 'reading') return notHere('give the reading and confirm it');
  const judged = judgeMeasure(definition, context, measure, event);
  if (judged.refused) return judged;
  return { way: judged.within ? 'withinLimits' : 'outsideLimits' };
}

/** Fasteners of the ring and how many are done over all passes. */
export function roundProgress(context: JobContext, station: RoundStation) {
  const fasteners = amountNow(station.fasteners, known(context));
  const total = fasteners === null ? null : fasteners * station.passes.length;
  return { fasteners, total, done: here(context)?.done ?? 0 };
}

export function settleRound(context: JobContext, station: RoundStation, event: Stamped): Settlement {
  if (event.type !== 'advance') return notHere('press once for each fastener done');
  const { total, done } = roundProgress(context, station);
  if (total === null) return { refused: refuse('round-fasteners-unknown') };
  return { way: done + 1 >= total ? 'roundIsDone' : 'roundGoesOn' };
}

/** A result is accepted only as it was shown: inputs and output must still be what the working gives. */
export function settleWorking(context: JobContext, station: WorkingStation, event: Stamped): Settlement {
  const inputs = resolveInput(station.inputs, known(context));
  const { output, fault } = runFor(station, inputs);
  if (event.type === 'accept') {
    if (!output) return { refused: refuse('working-has-no-answer', { why: fault?.sentence ?? '' }) };
    const same = canonicalEqual(event.inputs, inputs) && canonicalEqual(event.output, output);
    return same ? { way: 'resultAgrees' } : { refused: refuse('working-differs') };
  }
  if (event.type === 'cannot') {
    return output || event.code !== fault?.code
      ? { refused: refuse('working-has-answer') }
      : { way: 'noAnswer' };
  }
  return notHere('look at the result and confirm it');
}
