/**
 * Spoken figures. Digits one by one, tens and teens, one decimal sign; the ICAO forms tree, fower, fife, niner and
 * "decimal" (ICAO Annex 10, volume II, 5.2.1.4.3, as tabled at icao4u.com). Nothing is guessed: what could be two figures is refused.
 */
export interface Figure {
  readonly value: number;
  /** As written: 12.5 */
  readonly digits: string;
  /** As read back, digit by digit: one two decimal five */
  readonly readBack: string;
}

export interface FigureFault {
  readonly code:
    | 'figure-empty'
    | 'figure-unknown-word'
    | 'figure-two-points'
    | 'figure-ends-with-point'
    | 'figure-could-be-two';
  readonly says: string;
}

const DIGITS: Readonly<Record<string, string>> = {
  zero: '0',
  one: '1',
  two: '2',
  three: '3',
  four: '4',
  five: '5',
  six: '6',
  seven: '7',
  eight: '8',
  nine: '9',
  tree: '3',
  fower: '4',
  fife: '5',
  niner: '9',
};
const TEENS: Readonly<Record<string, string>> = {
  ten: '10',
  eleven: '11',
  twelve: '12',
  thirteen: '13',
  fourteen: '14',
  fifteen: '15',
  sixteen: '16',
  seventeen: '17',
  eighteen: '18',
  nineteen: '19',
};
const TENS: Readonly<Record<string, string>> = {
  twenty: '2',
  thirty: '3',
  forty: '4',
  fifty: '5',
  sixty: '6',
  seventy: '7',
  eighty: '8',
  ninety: '9',
};
const POINTS = ['decimal', 'point'];
const SPOKEN = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

/** Every word of the figure grammar. */
export const FIGURE_WORDS: readonly string[] = [
  ...Object.keys(DIGITS),
  ...Object.keys(TEENS),
  ...Object.keys(TENS),
  'hundred',
  ...POINTS,
];

const fault = (code: FigureFault['code'], says: string): FigureFault => ({ code, says });

/** Digits of a figure read aloud one at a time: 12.5 -> one two decimal five. */
export const readBack = (digits: string): string =>
  Array.from(digits, (c) => (c === '.' ? 'decimal' : (SPOKEN[Number(c)] ?? c))).join(' ');

/** The whole part before the point, or a fault. `words` holds no point. */
function wholeOf(words: readonly string[]): string | FigureFault {
  const first = words[0];
  if (first === undefined) return '0';
  if (words.every((w) => w in DIGITS)) return words.map((w) => DIGITS[w]).join('');
  const two = fault('figure-could-be-two', 'That could be two figures. Say it digit by digit.');
  const underHundred = (rest: readonly string[]): string | null => {
    const [a, b, ...more] = rest;
    if (a === undefined || more.length > 0) return null;
    if (a in TEENS && b === undefined) return TEENS[a] ?? null;
    const ten = TENS[a];
    if (ten === undefined) return null;
    if (b === undefined) return `${ten}0`;
    const unit = DIGITS[b];
    return unit !== undefined && unit !== '0' ? ten + unit : null;
  };
  if (words[1] === 'hundred') {
    const digit = DIGITS[first];
    if (digit === undefined || digit === '0') return two;
    const rest = words.slice(2);
    if (rest.length === 0) return `${digit}00`;
    const small = underHundred(rest);
    return small === null ? two : digit + small;
  }
  return underHundred(words) ?? two;
}

/** The figure that a row of spoken words means, or why it means none. */
export function figureOf(words: readonly string[]): Figure | FigureFault {
  if (words.length === 0) return fault('figure-empty', 'No figure was heard. Say it digit by digit.');
  const unknown = words.find((w) => !FIGURE_WORDS.includes(w));
  if (unknown !== undefined)
    return fault('figure-unknown-word', `"${unknown}" is no part of a figure. Say it digit by digit.`);
  const at = words.findIndex((w) => POINTS.includes(w));
  const after = at < 0 ? [] : words.slice(at + 1);
  if (after.some((w) => POINTS.includes(w)))
    return fault('figure-two-points', 'Two decimal signs were heard. Say the figure again.');
  if (at >= 0 && after.length === 0) {
    return fault(
      'figure-ends-with-point',
      'The figure ended with its decimal sign. Say it again with the digits after it.',
    );
  }
  if (after.some((w) => !(w in DIGITS))) {
    return fault('figure-could-be-two', 'After the decimal sign say one digit at a time.');
  }
  const whole = wholeOf(at < 0 ? words : words.slice(0, at));
  if (typeof whole !== 'string') return whole;
  const digits = at < 0 ? whole : `${whole}.${after.map((w) => DIGITS[w]).join('')}`;
  return { value: Number(digits), digits, readBack: readBack(digits) };
}
