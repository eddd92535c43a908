import type { JobContext, Pass } from './context.ts';
import { here, personOf } from './context.ts';
import type { Definition } from './definition.ts';
import type { Evidence, Stamped } from './events.ts';
import { judgeMeasure } from './measure.ts';
import type { Refusal } from './refusal.ts';
import { refuse } from './refusal.ts';
import { may } from './roles.ts';
import type { Settlement } from './settle.ts';
import type { HoldStation } from './station.ts';

/** How long the pedal must be kept down to open a hold point, in milliseconds: long enough never to be a stumble. */
export const HOLD_PRESS_MS = 1200;

const sentencePhrase = (text: string) => text.trim().toLowerCase();

/** Why this evidence does not open this hold, or null when it does. */
function weighEvidence(station: HoldStation, evidence: Evidence): Refusal | null {
  if (evidence.kind === 'press') {
    if (evidence.heldMs >= HOLD_PRESS_MS) return null;
    return refuse('press-too-short', { seconds: (HOLD_PRESS_MS / 1000).toString() });
  }
  if (sentencePhrase(evidence.phrase) === sentencePhrase(station.phrase)) return null;
  return refuse('wrong-phrase', { phrase: station.phrase });
}

/** Does this hold need a second person when `by` does the work? */
export function needsWitness(station: HoldStation, context: JobContext, by: string): boolean {
  if (station.witness === 'always') return true;
  return station.witness === 'apprentice' && personOf(context, by)?.role === 'apprentice';
}

/** A hold point opens for its own evidence only: anything else is refused with the reason. */
export function settleHold(
  definition: Definition,
  context: JobContext,
  name: string,
  station: HoldStation,
  event: Stamped,
): Settlement {
  const awaiting = here(context)?.station === name ? here(context)?.awaiting : undefined;
  switch (event.type) {
    case 'fail':
      return { way: 'failsHere' };
    case 'confirm': {
      if (awaiting) return { refused: refuse('witness-needed') };
      if (station.measure) return { refused: refuse('hold-needs-figure', { what: station.measure.label }) };
      const refused = weighEvidence(station, event.evidence);
      return refused ? { refused } : opened(station, context, event.by);
    }
    case 'reading': {
      if (awaiting) return { refused: refuse('witness-needed') };
      if (!station.measure) return { refused: refuse('hold-needs-evidence', { phrase: station.phrase }) };
      const judged = judgeMeasure(definition, context, station.measure, event);
      if (judged.refused) return judged;
      return judged.within ? opened(station, context, event.by) : { way: 'outsideLimits' };
    }
    case 'witness':
      return settleWitness(context, station, awaiting, event);
    default:
      if (awaiting) return { refused: refuse('witness-needed') };
      return station.measure
        ? { refused: refuse('hold-needs-figure', { what: station.measure.label }) }
        : { refused: refuse('hold-needs-evidence', { phrase: station.phrase }) };
  }
}

const opened = (station: HoldStation, context: JobContext, by: string): Settlement => ({
  way: needsWitness(station, context, by) ? 'evidenceAwaitsWitness' : 'evidenceOpens',
});

function settleWitness(
  context: JobContext,
  station: HoldStation,
  awaiting: Pass | undefined,
  event: Stamped<Extract<Stamped, { type: 'witness' }>>,
): Settlement {
  if (!awaiting) return { refused: refuse('no-evidence-to-witness') };
  if (awaiting.by === event.by) return { refused: refuse('witness-same-person') };
  const person = personOf(context, event.by);
  if (!person || !may(person.role, 'witness')) return { refused: refuse('witness-not-authorised') };
  const refused = weighEvidence(station, event.evidence);
  return refused ? { refused } : { way: 'witnessOpens' };
}
