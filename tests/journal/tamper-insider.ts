import { hashOf } from '../../src/journal/hash.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { replay } from '../../src/journal/replay.ts';
import { passes } from '../../src/procedure/context.ts';
import { COMPLETE } from '../../src/procedure/definition.ts';
import type { Evidence, JobEvent } from '../../src/procedure/events.ts';
import { rechained } from './play.ts';
import { pick } from './random-jobs.ts';
import type { Case, Tampering } from './tamper.ts';
import { at, openedOf, sealAnyway } from './tamper.ts';

/** Indexes of records of which the test is true. */
const where = (records: readonly JournalRecord[], test: (record: JournalRecord, before: string) => boolean) =>
  records.flatMap((record, n) => (n > 0 && test(record, at(records, n - 1).station) ? [n] : []));

const kindAt = ({ records }: Case, station: string) => openedOf(records).procedure.states[station]?.meta;

/** Accepted evidence at hold points that opens them. */
const openings = (given: Case) =>
  where(
    given.records,
    ({ outcome, event, station }, before) =>
      outcome === 'accepted' &&
      ['confirm', 'witness'].includes(event.type) &&
      kindAt(given, before)?.kind === 'hold' &&
      station !== before,
  );

/** Did this reading pass its hold, by where the procedure's ways lead? */
function passedBy(given: Case, n: number): boolean {
  const before = at(given.records, n - 1).station;
  const ways = openedOf(given.records).procedure.states[before]?.on?.reading ?? [];
  const passing = ways.find((way) => way.guard?.type === 'evidenceOpens');
  return passing?.target === at(given.records, n).station;
}

/** A forger who has the bench to himself: he chains anew, and seals with the device's own key. */
export const insiderTamperings: readonly Tampering[] = [
  {
    what: 'the definition exchanged, its hash kept, all sealed with the device key',
    reasons: ['procedure-hash-wrong'],
    make: (given) => {
      const opened = openedOf(given.records);
      const procedure = {
        ...opened.procedure,
        meta: { ...opened.procedure.meta, title: `Other ${given.draw(99)}` },
      };
      const first = { ...at(given.records, 0), event: { ...opened, procedure } };
      return sealAnyway(rechained(given.records.with(0, first)), given.key);
    },
  },
  {
    what: 'a hold point made a step in the definition, all hashed and sealed with the device key',
    reasons: ['procedure-not-proved', 'procedure-unusable'],
    make: (given) => {
      const opened = openedOf(given.records);
      const { states } = opened.procedure;
      const name = pick(
        given.draw,
        Object.keys(states).filter((one) => states[one]?.meta?.kind === 'hold'),
      );
      const station = { ...states[name], meta: { kind: 'step', say: 'Go on.' } } as never;
      const procedure = { ...opened.procedure, states: { ...states, [name]: station } };
      const event = { ...opened, procedure, procedureHash: hashOf(procedure) };
      return sealAnyway(rechained(given.records.with(0, { ...at(given.records, 0), event })), given.key);
    },
  },
  {
    what: 'evidence forged, chained and sealed with the device key',
    reasons: ['outcome-differs', 'reason-differs', 'station-differs', 'evidence-insufficient'],
    make: (given) => {
      const found = openings(given);
      if (found.length === 0) return null;
      const n = pick(given.draw, found);
      const weak: readonly Evidence[] = [
        { kind: 'press', heldMs: given.draw(1200) },
        { kind: 'phrase', phrase: 'next step' },
      ];
      const event = { ...at(given.records, n).event, evidence: pick(given.draw, weak) } as JobEvent;
      return sealAnyway(rechained(given.records.with(n, { ...at(given.records, n), event })), given.key);
    },
  },
  {
    // Only passes that stood to the end. Who has the key and leaves out a pass that was undone by going back tells a
    // story that is whole in itself: no check of a file alone can see that, which is what a log of seals is for.
    what: 'the record of a hold point that stood to the end left out, chained and sealed with the device key',
    reasons: ['outcome-differs', 'reason-differs', 'station-differs', 'event-unusable'],
    make: (given) => {
      const standing = passes(replay(given.records).snapshot.context);
      const found = openings(given).filter((n) => {
        const pass = standing[at(given.records, n - 1).station];
        return (pass?.witness ?? pass)?.at === Date.parse(at(given.records, n).at);
      });
      const last = at(given.records, given.records.length - 1).station;
      if (found.length === 0 || last !== COMPLETE) return null;
      const n = pick(given.draw, found);
      // The last record would leave the job open, which the seal cannot even say.
      return n === given.records.length - 1
        ? null
        : sealAnyway(rechained(given.records.toSpliced(n, 1)), given.key);
    },
  },
  {
    what: 'a refusal turned into an acceptance, chained and sealed with the device key',
    reasons: ['outcome-differs'],
    make: (given) => {
      const found = where(given.records, ({ outcome }) => outcome === 'refused');
      if (found.length === 0) return null;
      const n = pick(given.draw, found);
      const { reason: _, ...rest } = at(given.records, n);
      return sealAnyway(rechained(given.records.with(n, { ...rest, outcome: 'accepted' })), given.key);
    },
  },
  {
    what: 'a measured figure moved outside its limits, chained and sealed with the device key',
    reasons: ['station-differs', 'outcome-differs', 'reason-differs'],
    make: (given) => {
      const found = where(
        given.records,
        ({ outcome, event, station }, before) =>
          outcome === 'accepted' &&
          event.type === 'reading' &&
          kindAt(given, before)?.kind === 'hold' &&
          station !== before &&
          event.value > 0,
      ).filter((n) => passedBy(given, n));
      if (found.length === 0) return null;
      const n = pick(given.draw, found);
      const { event } = at(given.records, n);
      const moved = { ...event, value: event.type === 'reading' ? event.value * 40 + 1000 : 0 } as JobEvent;
      return sealAnyway(
        rechained(given.records.with(n, { ...at(given.records, n), event: moved })),
        given.key,
      );
    },
  },
];
