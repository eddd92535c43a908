import finalDrive from '../../procedures/final-drive/index.ts';
import { workshop } from '../../seeds/workshop.ts';
import { type Digest, digestOf, type Sealed } from '../../src/book/digest.ts';
import { openingRecord } from '../../src/job/open-job.ts';
import { rightMove } from '../../src/job/rehearsal.ts';
import { type JobState, jobFrom, step } from '../../src/job/runner.ts';
import type { Workshop } from '../../src/job/workshop.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { openSeal, type SigningKey, sealPayload, signSeal } from '../../src/journal/seal.ts';
import { personOf } from '../../src/procedure/context.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { stationOf } from '../../src/procedure/definition.ts';
import type { JobEvent, Stamped, Via } from '../../src/procedure/events.ts';
import { FRESH_MS } from '../../src/procedure/settle-people.ts';

/** The workshop of the demo, where everybody signs on. */
export const signingWorkshop: Workshop = {
  ...workshop,
  people: workshop.people.map((person) => ({ ...person, signsOn: true as const })),
};

/** The same workshop before anybody had a PIN. */
export const openWorkshop: Workshop = {
  ...workshop,
  people: workshop.people.map(({ id, name, role }) => ({ id, name, role })),
};

/** The hold points of a procedure, in the order of its file. */
export const holdsOf = ({ states }: Definition): string[] =>
  Object.keys(states).filter((name) => states[name]?.meta?.kind === 'hold');

/** The procedure with a hold point that may be conceded. */
export function concedable(definition: Definition, hold: string): Definition {
  const state = definition.states[hold];
  if (state?.meta?.kind !== 'hold') throw new Error(`${hold} is no hold point.`);
  const ways = state.on?.confirm ?? state.on?.reading ?? [];
  const target = ways.find(({ guard }) => guard?.type === 'evidenceOpens')?.target;
  if (target === undefined) throw new Error(`${hold} has no way out.`);
  const concedes = {
    target,
    guard: { type: 'concedes', params: ways[0]?.guard?.params ?? {} },
    actions: ['closeTrouble', 'passHold'].map((type) => ({ type, params: { station: hold } })),
  };
  return {
    ...definition,
    states: {
      ...definition.states,
      [hold]: {
        ...state,
        meta: { ...state.meta, concession: true },
        on: { ...state.on, decide: [concedes] },
      },
    },
  };
}

export type Deed = JobEvent & { readonly who?: string; readonly via?: Via };

export interface Telling {
  readonly job?: string;
  readonly definition?: Definition;
  readonly workshop?: Workshop;
  readonly machine?: string;
  readonly by?: string;
  /** ms since 1970. */
  readonly at?: number;
  /** Between two events, ms. */
  readonly pace?: number;
  /** Done on first arriving at a station, before what is right there. */
  readonly before?: Readonly<Record<string, readonly Deed[]>>;
  /** Leave the job on arriving here. */
  readonly until?: string;
}

export const START = Date.parse('2026-03-02T08:00:00.000Z');

/** Really runs a job: whoever must sign on does so just before. */
export function tell(telling: Telling = {}): JournalRecord[] {
  const {
    job = '5d0b3f52-6c1e-4a8e-9a55-1f2f6c0e1a01',
    definition = finalDrive,
    workshop: people = openWorkshop,
    machine = 'LF-01',
    by = 'w-tomas',
    before = {},
  } = telling;
  const pace = telling.pace ?? 40_000;
  let at = telling.at ?? START;
  const card = people.machines.find(({ id }) => id === machine);
  if (!card) throw new Error(`There is no machine ${machine}.`);
  const opened = openingRecord(job, { definition, card, workshop: people }, { at, by, via: 'keys' }, '0.1.0');
  let state: JobState = jobFrom([opened]);
  const write = (event: JobEvent, who: string, via: Via) => {
    state = step(state, event, { at, by: who, via }).state;
  };
  const give = (event: JobEvent, who: string, via: Via, moment = at + pace) => {
    const { context } = state.snapshot;
    const last = context.signedOn[who]?.at;
    if (personOf(context, who)?.signsOn && (last === undefined || moment - last > FRESH_MS)) {
      at += 1000;
      write({ type: 'signOn', how: 'pin' }, who, 'keys');
    }
    at = Math.max(at + 1, moment);
    write(event, who, via);
  };
  const told = new Set<string>();
  while (state.snapshot.outcome === 'open' && state.records.length < 500) {
    const { station } = state.snapshot;
    if (station === telling.until) break;
    if (!told.has(station)) {
      told.add(station);
      for (const { who = by, via = 'pedal', ...event } of before[station] ?? [])
        give(event as JobEvent, who, via);
      if (state.snapshot.outcome !== 'open' || state.snapshot.station !== station) continue;
    }
    const { at: next, by: who, via: _, ...event } = rightMove(definition, state.snapshot, by, at) as Stamped;
    give(event as JobEvent, who, 'pedal', Math.max(at + pace, next));
  }
  return [...state.records];
}

/** Seals records as a bench does. */
export async function seal(records: readonly JournalRecord[], key: SigningKey): Promise<Sealed> {
  const last = records[records.length - 1];
  const jws = await signSeal(sealPayload(records, Date.parse(last?.at ?? '') + 2000, last?.by ?? ''), key);
  const { opened } = await openSeal(jws);
  if (!opened) throw new Error('Our own seal does not open.');
  return { ...opened, jws };
}

export const told = (telling: Telling = {}, sealed: Sealed | null = null): Digest =>
  digestOf(tell(telling), sealed);

const PHOTO = '9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08';

/** A job on which most things that can happen do: refusals, a failed hold, trouble with a photo, rework and a concession. */
export function eventful(
  job?: string,
): Telling & { readonly definition: Definition; readonly conceded: string } {
  const holds = holdsOf(finalDrive).filter((name) => {
    const meta = stationOf(finalDrive, name);
    return meta?.kind === 'hold' && !meta.measure && meta.applies === undefined;
  });
  const [failing = '', troubled = '', conceded = ''] = holds;
  return {
    ...(job === undefined ? {} : { job }),
    workshop: signingWorkshop,
    machine: 'LF-07',
    by: 'w-pia',
    definition: concedable(finalDrive, conceded),
    conceded,
    before: {
      [failing]: [
        { type: 'advance' },
        { type: 'confirm', evidence: { kind: 'press', heldMs: 500 } },
        { type: 'confirm', evidence: { kind: 'phrase', phrase: 'looks fine', score: 0.8 }, via: 'voice' },
        { type: 'fail', says: 'Not right yet.', via: 'voice' },
      ],
      [troubled]: [
        { type: 'note', says: '=cmd|first time at this <hold>' },
        { type: 'trouble', says: 'Thread of one bolt is torn.', via: 'voice' },
        { type: 'attach', kind: 'photo', sha256: PHOTO, bytes: 4, media: 'image/png' },
        {
          type: 'decide',
          decision: 'rework',
          station: failing,
          says: 'Renew the bolt.',
          who: 'w-ilse',
          via: 'keys',
        },
      ],
      [conceded]: [
        { type: 'trouble', says: 'Mark of a tool on the cover.', via: 'voice' },
        {
          type: 'decide',
          decision: 'concession',
          says: 'Cosmetic; does not touch the seal.',
          who: 'w-nora',
          via: 'keys',
        },
      ],
    },
  };
}
