import type { StationView } from '../job/view.ts';
import type { Entry } from '../press/number-entry.ts';
import { figureIn } from '../press/typed-figure.ts';
import type { JobContext } from '../procedure/context.ts';
import type { JobEvent } from '../procedure/events.ts';
import { partsRightFor, partWith } from '../procedure/settle-parts.ts';
import { TradeError } from '../trade/fault.ts';
import { readLabel } from '../trade/part-label.ts';
import { readUnit } from '../trade/units.ts';

/** What a text that a device typed means at this station. */
export type TypedMeaning =
  | { readonly kind: 'figure'; readonly entry: Entry }
  | { readonly kind: 'event'; readonly event: JobEvent }
  | { readonly kind: 'badge'; readonly person: string }
  | { readonly kind: 'nothing'; readonly sentence: string };

function unitDiffers(named: string, wanted: string): string | null {
  try {
    const unit = readUnit(named);
    return unit === wanted
      ? null
      : `The gauge is set to ${unit}: set it to ${wanted} and take the reading again.`;
  } catch (error) {
    if (error instanceof TradeError)
      return `The gauge sends "${named}", which is no unit known here: set it to ${wanted}.`;
    throw error;
  }
}

/**
 * A label at a kit station calls off the part that it is right for, whichever is asked for next; a label that is right for
 * none is held against the part asked for, so that the job refuses it and says why. Null: no part is asked for here.
 */
function partScanned(label: string, view: StationView, context: JobContext): JobEvent | null {
  if (view.fit) return { type: 'scan', label };
  const open = (view.kit?.items ?? []).filter(
    ({ key, called }) => !called && context.input.parts?.some(({ item }) => item === key),
  );
  const read = readLabel(label);
  const part = typeof read === 'string' ? null : partWith(context, read);
  const mine = part && open.find(({ key }) => partsRightFor(context, key).includes(part));
  const asked = mine ?? open.find(({ key }) => key === view.kit?.next?.key) ?? (part ? open[0] : undefined);
  return asked ? { type: 'callOff', item: asked.key, label } : null;
}

/**
 * A gauge's figure is taken where a figure is asked for; a scanned label may be a tool that is being called off, a part, or
 * a person's badge. A figure is never committed by the device: it is read back like a typed one.
 */
export function meaningOf(
  text: string,
  view: StationView,
  badges: Readonly<Record<string, string>>,
  context: JobContext,
): TypedMeaning {
  const person = badges[text];
  if (person !== undefined) return { kind: 'badge', person };
  const figure = figureIn(text);
  if (figure && view.asked) {
    const differs = figure.unit === null ? null : unitDiffers(figure.unit, view.asked.unit);
    return differs === null
      ? { kind: 'figure', entry: figure.entry }
      : { kind: 'nothing', sentence: differs };
  }
  const next = view.kit?.next;
  const tool = next?.tools.find(({ id }) => id === text);
  if (next && tool) return { kind: 'event', event: { type: 'callOff', item: next.key, toolId: tool.id } };
  const part = partScanned(text, view, context);
  if (part) return { kind: 'event', event: part };
  return {
    kind: 'nothing',
    sentence: `"${text}" is no badge, and no tool, part or figure that is asked for here.`,
  };
}
