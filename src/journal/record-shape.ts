import type { JobEvent } from '../procedure/events.ts';
import type { Wanted } from '../procedure/proof/wanted.ts';
import { either, flag, list, number, oneOf, record, tableOf } from '../procedure/proof/wanted.ts';
import type { OpenedEvent } from './record.ts';
import { HEX_64, matches, moment, name, plain, table, UUID, whole } from './shape.ts';

const evidence = either(
  'the evidence of a press or of a phrase',
  record({ kind: oneOf('press'), heldMs: number }),
  record({ kind: oneOf('phrase'), phrase: plain }, { score: number, runnerUp: plain, runnerUpScore: number }),
);

const fact = either('a fact', plain, flag);

const figure = record(
  { value: number, unit: plain, source: oneOf('card', 'entered', 'working') },
  { by: name },
);

const opened = record(
  {
    type: oneOf('job.opened'),
    // Looked at closely when the procedure is read: a record's line only holds it.
    procedure: table,
    procedureHash: matches(HEX_64, '64 hex digits'),
    machine: record({ id: plain, says: plain }),
    facts: tableOf(fact),
    figures: tableOf(figure),
    people: list(
      record(
        { id: name, name: plain, role: oneOf('mechanic', 'apprentice', 'supervisor') },
        { signsOn: flag },
      ),
    ),
    tools: list(
      record(
        { id: name, kind: name, says: plain },
        { calibratedUntil: matches(/^\d{4}-\d{2}-\d{2}$/, 'a day like 2026-01-31'), classPercent: number },
      ),
    ),
    app: plain,
  },
  {
    follows: plain,
    parts: list(record({ code: plain, says: plain }, { item: plain, figures: tableOf(number) })),
  },
);

/** The fields of every event, by type: what an event carries besides is refused, so that nothing hides in a record. */
const events = {
  'job.opened': opened,
  advance: record({ type: plain }),
  callOff: record({ type: plain, item: plain }, { toolId: plain, label: plain }),
  scan: record({ type: plain, label: plain }),
  choose: record({ type: plain, value: fact }),
  reading: record({ type: plain, value: number, unit: plain }, { toolId: plain }),
  lookUp: record({ type: plain, figure: plain, value: number, unit: plain }),
  accept: record({ type: plain, inputs: table, output: table }),
  cannot: record({ type: plain, code: plain }),
  confirm: record({ type: plain, evidence }),
  witness: record({ type: plain, evidence }),
  fail: record({ type: plain }, { says: plain }),
  open: record({ type: plain, station: plain }),
  pause: record({ type: plain }, { says: plain }),
  resume: record({ type: plain }),
  note: record({ type: plain, says: plain }),
  stop: record({ type: plain, says: plain }),
  signOn: record({ type: plain, how: oneOf('badge', 'pin', 'passkey') }),
  handOver: record({ type: plain, to: name }),
  trouble: record({ type: plain, says: plain }),
  attach: record({
    type: plain,
    kind: oneOf('photo', 'voice'),
    sha256: matches(HEX_64, '64 hex digits'),
    bytes: whole,
    media: plain,
  }),
  decide: either(
    'a decision',
    record({ type: plain, decision: oneOf('rework', 'scrap'), station: plain, says: plain }),
    record({ type: plain, decision: oneOf('concession'), says: plain }),
  ),
} satisfies Record<JobEvent['type'] | OpenedEvent['type'], Wanted>;

const fieldOf = (value: unknown, key: string): unknown =>
  typeof value === 'object' && value !== null ? Reflect.get(value, key) : undefined;

const event: Wanted = (value, where) => {
  const type = fieldOf(value, 'type');
  if (typeof type !== 'string' || !Object.hasOwn(events, type))
    return { where, wanted: 'an event of a known type' };
  return events[type as keyof typeof events](value, where);
};

const common = {
  job: matches(UUID, 'a UUID'),
  seq: whole,
  at: moment,
  by: name,
  via: oneOf('voice', 'pedal', 'keys', 'touch', 'gauge', 'scanner', 'clock', 'system'),
  event,
  station: name,
  prev: matches(HEX_64, '64 hex digits'),
  hash: matches(HEX_64, '64 hex digits'),
};
const accepted = record({ ...common, outcome: oneOf('accepted') });
const refused = record({
  ...common,
  outcome: oneOf('refused'),
  reason: record({ code: name, sentence: plain }),
});

/** Has a value exactly the fields of a journal record? */
export const recordShape: Wanted = (value, where) =>
  (fieldOf(value, 'outcome') === 'refused' ? refused : accepted)(value, where);
