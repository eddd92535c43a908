import type { JobEvent } from '../procedure/events.ts';
import { definitionShape } from './definition-shape.ts';
import type { OpenedEvent } from './record.ts';
import type { Check } from './shape.ts';
import {
  either,
  fields,
  flag,
  HEX_64,
  isTable,
  list,
  literal,
  matches,
  moment,
  name,
  number,
  table,
  tableOf,
  text,
  UUID,
  whole,
} from './shape.ts';

const evidence = either(
  'the evidence of a press or of a phrase',
  fields({ kind: literal('press'), heldMs: number }),
  fields({ kind: literal('phrase'), phrase: text }, { score: number, runnerUp: text, runnerUpScore: number }),
);

const fact = either('a fact', text, flag);

const figure = fields(
  { value: number, unit: text, source: literal('card', 'entered', 'working') },
  { by: name },
);

const opened = fields(
  {
    type: literal('job.opened'),
    procedure: definitionShape,
    procedureHash: matches(HEX_64, '64 hex digits'),
    machine: fields({ id: text, says: text }),
    facts: tableOf(fact),
    figures: tableOf(figure),
    people: list(fields({ id: name, name: text, role: literal('mechanic', 'apprentice', 'supervisor') })),
    tools: list(
      fields(
        { id: name, kind: name, says: text },
        { calibratedUntil: matches(/^\d{4}-\d{2}-\d{2}$/, 'a day like 2026-01-31'), classPercent: number },
      ),
    ),
    app: text,
  },
  { follows: text },
);

/** The fields of every event, by type: what an event carries besides is refused, so that nothing hides in a record. */
const events = {
  'job.opened': opened,
  advance: fields({ type: text }),
  callOff: fields({ type: text, item: text }, { toolId: text }),
  choose: fields({ type: text, value: fact }),
  reading: fields({ type: text, value: number, unit: text }, { toolId: text }),
  lookUp: fields({ type: text, figure: text, value: number, unit: text }),
  accept: fields({ type: text, inputs: table, output: table }),
  cannot: fields({ type: text, code: text }),
  confirm: fields({ type: text, evidence }),
  witness: fields({ type: text, evidence }),
  fail: fields({ type: text }, { says: text }),
  open: fields({ type: text, station: text }),
  pause: fields({ type: text }, { says: text }),
  resume: fields({ type: text }),
  note: fields({ type: text, says: text }),
  stop: fields({ type: text, says: text }),
} satisfies Record<JobEvent['type'] | OpenedEvent['type'], Check>;

const event: Check = (value, place) => {
  const type = isTable(value) ? value.type : undefined;
  if (typeof type !== 'string' || !Object.hasOwn(events, type)) return `${place} is of no type that is known`;
  return events[type as keyof typeof events](value, place);
};

const common = {
  job: matches(UUID, 'a UUID'),
  seq: whole,
  at: moment,
  by: name,
  via: literal('voice', 'pedal', 'keys', 'touch', 'gauge', 'scanner', 'clock', 'system'),
  event,
  station: name,
  prev: matches(HEX_64, '64 hex digits'),
  hash: matches(HEX_64, '64 hex digits'),
};
const accepted = fields({ ...common, outcome: literal('accepted') });
const refused = fields({
  ...common,
  outcome: literal('refused'),
  reason: fields({ code: name, sentence: text }),
});

/** Has a value exactly the fields of a journal record? Says where not, or null. */
export const recordShape: Check = (value, place) =>
  (isTable(value) && value.outcome === 'refused' ? refused : accepted)(value, place);
