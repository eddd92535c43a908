import { TradeError } from '../trade/fault.ts';
import { readUnit } from '../trade/units.ts';

/**
 * How a gauge or torque tool writes one reading on its line, as a small pattern: `{figure}` is the figure, `{unit}` its
 * unit, `#` a number that means nothing to us, a space any number of spaces, everything else stands for itself.
 * `ST,GS,{figure},{unit}` reads `ST,GS,+00012.35,mm`.
 */
export type LinePattern = string;

/** One way of reading a line that came during set-up. */
export interface Reading {
  readonly figure: string;
  readonly unit: string | null;
  readonly pattern: LinePattern;
}

const NUMBER = '[+-]? *\\d{1,8}(?:[.,]\\d{1,7})?';
const UNIT = '[A-Za-zµμ°%"][A-Za-zµμ°%"·⋅/.-]{0,6}|[%"°]';
/** Longer lines are no readings. */
export const LONGEST_LINE = 120;

const isUnit = (text: string): boolean => {
  try {
    readUnit(text);
    return true;
  } catch (error) {
    if (error instanceof TradeError) return false;
    throw error;
  }
};

const literal = (text: string): string => text.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** What a person would read off as text: `12.35 mm`; null for a line that the pattern does not fit. */
export function readLine(pattern: LinePattern, line: string): string | null {
  const parts = pattern.trim().split(/(\{figure\}|\{unit\}|#| +)/);
  const made = parts.map((part) => {
    if (part === '{figure}') return `(?<figure>${NUMBER})`;
    if (part === '{unit}') return `(?<unit>${UNIT})`;
    if (part === '#') return `(?:${NUMBER})`;
    return /^ +$/.test(part) ? ' *' : literal(part);
  });
  const found = new RegExp(`^${made.join('')}$`).exec(line.trim());
  const figure = found?.groups?.figure?.replaceAll(' ', '');
  if (figure === undefined) return null;
  const unit = found?.groups?.unit;
  return unit === undefined ? figure : `${figure} ${unit}`;
}

/** Has this pattern exactly one figure and at most one unit? */
export function usablePattern(pattern: string): boolean {
  const count = (token: string) => pattern.split(token).length - 1;
  return count('{figure}') === 1 && count('{unit}') <= 1 && pattern.length <= LONGEST_LINE;
}

/** The ways in which a line can be read, the likeliest first: a unit beside the figure, then decimals. */
export function readingsIn(line: string): Reading[] {
  const text = line.trim().slice(0, LONGEST_LINE);
  const numbers = [...text.matchAll(new RegExp(NUMBER, 'g'))];
  const made = numbers.map((one): Reading => {
    const from = one.index;
    const to = from + one[0].length;
    const plain = (part: string) => part.replaceAll(new RegExp(NUMBER, 'g'), '#');
    const after = new RegExp(`^([ ,;:\\t]*)(${UNIT})(?![A-Za-z0-9])`).exec(text.slice(to));
    const unit = after?.[2] !== undefined && isUnit(after[2]) ? after[2] : null;
    const rest = unit === null ? to : to + (after?.[0].length ?? 0);
    const between = unit === null ? '' : `${after?.[1] ?? ''}{unit}`;
    return {
      figure: one[0].replaceAll(' ', ''),
      unit,
      pattern: `${plain(text.slice(0, from))}{figure}${between}${plain(text.slice(rest))}`,
    };
  });
  const weight = ({ figure, unit }: Reading) => (unit === null ? 0 : 2) + (/[.,]/.test(figure) ? 1 : 0);
  return made.filter(({ pattern }) => usablePattern(pattern)).sort((a, b) => weight(b) - weight(a));
}
