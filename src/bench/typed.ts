import type { StationView } from '../job/view.ts';
import type { Entry } from '../press/number-entry.ts';
import { figureIn } from '../press/typed-figure.ts';
import { TradeError } from '../trade/fault.ts';
import { readUnit } from '../trade/units.ts';

/** What a text that a device typed means at this station. */
export type TypedMeaning =
  | { readonly kind: 'figure'; readonly entry: Entry }
  | { readonly kind: 'tool'; readonly item: string; readonly toolId: string }
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
 * A gauge's figure is taken where a figure is asked for; a scanned label may be a tool that is being called off, or a
 * person's badge. A figure is never committed by the device: it is read back like a typed one.
 */
export function meaningOf(
  text: string,
  view: StationView,
  badges: Readonly<Record<string, string>>,
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
  if (next && tool) return { kind: 'tool', item: next.key, toolId: tool.id };
  return {
    kind: 'nothing',
    sentence: `"${text}" is no badge, and no tool or figure that is asked for here.`,
  };
}
