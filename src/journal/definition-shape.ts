import type { Check } from './shape.ts';
import {
  anything,
  either,
  fields,
  flag,
  isTable,
  list,
  literal,
  name,
  number,
  table,
  tableOf,
  text,
  whole,
} from './shape.ts';

const param = either('text or true or false', text, flag);
const named = fields({ type: name, params: tableOf(param) });
const transition = fields({}, { target: name, guard: named, actions: list(named) });
const transitions = tableOf(list(transition));

const amount = either(
  'an amount',
  number,
  fields({ figure: name }, { plus: number }),
  fields({ reading: name }),
  fields({ result: name, of: name }),
);
const measure = fields(
  { name, label: text, unit: text },
  { target: amount, min: amount, max: amount, tolerancePercent: number, tool: name },
);
const condition = tableOf(
  either('a fact or a list of facts', text, flag, list(either('a fact', text, flag))),
);

const hold = fields(
  { kind: literal('hold'), phrase: text, witness: literal('never', 'apprentice', 'always') },
  { applies: condition, measure },
  true,
);
const reading = fields({ kind: literal('reading'), measure }, {}, true);
const other = fields(
  { kind: literal('step', 'kit', 'fork', 'working', 'round', 'wait', 'lookUp') },
  { measure: (_, place) => `${place} does not belong to this kind of station` },
  true,
);
/** What stations say and show is for the proof of a procedure to judge; here counts what evidence is weighed by. */
const station: Check = (value, place) => {
  const kind = isTable(value) ? value.kind : undefined;
  return (kind === 'hold' ? hold : kind === 'reading' ? reading : other)(value, place);
};

// Nothing of XState beyond this: no invoke, no after, no states within states. A record is somebody else's data.
const state = either(
  'a station or an end as procedures have them',
  fields({ type: literal('final') }),
  fields(
    { meta: station, on: transitions, entry: list(named) },
    { tags: list(text), always: list(transition) },
  ),
);

const shape = fields({
  id: name,
  initial: name,
  meta: fields(
    {
      title: text,
      revision: whole,
      covers: text,
      facts: tableOf(fields({ values: list(either('a fact', text, flag)), says: text }, {}, true)),
      figures: tableOf(fields({ says: text, unit: text, plausible: list(number) }, {}, true)),
      tools: tableOf(fields({ says: text }, { calibrated: flag }, true)),
    },
    { followUp: anything },
    true,
  ),
  states: tableOf(state),
  on: transitions,
});

type States = Readonly<Record<string, unknown>>;

/** Where a state leads by itself. A way without a target stays, and would be taken for ever. */
function onward(states: States, from: string): string[] {
  const state = Object.hasOwn(states, from) ? states[from] : undefined;
  const always = isTable(state) && Array.isArray(state.always) ? state.always : [];
  return always.map((way) => (isTable(way) && typeof way.target === 'string' ? way.target : from));
}

/**
 * A ring of stations that pass by themselves would never come to rest. Names one in or before such a ring, or null:
 * whoever leads only to stations that come to rest does so too, and who is left over in the end does not.
 */
function restless(states: States): string | null {
  const waiting = new Map(Object.keys(states).map((name) => [name, onward(states, name).length]));
  const before = new Map<string, string[]>();
  for (const name of waiting.keys()) {
    for (const to of onward(states, name)) before.set(to, [...(before.get(to) ?? []), name]);
  }
  const atRest = [...waiting].filter(([, ways]) => ways === 0).map(([name]) => name);
  for (let name = atRest.pop(); name !== undefined; name = atRest.pop()) {
    waiting.delete(name);
    for (const from of before.get(name) ?? []) {
      const left = (waiting.get(from) ?? 0) - 1;
      waiting.set(from, left);
      if (left === 0) atRest.push(from);
    }
  }
  return [...waiting.keys()][0] ?? null;
}

/** Can this be run at all, and has what hold points are judged by the right form? Says where not, or null. */
export const definitionShape: Check = (value, place) => {
  const misfit = table(value, place) ?? shape(value, place);
  if (misfit) return misfit;
  const ring = restless((value as { states: States }).states);
  return ring === null ? null : `${place}: "${ring}" passes by itself and never comes to rest`;
};
