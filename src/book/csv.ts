/** One field. A number is written as it is; null leaves the field empty. */
export type Cell = string | number | boolean | null;

/** A table for a spreadsheet: one line of names, then lines of as many cells. */
export interface Table {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
}

/**
 * Text that a spreadsheet would take for a formula, so that a note in a record could run something on the desk of
 * whoever opens the table: it begins with = + - @ or one of their full-width forms, blanks before it not counted, or with
 * TAB, CR or LF. (The OWASP page on CSV injection, from memory.)
 */
const FORMULA = /^(\s*[=+\-@\uff1d\uff0b\uff0d\uff20]|[\t\r\n])/;

/** Text with an apostrophe before it where a spreadsheet would run it. */
export const guarded = (text: string): string => (FORMULA.test(text) ? `'${text}` : text);

function field(cell: Cell): string {
  // Figures are no formulas, and -3.2 must stay a figure.
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : '';
  const text = cell === null ? '' : guarded(String(cell));
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/**
 * A table as CSV by RFC 4180: comma, CR LF after every line, fields quoted where they hold a comma, a quote or a line
 * end, quotes doubled, every line with the same number of fields. UTF-8 without a mark.
 */
export function toCsv({ columns, rows }: Table): string {
  return [columns, ...rows]
    .map((row) => `${columns.map((_, at) => field(row[at] ?? null)).join(',')}\r\n`)
    .join('');
}

/** What whoever opens such a file should know; stands in the read-me of every bundle. */
export const CSV_NOTES = [
  'Tables (.csv) are by RFC 4180: UTF-8, comma, lines end in CR LF, the first line names the columns.',
  'Times are RFC 3339 in UTC; lengths of time are in seconds; figures are in the unit of the column beside them.',
  "A text that begins with = + - @ (or their full-width forms), TAB, CR or LF has an apostrophe (') put before it, so that",
  'no spreadsheet runs it as a formula: take it off to get the text of the record. Figures are written as they are.',
] as const;
