import type { Gesture } from './gesture.ts';

/** A figure while it is typed: digits with at most one decimal sign, written as a point. A gauge may bring a minus. */
export interface Entry {
  readonly text: string;
}

export const emptyEntry: Entry = { text: '' };

/** More digits than any gauge at the bench shows: what is longer is a stuck key. */
const MOST_DIGITS = 8;

const WORDS = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

const SIGNS: Readonly<Record<string, string>> = { '.': 'decimal', '-': 'minus' };

type Stroke = Extract<Gesture, { kind: 'digit' | 'decimal' | 'erase' }>;

/** The entry after one more key. A key that would make no figure changes nothing; nothing here ever commits one. */
export function typeInto(entry: Entry, stroke: Stroke): Entry {
  const { text } = entry;
  switch (stroke.kind) {
    case 'erase':
      return text === '' ? entry : { text: text.slice(0, -1) };
    case 'decimal':
      return text.includes('.') ? entry : { text: `${text === '' ? '0' : text}.` };
    case 'digit': {
      if (!/^[0-9]$/.test(stroke.digit) || text.replace('.', '').length >= MOST_DIGITS) return entry;
      return { text: text === '0' ? stroke.digit : text + stroke.digit };
    }
  }
}

/** The figure typed, in whatever unit was asked for; null while there is none. */
export const entryValue = ({ text }: Entry): number | null => (text === '' ? null : Number(text));

/**
 * The figure digit by digit, "nine zero decimal five": "ninety" and "nineteen" sound alike beside a compressor, their
 * digits do not. Empty while nothing is typed.
 */
export function readBack({ text }: Entry): string {
  const figure = text.endsWith('.') ? text.slice(0, -1) : text;
  return [...figure].map((sign) => SIGNS[sign] ?? WORDS[Number(sign)] ?? '').join(' ');
}
