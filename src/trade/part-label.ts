/** What a part's label says: its code, and where the label has them its batch and serial number. */
export interface PartLabel {
  /** The code by which parts are told apart: a GTIN as 14 digits, or a plain code as it stands. */
  readonly code: string;
  /** True where the code is a GTIN whose check digit is right. */
  readonly gtin: boolean;
  readonly batch: string | null;
  readonly serial: string | null;
}

/** `check-digit`: digits were lost or changed on the way. `unreadable`: no code can be made out. */
export type LabelFault = 'check-digit' | 'unreadable';

/** FNC1 between two elements, as scanners send it: the group separator. */
const GS = '\u001d';
/** The longest label that is looked at, characters: more is no part label. */
const LONGEST = 120;

/**
 * Application identifiers whose length is fixed, and that length: SSCC, GTIN, contained GTIN, dates, variant. They need
 * no FNC1 after them. GS1 General Specifications, from memory; checked against the table of GS1's own toolkit.
 */
const FIXED: Readonly<Record<string, number>> = {
  '00': 18,
  '01': 14,
  '02': 14,
  '11': 6,
  '12': 6,
  '13': 6,
  '15': 6,
  '16': 6,
  '17': 6,
  '20': 2,
};
/** Those of free length, and the most characters they hold: batch, serial, counts, the maker's own numbers. */
const FREE: Readonly<Record<string, number>> = { '10': 20, '21': 20, '30': 8, '37': 8, '240': 30, '241': 30 };

/** AIM symbology identifiers that announce GS1 elements: GS1-128, DataBar, Data Matrix, QR. From memory. */
const ANNOUNCES_GS1 = /^\](?:C1|e0|d2|Q3)/;

/**
 * Check digit of the digits before it, 0 to 9: from the right every second digit counts three times, and the check digit
 * brings the sum to a multiple of ten. The same for all lengths. GS1 General Specifications, from memory.
 */
export function checkDigit(digits: string): number {
  const sum = [...digits]
    .reverse()
    .reduce((all, digit, at) => all + Number(digit) * (at % 2 === 0 ? 3 : 1), 0);
  return (10 - (sum % 10)) % 10;
}

const isGtin = (digits: string): boolean => checkDigit(digits.slice(0, -1)) === Number(digits.at(-1));

type Elements = ReadonlyMap<string, string>;

/** The elements of a text in brackets: `(01)07300011000017(10)B7`. */
function bracketed(text: string): Elements | null {
  const found = [...text.matchAll(/\((\d{2,4})\)([^(]+)/g)];
  if (found.map(([whole]) => whole).join('') !== text) return null;
  return kept(found.map(([, ai = '', value = '']) => [ai, value]));
}

/** The elements of a text that runs on: fixed lengths first, FNC1 after the free ones. */
function running(text: string): Elements | null {
  const found: [string, string][] = [];
  let rest = text.startsWith(GS) ? text.slice(1) : text;
  while (rest !== '') {
    const ai = [2, 3].map((length) => rest.slice(0, length)).find((name) => name in FIXED || name in FREE);
    if (ai === undefined) return null;
    const after = rest.slice(ai.length);
    const fixed = FIXED[ai];
    const ends = after.indexOf(GS);
    const value = fixed === undefined ? after.slice(0, ends < 0 ? undefined : ends) : after.slice(0, fixed);
    found.push([ai, value]);
    rest = after.slice(value.length);
    if (rest.startsWith(GS)) rest = rest.slice(1);
  }
  return kept(found);
}

/** The elements by identifier; null where one is of the wrong length or says two different things. */
function kept(found: readonly (readonly [ai: string, value: string])[]): Elements | null {
  const elements = new Map<string, string>();
  for (const [ai, value] of found) {
    const fixed = FIXED[ai];
    const fits =
      fixed === undefined ? value.length <= (FREE[ai] ?? 90) : /^\d+$/.test(value) && value.length === fixed;
    if (value === '' || !fits || (elements.get(ai) ?? value) !== value) return null;
    elements.set(ai, value);
  }
  return elements;
}

function fromElements(elements: Elements | null): PartLabel | LabelFault {
  const code = elements?.get('01');
  if (!elements || code === undefined) return 'unreadable';
  if (!isGtin(code)) return 'check-digit';
  return { code, gtin: true, batch: elements.get('10') ?? null, serial: elements.get('21') ?? null };
}

/**
 * Reads a part's label as a scanner types it: GS1 elements in brackets or run together, a GTIN of 8, 12, 13 or 14 digits,
 * or a plain code of the maker or the workshop. Numbers of 12 to 14 digits must have the right check digit; one of 8 that
 * has not is a plain code, because workshops number their shelves so. A scanner that drops FNC1 runs batch and serial
 * together: what follows the batch then belongs to it.
 */
export function readLabel(typed: string): PartLabel | LabelFault {
  const text = typed.trim();
  if (text === '' || text.length > LONGEST) return 'unreadable';
  if (ANNOUNCES_GS1.test(text)) return fromElements(running(text.slice(3)));
  const bare = text.replace(/^\][A-Za-z]\d/, '');
  if (bare.startsWith('(')) return fromElements(bracketed(bare));
  if (bare.includes(GS) || /^01\d{14}/.test(bare)) return fromElements(running(bare));
  const digits = /^\d{8}$|^\d{12,14}$/.test(bare);
  if (digits && isGtin(bare)) return { code: bare.padStart(14, '0'), gtin: true, batch: null, serial: null };
  if (digits && bare.length > 8) return 'check-digit';
  // Signs that cannot be seen could make two codes look alike.
  return /^[!-~]+(?: [!-~]+)*$/.test(bare)
    ? { code: bare, gtin: false, batch: null, serial: null }
    : 'unreadable';
}

/** The label in words: "GTIN 07300011000017, batch B7, serial 12". */
export function labelInWords({ code, gtin, batch, serial }: PartLabel): string {
  return [
    gtin ? `GTIN ${code}` : code,
    ...(batch === null ? [] : [`batch ${batch}`]),
    ...(serial === null ? [] : [`serial ${serial}`]),
  ].join(', ');
}

/** The same of a label as it was typed; one that cannot be read stays as it is, within bounds. */
export function typedLabelInWords(typed: string): string {
  const label = readLabel(typed);
  return typeof label === 'string' ? `“${typed.slice(0, 40)}”` : labelInWords(label);
}
