import type { JSONWebKeySet } from 'jose';
import type { Definition } from '../procedure/definition.ts';
import { readDefinition } from '../procedure/proof/structure.ts';
import { checkChain } from './chain.ts';
import { readRecordFile } from './file.ts';
import type { Finding, Remark } from './finding.ts';
import { finding } from './finding.ts';
import { hashOf } from './hash.ts';
import { checkHolds } from './holds.ts';
import type { JournalRecord, OpenedEvent } from './record.ts';
import { replay } from './replay.ts';
import { restless } from './restless.ts';
import type { SealCheck } from './verify-seal.ts';
import { checkSeal } from './verify-seal.ts';

/** What a record that could be read is about. Only worth believing when the report holds. */
export interface Summary {
  readonly job: string;
  readonly records: number;
  readonly procedure: { readonly id: string; readonly title: string; readonly revision: number };
  readonly machine: string;
  readonly outcome: string;
  /** RFC 3339, UTC, milliseconds. */
  readonly openedAt: string;
  readonly sealedAt: string | null;
  readonly sealedBy: { readonly id: string; readonly name: string } | null;
  /** RFC 7638 thumbprint of the key that sealed the record. */
  readonly kid: string | null;
}

export interface Report {
  /** Nothing was found. */
  readonly holds: boolean;
  readonly findings: readonly Finding[];
  readonly remarks: readonly Remark[];
  readonly record: Summary | null;
}

export interface VerifyOptions {
  /** Public keys of the workshop's devices; without them the seal proves that nobody changed the record, not who made it. */
  readonly keys?: JSONWebKeySet;
  /** Proves the embedded procedure; what it finds counts against the record. */
  readonly prove?: (definition: Definition) => readonly { readonly says: string }[];
}

/** More findings than this help nobody: a hostile file could have a million. */
const MOST = 100;

/**
 * Verifies a record file, in this order: every line is a record in canonical form; numbers and chain; the procedure's
 * hash; the seal and its key; the procedure's proof; the replay; the hold points. A later check that would only echo
 * an earlier fault is left out, and a remark says so. Give bytes where there are bytes. Never throws.
 */
export async function verifyFile(content: string | Uint8Array, options: VerifyOptions = {}): Promise<Report> {
  const { records, seal, findings: unreadable } = readRecordFile(content);
  if (unreadable.length > 0) {
    const says = 'Lines that cannot be read hide what they say: nothing else was looked at.';
    return report(unreadable, [{ line: 1, code: 'not-looked-at', says }], null);
  }
  const first = records[0];
  const opened = first?.event.type === 'job.opened' ? first.event : null;
  const chain = first ? checkChain(records) : [finding(1, 'not-opened', 'The file holds no records.')];
  const seals = await checkSeal(records, opened, seal, options.keys);
  const story = opened && chain.length === 0 ? checkStory(records, opened.procedure, options) : null;
  const untold: Remark = {
    line: 1,
    code: 'not-looked-at',
    says: 'The chain is broken: the events were not run through the procedure again.',
  };
  return report(
    [...chain, ...procedureHash(opened), ...seals.findings, ...(story?.findings ?? [])],
    [...seals.remarks, ...clockRemarks(records), ...(story?.remarks ?? [untold])],
    first && opened ? summary(records, first, opened, seals) : null,
  );
}

/** Procedure, replay and hold points: does what happened agree with what was to be done? */
function checkStory(records: readonly JournalRecord[], embedded: unknown, options: VerifyOptions) {
  const read = readDefinition(embedded);
  const unusable = 'findings' in read ? read.findings.map(({ says }) => says) : restlessness(read.definition);
  if ('findings' in read || unusable.length > 0) {
    return { findings: unusable.map((says) => finding(1, 'procedure-unusable', says)), remarks: [] };
  }
  const proof = prove(read.definition, options);
  return {
    findings: [...proof.findings, ...runAgain(records), ...secondLook(records)],
    remarks: proof.remarks,
  };
}

function restlessness(definition: Definition): string[] {
  const ring = restless(definition);
  return ring === null ? [] : [`The embedded procedure never comes to rest after "${ring}".`];
}

function procedureHash(opened: OpenedEvent | null): Finding[] {
  if (!opened || hashOf(opened.procedure) === opened.procedureHash) return [];
  const says = 'The embedded procedure does not have the hash stated beside it.';
  return [finding(1, 'procedure-hash-wrong', says)];
}

function report(findings: readonly Finding[], remarks: readonly Remark[], record: Summary | null): Report {
  const shown = findings.slice(0, MOST);
  const left = findings.length - shown.length;
  const more: Remark[] =
    left > 0 ? [{ line: 1, code: 'more-findings', says: `${left} more findings are not shown.` }] : [];
  return { holds: findings.length === 0, findings: shown, remarks: [...remarks, ...more], record };
}

function summary(
  records: readonly JournalRecord[],
  first: JournalRecord,
  opened: OpenedEvent,
  { payload, kid }: SealCheck,
): Summary | null {
  if ('findings' in readDefinition(opened.procedure)) return null;
  const { id, meta } = opened.procedure;
  const sealer = opened.people.find((person) => person.id === payload?.sealedBy);
  return {
    job: first.job,
    records: records.length,
    procedure: { id, title: meta.title, revision: meta.revision },
    machine: opened.machine.says,
    outcome: records[records.length - 1]?.station ?? '',
    openedAt: first.at,
    sealedAt: payload?.sealedAt ?? null,
    sealedBy: sealer ? { id: sealer.id, name: sealer.name } : null,
    kid,
  };
}

function clockRemarks(records: readonly JournalRecord[]): Remark[] {
  const back = records.findIndex((record, n) => n > 0 && record.at < (records[n - 1]?.at ?? ''));
  if (back < 0) return [];
  const says = 'The clock of the bench was set back here: times before and after do not compare.';
  return [{ line: back + 1, code: 'clock-went-back', says }];
}

function prove(definition: Definition, { prove }: VerifyOptions): Pick<SealCheck, 'findings' | 'remarks'> {
  if (!prove) {
    const says = 'The embedded procedure was not proved.';
    return { findings: [], remarks: [{ line: 1, code: 'proof-not-run', says }] };
  }
  try {
    const findings = prove(definition).map(({ says }) => finding(1, 'procedure-not-proved', says));
    return { findings, remarks: [] };
  } catch (error) {
    const says = `The embedded procedure cannot be proved: ${String(error)}`;
    return { findings: [finding(1, 'procedure-not-proved', says)], remarks: [] };
  }
}

function secondLook(records: readonly JournalRecord[]): readonly Finding[] {
  try {
    return checkHolds(records);
  } catch (error) {
    return [finding(1, 'procedure-unusable', `The hold points cannot be looked at: ${String(error)}`)];
  }
}

function runAgain(records: readonly JournalRecord[]): readonly Finding[] {
  const strangers = records
    .filter(
      ({ seq, by, event }) =>
        seq === 0 && event.type === 'job.opened' && !event.people.some((p) => p.id === by),
    )
    .map(({ by }) =>
      finding(1, 'person-unknown', `The job was opened by "${by}", who is none of its people.`),
    );
  try {
    return [...strangers, ...replay(records).findings];
  } catch (error) {
    return [finding(1, 'procedure-unusable', `The embedded procedure cannot be run: ${String(error)}`)];
  }
}
