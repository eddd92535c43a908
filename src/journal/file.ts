import { record } from '../procedure/proof/wanted.ts';
import { canonicalText } from './canonical.ts';
import { JournalError } from './fault.ts';
import type { Finding, FindingCode } from './finding.ts';
import { finding } from './finding.ts';
import type { JournalRecord } from './record.ts';
import { recordShape } from './record-shape.ts';
import { misfitIn, plain } from './shape.ts';
import { decodeUtf8 } from './utf8.ts';

/** How the name of a record file ends. */
export const RECORD_FILE_END = '.holdfast.jsonl';

/** Largest record file read, in bytes: some hundred times a long job. */
export const MAX_FILE = 64 * 1024 * 1024;
/** Longest line read, in characters: the procedure in the first line needs about a hundredth of it. */
export const MAX_LINE = 8 * 1024 * 1024;

/** A record file: JSON lines in canonical form (RFC 8785), records first, then the seal; each line ends in LF. */
export function toRecordFile(records: readonly JournalRecord[], seal: string): string {
  return [...records, { seal }].map((line) => `${canonicalText(line)}\n`).join('');
}

/** What is left of a journal that cannot be read as a whole, a line each as it was found: no seal, and no claim that it verifies. */
export function toRemainsFile(records: readonly unknown[]): string {
  const line = (record: unknown) => {
    try {
      return canonicalText(record);
    } catch {
      return JSON.stringify(record) ?? 'null';
    }
  };
  return records.map((record) => `${line(record)}\n`).join('');
}

export interface ReadFile {
  readonly records: readonly JournalRecord[];
  /** The compact JWS, or null when the file has none. */
  readonly seal: string | null;
  /** Empty: every line is exactly as it should be. Otherwise records and seal are only what could be read. */
  readonly findings: readonly Finding[];
}

const sealShape = record({ seal: plain });

/** Reads a record file. Bytes are better than text: only they show what is not UTF-8. Never throws. */
export function readRecordFile(content: string | Uint8Array): ReadFile {
  const nothing = (line: number, code: FindingCode, says: string): ReadFile => ({
    records: [],
    seal: null,
    findings: [finding(line, code, says)],
  });
  if (content.length > MAX_FILE)
    return nothing(1, 'file-too-large', 'The file is far larger than any record.');
  const text = typeof content === 'string' ? content : decodeUtf8(content);
  if (text === null) {
    const line = typeof content === 'string' ? 1 : lineNotUtf8(content);
    return nothing(
      line,
      'not-utf8',
      'This line is not valid UTF-8: the file is damaged or is no record file.',
    );
  }
  if (text === '') return nothing(1, 'file-empty', 'The file is empty.');

  const findings: Finding[] = [];
  const records: JournalRecord[] = [];
  let seal: string | null = null;
  const lines = text.split('\n');
  if (lines.pop() !== '')
    findings.push(finding(lines.length + 1, 'no-line-end', 'The last line is cut: it has no line end.'));
  for (const [index, line] of lines.entries()) {
    const add = (code: FindingCode, says: string) => findings.push(finding(index + 1, code, says));
    const read = readLine(line);
    if ('code' in read) add(read.code, read.says);
    else if (isSeal(read.value)) {
      const misfit = misfitIn(sealShape, read.value);
      if (misfit) add('wrong-fields', `In this line ${misfit}.`);
      else if (index !== lines.length - 1)
        add('seal-not-last', 'The seal closes a record: it must be the last line.');
      else seal = String(read.value.seal);
    } else {
      const misfit = misfitIn(recordShape, read.value);
      if (misfit) add('wrong-fields', `In this line ${misfit}.`);
      else records.push(read.value as JournalRecord);
    }
  }
  return { records, seal, findings };
}

const isSeal = (value: unknown): value is { seal: unknown } =>
  typeof value === 'object' && value !== null && Object.hasOwn(value, 'seal');

type Line = { readonly value: unknown } | { readonly code: FindingCode; readonly says: string };

function readLine(line: string): Line {
  if (line.length > MAX_LINE) return { code: 'line-too-long', says: 'This line is longer than any record.' };
  let value: unknown;
  try {
    value = JSON.parse(line);
  } catch {
    return { code: 'not-json', says: 'This line is not JSON.' };
  }
  try {
    // One spelling only: this also finds repeated keys, of which JSON.parse would silently take the last.
    if (canonicalText(value) === line) return { value };
    return { code: 'not-canonical', says: 'This line is not in the canonical form of RFC 8785.' };
  } catch (error) {
    const why = error instanceof JournalError ? (error.detail ?? '') : 'it cannot be taken apart';
    return { code: 'not-json', says: `This line holds what no record holds: ${why}.` };
  }
}

function lineNotUtf8(bytes: Uint8Array): number {
  let line = 1;
  for (let from = 0; from <= bytes.length; line++) {
    const end = bytes.indexOf(0x0a, from);
    const to = end < 0 ? bytes.length : end;
    if (decodeUtf8(bytes.subarray(from, to)) === null) return line;
    from = to + 1;
  }
  return line;
}
