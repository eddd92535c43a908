import { formatFigure, type Unit } from '../trade/units.ts';
import { amountNow } from './amounts.ts';
import type { JobContext, Tool } from './context.ts';
import { calledOff, known, toolOf } from './context.ts';
import { dayOf } from './day.ts';
import type { Definition } from './definition.ts';
import type { Stamped } from './events.ts';
import type { Refusal } from './refusal.ts';
import { refuse } from './refusal.ts';
import type { Measure } from './station.ts';

export interface Limits {
  readonly target: number | null;
  readonly min: number | null;
  readonly max: number | null;
}

/** Target and limits of a measure as they stand now, in the measure's own unit; null where there is none. */
export function limitsNow(measure: Measure, context: JobContext): Limits {
  const now = known(context);
  const value = (amount: Measure['target']) => (amount === undefined ? null : amountNow(amount, now));
  const target = value(measure.target);
  if (target !== null && measure.tolerancePercent !== undefined) {
    const margin = (Math.abs(target) * measure.tolerancePercent) / 100;
    return { target, min: target - margin, max: target + margin };
  }
  return { target, min: value(measure.min), max: value(measure.max) };
}

/** Limits that the measure declares but that are not known yet, as a refusal. */
function missingLimit(measure: Measure, limits: Limits): Refusal | null {
  const wanted = [
    [measure.target, limits.target],
    [measure.min, limits.min],
    [measure.max, limits.max],
  ] as const;
  const missing = wanted.some(([declared, now]) => declared !== undefined && now === null);
  return missing ? refuse('figure-missing', { what: measure.label }) : null;
}

/** The tools of this kind that were called off for the job. */
export function toolsAtHand(context: JobContext, kind: string): Tool[] {
  const ids = new Set(Object.values(calledOff(context)));
  return context.input.tools.filter((tool) => tool.kind === kind && ids.has(tool.id));
}

/** Why a tool may not be used at this moment, or null. A calibration is good through its last day (UTC). */
export function toolRefusal(
  definition: Definition,
  context: JobContext,
  kind: string,
  toolId: string | undefined,
  at: number,
): Refusal | null {
  const says = definition.meta.tools[kind]?.says ?? kind;
  if (toolId === undefined) return refuse('tool-needed', { what: says });
  const tool = toolOf(context, toolId);
  if (!tool || tool.kind !== kind) return refuse('tool-unknown', { what: says });
  const atHand = toolsAtHand(context, kind);
  if (atHand.length > 0 && !atHand.includes(tool)) return refuse('tool-not-called-off', { tool: tool.says });
  if (!definition.meta.tools[kind]?.calibrated) return null;
  if (tool.calibratedUntil === undefined || tool.calibratedUntil < dayOf(at)) {
    return refuse('tool-out-of-calibration', {
      tool: tool.says,
      date: tool.calibratedUntil ?? 'an unknown day',
    });
  }
  return null;
}

export type MeasureJudgement = { within: boolean; refused?: never } | { refused: Refusal };

/** Is a reading usable, and does it lie within the limits (limits included)? */
export function judgeMeasure(
  definition: Definition,
  context: JobContext,
  measure: Measure,
  event: Stamped<Extract<Stamped, { type: 'reading' }>>,
): MeasureJudgement {
  if (!Number.isFinite(event.value)) return { refused: refuse('figure-not-finite') };
  if (event.unit !== measure.unit) return { refused: refuse('figure-wrong-unit', { unit: measure.unit }) };
  if (measure.tool !== undefined) {
    const refused = toolRefusal(definition, context, measure.tool, event.toolId, event.at);
    if (refused) return { refused };
  }
  const limits = limitsNow(measure, context);
  const missing = missingLimit(measure, limits);
  if (missing) return { refused: missing };
  const { min, max } = limits;
  // Decimal figures and percentages are binary fractions: forgive the last bit, nothing a person could read off.
  const slack = 1e-9 * Math.max(1, Math.abs(min ?? 0), Math.abs(max ?? 0));
  return {
    within: (min === null || event.value >= min - slack) && (max === null || event.value <= max + slack),
  };
}

/** Limits in words: "30 to 40 mm", "90 N·m", "at least 3 mm". */
export function limitsInWords(measure: Measure, limits: Limits): string {
  const show = (value: number) => formatFigure(value, measure.unit as Unit);
  const { min, max, target } = limits;
  if (min !== null && max !== null) return `${show(min)} to ${show(max)} ${measure.unit}`;
  if (min !== null) return `at least ${show(min)} ${measure.unit}`;
  if (max !== null) return `at most ${show(max)} ${measure.unit}`;
  return target === null ? 'no limits' : `${show(target)} ${measure.unit}`;
}
