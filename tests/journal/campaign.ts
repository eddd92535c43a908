import { toRecordFile } from '../../src/journal/file.ts';
import type { FindingCode } from '../../src/journal/finding.ts';
import { hashOf } from '../../src/journal/hash.ts';
import { proofOf } from '../../src/journal/proved.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { sealPayload, signSeal } from '../../src/journal/seal.ts';
import type { VerifyOptions } from '../../src/journal/verify.ts';
import { verifyFile } from '../../src/journal/verify.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { makeKey } from './play.ts';
import { drawFrom, randomJob } from './random-jobs.ts';
import { outsideTamperings } from './tamper.ts';
import { insiderTamperings } from './tamper-insider.ts';

/** The real proof, remembered by the procedure's hash: thousands of records share three procedures. */
function rememberedProof(): NonNullable<VerifyOptions['prove']> {
  const known = new Map<string, readonly { readonly says: string }[]>();
  return (definition: Definition) => {
    const hash = hashOf(definition);
    const found = known.get(hash) ?? proofOf(definition);
    known.set(hash, found);
    return found;
  };
}

const sealAt = (records: readonly JournalRecord[]) =>
  Date.parse(records[records.length - 1]?.at ?? '') + 60_000;
const sealerOf = ([first]: readonly JournalRecord[]) =>
  first?.event.type === 'job.opened' ? (first.event.people[2]?.id ?? '') : '';

async function bench() {
  const [key, foreignKey] = [await makeKey(), await makeKey()];
  const options = { keys: { keys: [{ ...key.publicJwk }] }, prove: rememberedProof() };
  const seal = (records: readonly JournalRecord[]) =>
    signSeal(sealPayload(records, sealAt(records), sealerOf(records)), key);
  return { key, foreignKey, options, seal };
}

const tamperings = [...outsideTamperings, ...insiderTamperings];

export interface Outcome {
  readonly what: string;
  tried: number;
  rejected: number;
  /** Rejected, and for a reason that fits. */
  rightly: number;
  readonly reasons: Map<FindingCode, number>;
  /** The first forgeries that were let through or rejected for another reason. */
  readonly odd: string[];
}

/** Tampers with really run jobs, kind after kind, until `count` forgeries were judged. The seed decides all but the keys. */
export async function campaign(count: number, seed: number): Promise<Outcome[]> {
  const { key, foreignKey, options, seal } = await bench();
  const outcomes = tamperings.map(
    ({ what }): Outcome => ({ what, tried: 0, rejected: 0, rightly: 0, reasons: new Map(), odd: [] }),
  );
  let done = 0;
  let otherSeal = await seal(randomJob(seed + 999_999));
  for (let job = seed; done < count; job++) {
    const records = randomJob(job);
    const mine = await seal(records);
    const given = {
      records,
      seal: mine,
      file: toRecordFile(records, mine),
      otherSeal,
      key,
      foreignKey,
      draw: drawFrom(job),
    };
    for (const [index, tampering] of tamperings.entries()) {
      if (done >= count) break;
      const forged = await tampering.make(given);
      const outcome = outcomes[index];
      if (forged === null || !outcome) continue;
      const [first] = (await verifyFile(forged, options)).findings;
      done++;
      outcome.tried++;
      if (first) {
        outcome.rejected++;
        outcome.reasons.set(first.code, (outcome.reasons.get(first.code) ?? 0) + 1);
      }
      if (first && tampering.reasons.includes(first.code)) outcome.rightly++;
      else if (outcome.odd.length < 3)
        outcome.odd.push(`job ${job}: ${first?.line} ${first?.code}: ${first?.says}`);
    }
    otherSeal = mine;
  }
  return outcomes;
}

/** Verifies so many good records; returns what was wrongly found. */
export async function falseAlarms(
  count: number,
  seed: number,
): Promise<{ records: number; alarms: string[] }> {
  const { options, seal } = await bench();
  const alarms: string[] = [];
  let records = 0;
  for (let job = seed; job < seed + count; job++) {
    const made = randomJob(job);
    records += made.length;
    const { findings, remarks } = await verifyFile(toRecordFile(made, await seal(made)), options);
    const [first] = [...findings, ...remarks];
    if (first) alarms.push(`job ${job}: ${first.line} ${first.code}: ${first.says}`);
  }
  return { records, alarms };
}
