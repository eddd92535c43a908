import type { Definition } from '../definition.ts';
import type { Finding } from './finding.ts';
import { finding } from './finding.ts';
import type { Wanted } from './wanted.ts';
import { each, either, flag, list, number, oneOf, record, tableOf, text, words } from './wanted.ts';

const params = tableOf(either('text, true or false', text, flag));
const named = record({ type: text, params });
const transition = record({}, { target: text, guard: named, actions: list(named) });
const transitions = tableOf(list(transition));

const factValue = either('text, true or false', text, flag);
const condition = tableOf(either('a value of the fact or a list of values', factValue, list(factValue)));
const amount = either(
  'a number or { figure }, { reading } or { result, of }',
  number,
  record({ figure: text }, { plus: number }),
  record({ reading: text }),
  record({ result: text, of: text }),
);

const measure = record(
  { name: text, label: words, unit: text },
  { target: amount, min: amount, max: amount, tolerancePercent: number, tool: text },
);
const caution = record(
  { word: oneOf('danger', 'warning', 'caution', 'notice'), text: words },
  { why: words },
);
const shownAmount = record({ label: words, amount, unit: text });
const shown = { say: words };
const alsoShown = { cautions: list(caution), why: words, drawing: text, shows: list(shownAmount) };

const kitItem = record(
  { key: text, calls: words, kind: oneOf('protective', 'tool', 'part', 'consumable', 'person') },
  { tool: text, when: condition },
);
const choice = record({ value: factValue, phrase: words });
const need = record({ figure: text }, { when: condition });
const answer = record({ key: text, label: words, unit: text });

/** How deep an input of a working may be nested. */
const DEPTH = 6;

const input: Wanted = (value, where, depth = 0) => {
  if (depth > DEPTH) return { where, wanted: 'nested less deeply' };
  if (typeof value === 'string') return null;
  if (typeof value === 'number') return number(value, where);
  return each(value, where, (inner, at) => input(inner, at, depth + 1)) ?? null;
};

const kinds: Readonly<Record<string, Wanted>> = {
  step: station('step', {}, { rework: oneOf(true), fits: text }),
  hold: station(
    'hold',
    { phrase: words, why: words, witness: oneOf('never', 'apprentice', 'always') },
    { applies: condition, measure, concession: oneOf(true) },
  ),
  reading: station('reading', { measure }),
  kit: station('kit', { items: list(kitItem) }),
  fork: station('fork', { fact: text, choices: list(choice) }),
  working: station(
    'working',
    { working: text, inputs: tableOf(input), answers: list(answer) },
    { gives: tableOf(text) },
  ),
  round: station('round', { fasteners: amount, passes: list(words), fastener: words }),
  wait: station('wait', { minutes: amount }),
  lookUp: station('lookUp', { needs: list(need) }),
};

function station(kind: string, own: Record<string, Wanted>, also: Record<string, Wanted> = {}): Wanted {
  return record({ kind: oneOf(kind), ...shown, ...own }, { ...alsoShown, ...also });
}

const meta: Wanted = (value, where) => {
  const kind = typeof value === 'object' && value !== null && 'kind' in value ? String(value.kind) : '';
  const wanted = Object.hasOwn(kinds, kind) ? kinds[kind] : undefined;
  return wanted ? wanted(value, where) : { where: `${where}.kind`, wanted: Object.keys(kinds).join(', ') };
};

const state = record(
  {},
  {
    meta,
    tags: list(text),
    type: oneOf('final'),
    entry: list(named),
    always: list(transition),
    on: transitions,
  },
);

const facts = tableOf(record({ values: list(factValue), says: words }));
const figures = tableOf(record({ says: words, unit: text, plausible: list(number) }));
const tools = tableOf(record({ says: words }, { calibrated: flag }));
const followUp = record({ procedure: text, says: words, afterHours: number });
const head = record({ title: words, revision: number, covers: words, facts, figures, tools }, { followUp });

const definition = record({ id: text, initial: text, meta: head, states: tableOf(state), on: transitions });

/**
 * Reads unknown JSON as a definition: every part has the type that the machine and the proofs rely on, and there is
 * nothing besides. A misfit is a finding, never an exception.
 */
export function readDefinition(
  value: unknown,
): { readonly definition: Definition } | { readonly findings: Finding[] } {
  const misfit = definition(value, '') ?? limits(value as Definition);
  if (!misfit) return { definition: value as Definition };
  const [, place] = /^states\.([^.[]+)/.exec(misfit.where) ?? [];
  const where = misfit.where === '' ? 'the file' : misfit.where;
  return { findings: [finding(place ?? null, 'not-a-procedure', { where, wanted: misfit.wanted })] };
}

/** What a type does not say: whole and sensible numbers, pairs, lists that hold something. */
function limits({ id, meta, states }: Definition): { where: string; wanted: string } | null {
  if (!/^[a-z][a-z0-9-]{0,63}$/.test(id)) return { where: 'id', wanted: 'small letters, digits and dashes' };
  if (!Number.isSafeInteger(meta.revision) || meta.revision < 1) {
    return { where: 'meta.revision', wanted: 'a whole number from 1' };
  }
  if (Object.keys(states).length > 5000) return { where: 'states', wanted: 'at most 5000 states' };
  for (const [name, { plausible }] of Object.entries(meta.figures)) {
    if (plausible.length !== 2) return { where: `meta.figures.${name}.plausible`, wanted: 'two numbers' };
  }
  for (const [name, { values }] of Object.entries(meta.facts)) {
    const distinct = new Set(values).size === values.length;
    if (values.length < 2 || !distinct)
      return { where: `meta.facts.${name}.values`, wanted: 'two values or more, all different' };
  }
  return null;
}
