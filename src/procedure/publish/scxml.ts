import canonicalize from 'canonicalize';
import type { ActionName, Definition, GuardName, StateData, TransitionData } from '../definition.ts';
import { COMPLETE, STOPPED } from '../definition.ts';
import { revisionHash } from '../proof/certificate.ts';
import type { HoldStation } from '../station.ts';
import { stationOrder } from './order.ts';
import { amountInWords } from './words.ts';
import { type Xml, xml, xmlText } from './xml.ts';

/** Namespace of State Chart XML (W3C Recommendation of 1 September 2015, section 3.2). */
export const SCXML = 'http://www.w3.org/2005/07/scxml';
/** Namespace of what a procedure has besides: its hold points, and its actions as executable content. */
export const OURS = 'urn:holdfast:procedure:1';

/** The state around all stations, which has what can be done at every one of them. No station can have this name. */
export const WORK = 'the_work';

const json = (value: unknown): string => canonicalize(value) ?? 'null';

/**
 * A condition as an ECMAScript call, `evidenceOpens({"station":"clipWay"})`: the guards are functions that the host has
 * to bring. To a processor that lacks them each condition is an error, and that counts as false (section 5.9.1): no hold
 * point opens by accident.
 */
const conditionOf = (guard: GuardName): string => `${guard.type}(${json(guard.params)})`;

const actionOf = ({ type, params }: ActionName): Xml =>
  xml('hf:action', { name: type, params: json(params) });

/** Root ways lead to `.station` in the definition: here the target is the station, and the way is internal to the work. */
function transition(event: string | undefined, way: TransitionData): Xml {
  const inner = way.target?.startsWith('.') ? way.target.slice(1) : way.target;
  const internal = way.target !== inner && inner !== STOPPED && inner !== COMPLETE;
  return xml(
    'transition',
    {
      event,
      cond: way.guard && conditionOf(way.guard),
      target: inner,
      type: internal ? 'internal' : undefined,
    },
    ...(way.actions ?? []).map(actionOf),
  );
}

const ways = (on: Readonly<Record<string, readonly TransitionData[]>> | undefined): Xml[] =>
  Object.entries(on ?? {}).flatMap(([event, list]) => list.map((way) => transition(event, way)));

function state(name: string, { meta, tags, entry, always, on }: StateData): Xml {
  return xml(
    'state',
    { id: name },
    xml(
      'datamodel',
      {},
      xml('data', { id: `station_${name}`, expr: json({ meta, ...(tags ? { tags } : {}) }) }),
    ),
    ...(entry ? [xml('onentry', {}, ...entry.map(actionOf))] : []),
    ...(always ?? []).map((way) => transition(undefined, way)),
    ...ways(on),
  );
}

/** What a hold point asks for, readable without the rest. */
function holdData(name: string, hold: HoldStation, definition: Definition): Xml {
  const { measure, applies } = hold;
  const say = (amount: Parameters<typeof amountInWords>[0]) =>
    amount === undefined ? undefined : amountInWords(amount, definition);
  return xml(
    'hf:hold',
    {
      station: name,
      phrase: hold.phrase,
      witness: hold.witness,
      concession: hold.concession ? 'true' : undefined,
      say: hold.say,
      why: hold.why,
    },
    ...Object.entries(applies ?? {}).map(([fact, value]) => xml('hf:applies', { fact, value: json(value) })),
    ...(measure
      ? [
          xml('hf:measure', {
            name: measure.name,
            label: measure.label,
            unit: measure.unit,
            target: say(measure.target),
            min: say(measure.min),
            max: say(measure.max),
            tolerancePercent: measure.tolerancePercent?.toString(),
            tool: measure.tool,
          }),
        ]
      : []),
  );
}

/** A procedure as State Chart XML, for other tools: every state, way, guard, action and final of it, in the order of the job. */
export function toScxml(definition: Definition): string {
  const order = stationOrder(definition);
  const holds = order.flatMap((name) => {
    const meta = definition.states[name]?.meta;
    return meta?.kind === 'hold' ? [holdData(name, meta, definition)] : [];
  });
  const ends = Object.entries(definition.states).filter(([, { type }]) => type === 'final');
  const root = xml(
    'scxml',
    {
      xmlns: SCXML,
      'xmlns:hf': OURS,
      version: '1.0',
      name: definition.id,
      datamodel: 'ecmascript',
      initial: WORK,
    },
    xml(
      'datamodel',
      {},
      xml('data', { id: 'procedure_head', expr: json(definition.meta) }),
      xml('data', { id: 'procedure_hash', expr: json(revisionHash(definition)) }),
      ...(holds.length > 0 ? [xml('data', { id: 'hold_points' }, ...holds)] : []),
    ),
    xml(
      'state',
      { id: WORK, initial: definition.initial },
      ...ways(definition.on),
      ...order.flatMap((name) => {
        const at = definition.states[name];
        return at ? [state(name, at)] : [];
      }),
    ),
    ...ends.map(([name]) => xml('final', { id: name })),
  );
  return `<?xml version="1.0" encoding="UTF-8"?>\n${xmlText(root)}`;
}
