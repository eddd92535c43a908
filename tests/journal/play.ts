import { exportJWK, generateKeyPair } from 'jose';
import { makeRecord } from '../../src/journal/chain.ts';
import { toRecordFile } from '../../src/journal/file.ts';
import { hashOf } from '../../src/journal/hash.ts';
import { toMoment } from '../../src/journal/moment.ts';
import type { JournalRecord, OpenedEvent } from '../../src/journal/record.ts';
import { inputOf } from '../../src/journal/replay.ts';
import type { SigningKey } from '../../src/journal/seal.ts';
import { keyId, publicJwkOf, sealPayload, signSeal } from '../../src/journal/seal.ts';
import { decide } from '../../src/procedure/decide.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import type { JobEvent, Stamped } from '../../src/procedure/events.ts';
import { machineFor } from '../../src/procedure/machine.ts';
import { runWorking } from '../../src/trade/workings.ts';
import { NOON, sample, sampleInput } from '../procedure/sample.ts';

export const JOB = '3f0c9a52-7b1e-4d0a-9c55-0123456789ab';

export type Deed = JobEvent & { readonly who?: string; readonly later?: number };

export interface Opening {
  readonly job?: string;
  readonly definition?: Definition;
  readonly opened?: Partial<OpenedEvent>;
}

/** The opening event of a job done by the sample workshop. */
export const openingOf = ({ definition = sample, opened = {} }: Opening = {}): OpenedEvent => ({
  type: 'job.opened',
  procedure: definition,
  procedureHash: hashOf(definition),
  machine: { id: 'M1', says: 'Lesson machine 1' },
  facts: sampleInput.facts,
  figures: sampleInput.figures,
  people: sampleInput.people,
  tools: sampleInput.tools,
  app: '0.1.0',
  ...opened,
});

/** Really runs a job: every deed is decided by the machine and recorded with what came of it, a second apart. */
export function play(deeds: readonly Deed[], opening: Opening = {}): JournalRecord[] {
  const event = openingOf(opening);
  const machine = machineFor(event.procedure);
  let snapshot = machine.start(inputOf(event, NOON));
  let at = NOON;
  const job = opening.job ?? JOB;
  const records: JournalRecord[] = [];
  const write = (fields: Pick<JournalRecord, 'by' | 'event' | 'outcome' | 'reason' | 'station'>) => {
    const stamp = { job, at: toMoment(at), via: 'keys' } as const;
    records.push(makeRecord(records[records.length - 1] ?? null, { ...stamp, ...fields }));
  };
  write({ by: 'ada', event, outcome: 'accepted', station: snapshot.station });
  for (const { who = 'ada', later = 0, ...deed } of deeds) {
    at += 1000 + later;
    const decision = decide(machine, snapshot, { ...deed, at, by: who, via: 'keys' } as Stamped);
    snapshot = decision.snapshot;
    const { outcome } = decision;
    const reason = decision.outcome === 'refused' ? { reason: decision.reason } : {};
    write({ by: who, event: deed as JobEvent, outcome, ...reason, station: snapshot.station });
  }
  return records;
}

export const press = { kind: 'press', heldMs: 1500 } as const;
const ratio = { front: 13, rear: 48 };

/** From the kit to the fork, by ben the apprentice where `who` says so. */
export const toFork = (who = 'ada'): Deed[] => [
  { type: 'advance', who },
  { type: 'callOff', item: 'gloves', who },
  { type: 'callOff', item: 'wrench', toolId: 'T1', who },
  { type: 'callOff', item: 'seals', who },
  { type: 'lookUp', figure: 'bolts', value: 60, unit: '', who },
  { type: 'lookUp', figure: 'bolts', value: 6, unit: '', who },
  { type: 'accept', inputs: ratio, output: runWorking('final-ratio', ratio) as Record<string, unknown>, who },
  ...Array.from({ length: 12 }, (): Deed => ({ type: 'advance', who })),
  { type: 'advance', who },
  { type: 'advance', later: 600_000, who },
];

/** A whole job with refusals, rework, a failed hold, an apprentice with a witness, a pause, a note and a step back. */
export const wholeJob: readonly Deed[] = [
  ...toFork('ben'),
  { type: 'choose', value: 'clip', who: 'ben' },
  { type: 'advance', who: 'ben' },
  { type: 'confirm', evidence: { kind: 'phrase', phrase: 'open end leads' }, who: 'ben' },
  { type: 'fail', who: 'ben' },
  { type: 'advance', who: 'ben' },
  { type: 'confirm', evidence: { kind: 'phrase', phrase: 'Open end trails', score: 0.9 }, who: 'ben' },
  { type: 'witness', evidence: press, who: 'ben' },
  { type: 'witness', evidence: press, who: 'cyd' },
  { type: 'pause', says: 'The telephone.' },
  { type: 'advance' },
  { type: 'note', says: 'Chain new: 116 links. ½ link not needed – “fits”.' },
  { type: 'resume' },
  { type: 'reading', value: 50, unit: 'mm', toolId: 'R1' },
  { type: 'advance' },
  { type: 'reading', value: 35, unit: 'mm', toolId: 'R1' },
  { type: 'open', station: 'clipWay' },
  { type: 'confirm', evidence: press },
  { type: 'reading', value: 40, unit: 'mm', toolId: 'R1' },
  { type: 'confirm', evidence: press },
  { type: 'reading', value: 60, unit: 'N·m', toolId: 'T1' },
  { type: 'advance' },
  { type: 'reading', value: 94.5, unit: 'N·m', toolId: 'T2' },
  { type: 'reading', value: 94.5, unit: 'N·m', toolId: 'T1' },
];

/** A key like a device's, made afresh. */
export async function makeKey(): Promise<SigningKey> {
  const { privateKey, publicKey } = await generateKeyPair('ES256', { extractable: true });
  const publicJwk = publicJwkOf(await exportJWK(publicKey));
  return { privateKey, publicJwk, kid: await keyId(publicJwk) };
}

/** Seals records and makes a file of them. */
export async function sealed(
  records: readonly JournalRecord[],
  key: SigningKey,
  by = 'cyd',
): Promise<string> {
  const last = Date.parse(records[records.length - 1]?.at ?? '');
  return toRecordFile(records, await signSeal(sealPayload(records, last + 60_000, by), key));
}

/** Changes records and chains them anew, as somebody would who knows how. */
export function rechained(records: readonly JournalRecord[]): JournalRecord[] {
  const out: JournalRecord[] = [];
  for (const { seq: _, prev: __, hash: ___, ...fields } of records) {
    out.push(makeRecord(out[out.length - 1] ?? null, fields));
  }
  return out;
}
