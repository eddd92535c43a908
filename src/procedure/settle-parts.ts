import { type PartLabel, readLabel } from '../trade/part-label.ts';
import type { JobContext, Part } from './context.ts';
import { known } from './context.ts';
import type { Definition } from './definition.ts';
import { stationOf } from './definition.ts';
import type { Refusal } from './refusal.ts';
import { refuse } from './refusal.ts';
import type { KitItem } from './station.ts';

export type KeyedItem = KitItem & { readonly key: string };

/** Only what is fitted or used up has a label of its own: a tool is called off by its number. */
export const hasLabel = (item: KitItem | null): boolean =>
  item?.kind === 'part' || item?.kind === 'consumable';

/** The kit item of this key, from whichever kit station lists it, or null. */
export function itemOf(definition: Definition, key: string): KeyedItem | null {
  for (const name of Object.keys(definition.states)) {
    const station = stationOf(definition, name);
    const item = station?.kind === 'kit' ? station.items.find((one) => one.key === key) : undefined;
    if (item) return item;
  }
  return null;
}

const isSame = (part: Part, label: PartLabel): boolean => {
  const own = readLabel(part.code);
  return typeof own !== 'string' && own.code === label.code;
};

/** The part with this label on the job's list, or null. */
export function partWith(context: JobContext, label: PartLabel): Part | null {
  return context.input.parts?.find((part) => isSame(part, label)) ?? null;
}

/** Do the figures of the job, as far as they are known, agree with those that the part is right for? */
function figuresAgree(part: Part, context: JobContext): boolean {
  const { figures } = known(context);
  return Object.entries(part.figures ?? {}).every(
    ([name, value]) => figures[name] === undefined || figures[name].value === value,
  );
}

/** The parts of the list that are right for a kit item now. */
export function partsRightFor(context: JobContext, key: string): readonly Part[] {
  return (context.input.parts ?? []).filter((part) => part.item === key && figuresAgree(part, context));
}

/** Why this label does not stand for the kit item that is asked for, or null. */
export function labelRefusal(
  definition: Definition,
  context: JobContext,
  item: KeyedItem | null,
  typed: string,
): Refusal | null {
  if (!item || !hasLabel(item)) return refuse('not-here', { what: 'nothing with a label is asked for' });
  const label = readLabel(typed);
  if (typeof label === 'string') return refuse('label-unreadable');
  const part = partWith(context, label);
  if (!part) return refuse('part-unknown', { code: label.code, what: item.calls });
  const right = partsRightFor(context, item.key);
  if (right.includes(part)) return null;
  const wanted = right.map(({ says }) => says).join(' or ');
  const figures = Object.keys(part.figures ?? {}).map((name) => definition.meta.figures[name]?.says ?? name);
  const differs = part.item === item.key && figures.length > 0 ? ` (${figures.join(', ')} differs)` : '';
  return refuse('part-wrong', { scanned: part.says + differs, what: wanted === '' ? item.calls : wanted });
}
