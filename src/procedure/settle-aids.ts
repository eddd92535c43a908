import { amountNow } from './amounts.ts';
import type { JobContext } from './context.ts';
import { calledOff, here, known } from './context.ts';
import type { Definition } from './definition.ts';
import type { Stamped } from './events.ts';
import { satisfies } from './facts.ts';
import { toolRefusal } from './measure.ts';
import { refuse } from './refusal.ts';
import type { Settlement } from './settle.ts';
import { labelRefusal } from './settle-parts.ts';
import type { ForkStation, KitItem, KitStation, LookUpStation, WaitStation } from './station.ts';

const notHere = (what: string): Settlement => ({ refused: refuse('not-here', { what }) });

/** The kit items that this job needs, in the order of the list. */
export function neededItems(station: KitStation, context: JobContext): [string, KitItem][] {
  const { facts } = known(context);
  return station.items.filter((item) => satisfies(item.when, facts)).map((item) => [item.key, item]);
}

/** The kit items that are still to be called off. */
export function missingItems(station: KitStation, context: JobContext): [string, KitItem][] {
  const called = calledOff(context);
  return neededItems(station, context).filter(([key]) => !Object.hasOwn(called, key));
}

export function settleKit(
  definition: Definition,
  context: JobContext,
  station: KitStation,
  event: Stamped,
): Settlement {
  const missing = missingItems(station, context);
  if (event.type !== 'callOff') {
    if (event.type !== 'advance') return notHere('call off the items one by one');
    const next = missing[0]?.[1].calls;
    return next === undefined
      ? { way: 'kitComplete' }
      : { refused: refuse('kit-not-complete', { what: next }) };
  }
  const needed = neededItems(station, context).find(([key]) => key === event.item);
  if (!needed) return { refused: refuse('kit-item-unknown') };
  const [key, item] = needed;
  if (Object.hasOwn(calledOff(context), key))
    return { refused: refuse('kit-item-called', { what: item.calls }) };
  if (item.tool !== undefined) {
    const refused = toolRefusal(definition, context, item.tool, event.toolId, event.at);
    if (refused) return { refused };
  }
  if (event.label !== undefined) {
    const refused = labelRefusal(definition, context, { key, ...item }, event.label);
    if (refused) return { refused };
  }
  return { way: missing.length === 1 ? 'kitComplete' : 'toolCalled' };
}

export function settleFork(station: ForkStation, event: Stamped): Settlement {
  // Spoken without a pause: a phrase alone between two pauses is what opens its way when a microphone hears it.
  const choices = station.choices.map((choice) => choice.phrase).join(' and ');
  if (event.type !== 'choose') return { refused: refuse('choice-unknown', { choices }) };
  const offered = station.choices.some((choice) => choice.value === event.value);
  return offered ? { way: 'choiceMade' } : { refused: refuse('choice-unknown', { choices }) };
}

/** When the wait that began on arrival is over (ms since 1970), or null while its length is not known. */
export function waitEndsAt(station: WaitStation, context: JobContext): number | null {
  const minutes = amountNow(station.minutes, known(context));
  const arrivedAt = here(context)?.arrivedAt;
  return minutes === null || arrivedAt === undefined ? null : arrivedAt + minutes * 60_000;
}

export function settleWait(context: JobContext, station: WaitStation, event: Stamped): Settlement {
  if (event.type !== 'advance') return notHere('wait until the time is up');
  const endsAt = waitEndsAt(station, context);
  if (endsAt === null) return { refused: refuse('figure-missing', { what: 'The length of the wait' }) };
  if (event.at >= endsAt) return { way: 'waitIsOver' };
  const seconds = Math.ceil((endsAt - event.at) / 1000);
  const left = seconds >= 60 ? `${Math.ceil(seconds / 60)} min` : `${seconds} s`;
  return { refused: refuse('wait-not-over', { left }) };
}

/** The figures that this job needs and does not have yet, in the order in which they are asked for. */
export function missingFigures(station: LookUpStation, context: JobContext): string[] {
  const { facts, figures } = known(context);
  return station.needs
    .filter((need) => satisfies(need.when, facts) && figures[need.figure] === undefined)
    .map((need) => need.figure);
}

export function settleLookUp(
  definition: Definition,
  context: JobContext,
  station: LookUpStation,
  event: Stamped,
): Settlement {
  if (event.type !== 'lookUp') return notHere("read the figure from the maker's service manual and give it");
  const declared = definition.meta.figures[event.figure];
  const missing = missingFigures(station, context);
  if (!declared || !missing.includes(event.figure)) {
    return { refused: refuse('figure-known', { what: declared?.says ?? event.figure }) };
  }
  if (!Number.isFinite(event.value)) return { refused: refuse('figure-not-finite') };
  if (event.unit !== declared.unit) return { refused: refuse('figure-wrong-unit', { unit: declared.unit }) };
  const [min, max] = declared.plausible;
  if (event.value < min || event.value > max) {
    return { refused: refuse('figure-implausible', { what: declared.says, min, max, unit: declared.unit }) };
  }
  return { way: missing.length === 1 ? 'figuresKnown' : 'figureGiven' };
}
