import type { Entry } from './number-entry.ts';

/** A figure that a gauge or torque tool typed: the entry it makes and the unit it named, if it named one. */
export interface TypedFigure {
  readonly entry: Entry;
  readonly unit: string | null;
}

// Sign, digits, decimals, unit. A unit starts with no digit, so that a label such as "12A4" is none.
const FIGURE = /^([+-]?)(\d{1,8})(?:[.,](\d{1,7}))?\s?([a-zµμ°%"·⋅/.]{0,6})$/i;
// Without sign, decimals or unit only this many digits are a figure: bar codes are longer.
const BARE_DIGITS = 5;

/** The figure in a text, or null where it is a label. A decimal comma is read as a point, a plus sign dropped. */
export function figureIn(text: string): TypedFigure | null {
  const found = FIGURE.exec(text.trim());
  if (!found) return null;
  const [, sign = '', whole = '', decimals, unit = ''] = found;
  const bare = sign === '' && decimals === undefined && unit === '';
  if (bare && whole.length > BARE_DIGITS) return null;
  const digits = whole.replace(/^0+(?=\d)/, '') + (decimals === undefined ? '' : `.${decimals}`);
  return { entry: { text: (sign === '-' ? '-' : '') + digits }, unit: unit === '' ? null : unit };
}

/** What kind of device typed this. Labels of the workshop start with a letter, so that they never look like figures. */
export const sourceOf = (text: string): 'scanner' | 'gauge' => (figureIn(text) ? 'gauge' : 'scanner');
