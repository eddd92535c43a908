import type { JSONWebKeySet } from 'jose';
import type { Finding, Remark } from './finding.ts';
import { finding } from './finding.ts';
import type { JournalRecord, OpenedEvent } from './record.ts';
import type { SealPayload } from './seal.ts';
import { keyId, openSeal, publicJwkOf } from './seal.ts';

/** What the seal of a record came to. */
export interface SealCheck {
  readonly findings: readonly Finding[];
  readonly remarks: readonly Remark[];
  readonly payload: SealPayload | null;
  readonly kid: string | null;
}

/** Does the seal fit these records, and is its key one of those given? Without keys a remark says so. */
export async function checkSeal(
  records: readonly JournalRecord[],
  opened: OpenedEvent | null,
  seal: string | null,
  keys: JSONWebKeySet | undefined,
): Promise<SealCheck> {
  const line = records.length + 1;
  const none = { findings: [], remarks: [], payload: null, kid: null };
  if (seal === null) {
    const says = 'The record has no seal: it was cut, or the job is not finished.';
    return { ...none, findings: [finding(line, 'seal-missing', says)] };
  }
  const result = await openSeal(seal);
  if (!result.opened) return { ...none, findings: [finding(line, result.code, result.says)] };
  const { payload, kid } = result.opened;
  const findings = sealedOtherwise(records, opened, payload).map((says) =>
    finding(line, 'seal-differs', says),
  );
  const remarks: Remark[] = [];
  if (!keys) {
    const says = `No enrolled keys were given: that ${kid} is a key of this workshop was not checked.`;
    remarks.push({ line, code: 'key-not-checked', says });
  } else if (!(await enrolled(keys)).has(kid)) {
    findings.push(finding(line, 'key-not-enrolled', `The key ${kid} that made the seal is not enrolled.`));
  }
  const last = records[records.length - 1];
  if (last && payload.sealedAt < last.at) {
    const says = 'By the clock of the bench the seal is older than the last record.';
    remarks.push({ line, code: 'clock-went-back', says });
  }
  return { findings, remarks, payload, kid };
}

/** In what a seal and the records before it differ. */
function sealedOtherwise(
  records: readonly JournalRecord[],
  opened: OpenedEvent | null,
  payload: SealPayload,
): string[] {
  const last = records[records.length - 1];
  const differences = [
    payload.count === records.length
      ? null
      : `The seal closes ${payload.count} records; there are ${records.length}.`,
    payload.head === last?.hash ? null : 'The seal closes a record whose last hash is another.',
    payload.job === last?.job ? null : 'The seal is that of another job.',
    payload.outcome === last?.station ? null : `The seal says ${payload.outcome}; the last record does not.`,
    opened?.people.some((person) => person.id === payload.sealedBy)
      ? null
      : `The seal was set by "${payload.sealedBy}", who is none of the people of this job.`,
  ];
  return differences.filter((difference) => difference !== null);
}

/** The thumbprints (RFC 7638) of the P-256 keys of a set. */
export async function enrolled(keys: JSONWebKeySet): Promise<ReadonlySet<string>> {
  const ids = keys.keys.map(async (jwk) => {
    try {
      return await keyId(publicJwkOf(jwk));
    } catch {
      return ''; // A key of another kind: it cannot have made this seal.
    }
  });
  return new Set(await Promise.all(ids));
}

/** Is this the content of a JWK Set (RFC 7517, section 5)? */
export function isKeySet(value: unknown): value is JSONWebKeySet {
  const keys = (value as { keys?: unknown } | null)?.keys;
  return Array.isArray(keys) && keys.every((key) => typeof key === 'object' && key !== null && 'kty' in key);
}
