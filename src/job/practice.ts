import type { FigureValue } from '../procedure/amounts.ts';
import type { Person, Tool } from '../procedure/context.ts';
import { here } from '../procedure/context.ts';
import type { Definition } from '../procedure/definition.ts';
import { stationOf } from '../procedure/definition.ts';
import type { JobEvent } from '../procedure/events.ts';
import type { Facts } from '../procedure/facts.ts';
import type { Snapshot } from '../procedure/machine.ts';
import { limitsNow } from '../procedure/measure.ts';
import { missingFigures, missingItems } from '../procedure/settle-aids.ts';
import type { Measure } from '../procedure/station.ts';
import type { JobOrder } from './open-job.ts';
import { rightEvent } from './rehearsal.ts';
import type { MachineCard } from './workshop.ts';

/** What is chosen before a practice. */
export interface PracticeChoice {
  /** The machine whose figures are used; null: each figure is asked for. */
  readonly card: Pick<MachineCard, 'figures'> | null;
  /** Facts that are settled; the others are asked for on the way. */
  readonly facts: Facts;
  /** Who works: an apprentice needs a witness at more hold points. */
  readonly as: 'mechanic' | 'apprentice';
}

export const PRACTISES = 'practises';

const people = (as: PracticeChoice['as']): Person[] => [
  { id: PRACTISES, name: 'You', role: as },
  { id: 'second', name: 'A second person', role: 'supervisor' },
];

/** A tool of each kind that may be used, and of each calibrated kind one whose calibration has lapsed. */
function tools({ meta }: Definition): Tool[] {
  return Object.entries(meta.tools).flatMap(([kind, { says, calibrated }]): Tool[] => {
    const good: Tool = {
      id: `${kind}-1`,
      kind,
      says: `${says} 1 (practice)`,
      ...(calibrated ? { calibratedUntil: '9999-12-31' } : {}),
    };
    const lapsed: Tool = {
      id: `${kind}-2`,
      kind,
      says: `${says} 2 (practice)`,
      calibratedUntil: '2000-01-01',
    };
    return calibrated ? [good, lapsed] : [good];
  });
}

/** The job that a practice plays: invented people and tools, so that no name of the workshop stands on it. */
export function practiceOrder(definition: Definition, { card, facts, as }: PracticeChoice): JobOrder {
  const figures = Object.fromEntries(
    Object.entries(card?.figures ?? {}).filter(([name]) => Object.hasOwn(definition.meta.figures, name)),
  ) as Record<string, Pick<FigureValue, 'value' | 'unit'>>;
  return {
    definition,
    card: { id: 'practice', says: 'Practice', plate: '', facts, figures },
    workshop: { name: 'Practice', machines: [], people: people(as), tools: tools(definition) },
  };
}

/** A value outside the limits: above the upper one, else below the lower one. Null where there are none. */
function badValue(measure: Measure, { context }: Snapshot): number | null {
  const { min, max } = limitsNow(measure, context);
  if (max !== null) return max + Math.max(1, Math.abs(max) * 0.1);
  return min === null ? null : min - Math.max(1, Math.abs(min) * 0.1);
}

/**
 * What a person does who gets it wrong at this station, so that it can be seen what comes of it: a figure outside its
 * limits, a hold point that fails, the other choice, a lapsed tool. Where nothing can be got wrong it is the fail word,
 * which does nothing there. `by`: who does it.
 * @throws Error when the job is closed
 */
export function wrongEvent(definition: Definition, snapshot: Snapshot): JobEvent {
  const station = stationOf(definition, snapshot.station);
  if (!station) throw new Error(`There is nothing to do at ${snapshot.station}.`);
  const { context } = snapshot;
  const wrongFigure = (measure: Measure): JobEvent => {
    const right = rightEvent(definition, snapshot);
    const value = badValue(measure, snapshot);
    return right.type === 'reading' && value !== null ? { ...right, value } : { type: 'fail' };
  };
  switch (station.kind) {
    case 'hold':
      return here(context)?.awaiting || !station.measure ? { type: 'fail' } : wrongFigure(station.measure);
    case 'reading':
      return wrongFigure(station.measure);
    case 'fork': {
      const right = rightEvent(definition, snapshot);
      const value = right.type === 'choose' ? right.value : undefined;
      const other = station.choices.find((choice) => choice.value !== value);
      return other ? { type: 'choose', value: other.value } : { type: 'fail' };
    }
    case 'kit': {
      const [missing] = missingItems(station, context);
      const tool = missing?.[1].tool;
      const lapsed = context.input.tools.findLast(({ kind }) => kind === tool);
      return missing && tool !== undefined && lapsed
        ? { type: 'callOff', item: missing[0], toolId: lapsed.id }
        : { type: 'callOff', item: 'something else' };
    }
    case 'lookUp': {
      const figure = missingFigures(station, context)[0] ?? '';
      const declared = definition.meta.figures[figure];
      // A slipped decimal point.
      const value = (declared?.plausible[1] ?? 0) * 10 + 1;
      return { type: 'lookUp', figure, value, unit: declared?.unit ?? '' };
    }
    case 'wait':
      return { type: 'advance' };
    default:
      return { type: 'fail' };
  }
}
