import { canonicalText } from '../journal/canonical.ts';
import { fromMoment } from '../journal/moment.ts';
import type { JournalRecord } from '../journal/record.ts';
import { FIRST_PREV } from '../journal/record.ts';
import { recordShape } from '../journal/record-shape.ts';
import { misfitIn } from '../journal/shape.ts';
import { OfficeError } from '../sync/fault.ts';
import { MOST_RECORDS } from '../sync/wire.ts';
import { type KnownDefinition, usable } from './definitions.ts';
import { sha256 } from './hash.ts';

/** A record of a batch, and the text that is kept of it. */
export interface Line {
  readonly record: JournalRecord;
  /** ms since 1970. */
  readonly at: number;
  /** RFC 8785 form; that of an opening without its procedure, which is kept apart. */
  readonly body: string;
}

export interface Batch {
  readonly lines: readonly Line[];
  /** The procedure of the opening, when the batch begins with it. */
  readonly procedure: KnownDefinition | null;
}

const EMPTY = '"procedure":{},"procedureHash":"';
const HASH_MEMBER = /"hash":"[0-9a-f]{64}",/;

/** The canonical text of a record without its own hash: what was hashed. `"hash"` stands before `"job"`, at top level. */
function unhashed(line: string, job: string): string | null {
  const at = line.lastIndexOf(`,"job":"${job}"`);
  const from = at - '"hash":""'.length - 64;
  if (at < 0 || from < 0) return null;
  const member = `${line.slice(from, at)},`;
  return HASH_MEMBER.test(member) ? line.slice(0, from) + line.slice(at + 1) : null;
}

/** Takes the procedure out of an opening's line: what is left of the line, and the text of the procedure. */
function takenApart(line: string): { short: string; procedure: string; hash: string } | null {
  const end = line.lastIndexOf(',"procedureHash":"');
  // After the list of people, which ends in a bracket: a fact of that name would stand elsewhere.
  const begin = line.indexOf('],"procedure":{');
  if (begin < 0 || end < begin) return null;
  const from = begin + '],"procedure":'.length;
  return {
    short: `${line.slice(0, from)}{}${line.slice(end)}`,
    procedure: line.slice(from, end),
    hash: line.slice(end + ',"procedureHash":"'.length).slice(0, 64),
  };
}

/** Puts the procedure back into the kept text of an opening. */
export const madeWhole = (body: string, procedure: string): string =>
  body.replace(EMPTY, () => `"procedure":${procedure},"procedureHash":"`);

const wrong = (line: number, what: string) => new OfficeError('batch-wrong', { line, what });

function parsed(text: string, line: number): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw wrong(line, 'it is not JSON');
  }
}

function canonical(value: unknown, text: string, line: number): void {
  let spelt: string;
  try {
    spelt = canonicalText(value);
  } catch (error) {
    throw wrong(line, `it holds what no record holds (${String(error)})`);
  }
  if (spelt !== text) throw wrong(line, 'it is not in the canonical form of RFC 8785');
}

/**
 * One line, checked for itself: shape, spelling, hash. A procedure that the office knows is not taken apart again: the same
 * hash means the same text, so only what is around it is looked at.
 */
async function readLine(
  text: string,
  line: number,
  known: (hash: string) => Promise<KnownDefinition | null>,
): Promise<{ line: Line; procedure: KnownDefinition | null }> {
  const apart = line === 1 && text.includes('"type":"job.opened"') ? takenApart(text) : null;
  const kept = apart && sha256(apart.procedure) === apart.hash ? await known(apart.hash) : null;
  const body = apart?.short ?? text;
  const value = parsed(body, line);
  canonical(value, body, line);
  const misfit = misfitIn(recordShape, value);
  if (misfit) throw wrong(line, `in it ${misfit}`);
  const short = value as JournalRecord;
  const hashed = unhashed(text, short.job);
  if (hashed === null || sha256(hashed) !== short.hash)
    throw new OfficeError('chain-broken', { line, what: 'its hash does not fit its content' });
  const at = fromMoment(short.at) ?? 0;
  if (short.event.type !== 'job.opened') return { line: { record: short, at, body }, procedure: null };
  if (!apart) throw wrong(line, 'a job is opened by its first record only');
  const procedure = kept ?? usable(parsed(apart.procedure, line));
  if (procedure.text !== apart.procedure || procedure.hash !== short.event.procedureHash)
    throw new OfficeError('chain-broken', {
      line,
      what: 'the procedure does not have the hash stated beside it',
    });
  const record = { ...short, event: { ...short.event, procedure: procedure.definition } };
  return { line: { record, at, body }, procedure };
}

/**
 * Reads a batch: JSON lines in canonical form, records of one job that follow one another. Throws OfficeError `batch-wrong`,
 * `chain-broken`, `procedure-unusable` with the line, from 1.
 */
export async function readBatch(
  text: string,
  job: string,
  from: number,
  known: (hash: string) => Promise<KnownDefinition | null>,
): Promise<Batch> {
  const texts = text.split('\n');
  if (texts.pop() !== '') throw wrong(texts.length + 1, 'it is cut: it has no line end');
  if (texts.length === 0) throw wrong(1, 'the batch is empty');
  if (texts.length > MOST_RECORDS) throw new OfficeError('too-large', { records: MOST_RECORDS });
  const lines: Line[] = [];
  let procedure: KnownDefinition | null = null;
  for (const [index, one] of texts.entries()) {
    const number = index + 1;
    const read = await readLine(one, number, known);
    const { record } = read.line;
    const broken = (what: string) => new OfficeError('chain-broken', { line: number, what });
    const previous = lines[index - 1]?.record;
    if (record.job !== job) throw broken('it is of another job');
    if (record.seq !== from + index)
      throw broken(`record ${from + index} should stand here, ${record.seq} does`);
    if ((record.seq === 0) !== (record.event.type === 'job.opened'))
      throw broken('a job is opened once, by its first record');
    if (previous && record.prev !== previous.hash) throw broken('it does not follow the one before it');
    if (record.seq === 0 && record.prev !== FIRST_PREV) throw broken('a first record has nothing before it');
    lines.push(read.line);
    procedure ??= read.procedure;
  }
  return { lines, procedure };
}
