import { describe, expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import recheck from '../../procedures/final-drive-recheck/index.ts';
import { canonicalEqual } from '../../src/procedure/canonical-equal.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { COMPLETE, STOPPED } from '../../src/procedure/definition.ts';
import { hold, procedure, step } from '../../src/procedure/index.ts';
import { revisionHash } from '../../src/procedure/proof/certificate.ts';
import { toScxml } from '../../src/procedure/publish/scxml.ts';
import { generate, seeded } from './generate.ts';
import { mutantsOf } from './mutants.ts';
import { definitionIn, type Element, parsed } from './publish-scxml.ts';
import { sample } from './sample.ts';

/*
 * Rules of State Chart XML, held against what is exported. Element names, attributes and content models: the W3C's own
 * XML Schema, module scxml-module-core.xsd (w3.org/2011/04/SCXML, opened), which follows the Recommendation of 1
 * September 2015: 3.2 scxml, 3.3 state, 3.5 transition, 3.7 final, 3.8 onentry. Of data, 5.3: id needed; src, expr and
 * children exclude each other (the text of 5.3 as quoted in a public tutorial, opened). Section numbers, 3.14 (IDs),
 * 4.10 (executable content of other namespaces) and 5.9.1 (a condition that fails is false): from memory.
 */
const RULES: Readonly<Record<string, { attributes: readonly string[]; children: readonly string[] }>> = {
  scxml: {
    attributes: ['initial', 'name', 'version', 'datamodel', 'binding', 'xmlns', 'xmlns:hf'],
    children: ['state', 'parallel', 'final', 'datamodel', 'script'],
  },
  state: {
    attributes: ['id', 'initial'],
    children: [
      ...['onentry', 'onexit', 'transition', 'initial', 'state', 'parallel'],
      ...['final', 'history', 'datamodel', 'invoke'],
    ],
  },
  final: { attributes: ['id'], children: ['onentry', 'onexit', 'donedata'] },
  onentry: { attributes: [], children: ['hf:action'] },
  transition: { attributes: ['event', 'cond', 'target', 'type'], children: ['hf:action'] },
  datamodel: { attributes: [], children: ['data'] },
  data: { attributes: ['id', 'src', 'expr'], children: ['hf:hold'] },
};

/** XML 1.0: an NCName that is also an ECMAScript identifier, because data become variables. */
const NAME = /^[A-Za-z][A-Za-z0-9_]*$/;
/** 3.5: event descriptors, alphanumeric, parted by dots and spaces. */
const EVENTS = /^[A-Za-z][A-Za-z0-9]*(\.[A-Za-z0-9]+)*$/;

function breaches(root: Element): string[] {
  const found: string[] = [];
  const all: Element[] = [];
  const visit = (element: Element) => {
    all.push(element);
    for (const child of element.children) visit(child);
  };
  visit(root);
  const ids = all.flatMap(({ name, attributes }) =>
    !name.startsWith('hf:') && attributes.id !== undefined ? [attributes.id] : [],
  );
  if (new Set(ids).size !== ids.length) found.push('an id is used twice');
  for (const id of ids) if (!NAME.test(id)) found.push(`the id ${id} is no name`);
  const states = new Set(
    all.filter(({ name }) => name === 'state' || name === 'final').map(({ attributes }) => attributes.id),
  );
  for (const { name, attributes, children } of all) {
    if (name.startsWith('hf:')) continue;
    const rule = RULES[name];
    if (!rule) {
      found.push(`there is no element ${name}`);
      continue;
    }
    for (const key of Object.keys(attributes))
      if (!rule.attributes.includes(key)) found.push(`${name} has no attribute ${key}`);
    for (const child of children)
      if (!rule.children.includes(child.name)) found.push(`${name} has no child ${child.name}`);
    if (name === 'scxml' && attributes.version !== '1.0') found.push('the version must be 1.0');
    if (name === 'scxml' && attributes.xmlns !== 'http://www.w3.org/2005/07/scxml') found.push('namespace');
    if (name === 'data') {
      const given = [attributes.src, attributes.expr, children.length > 0 ? '' : undefined];
      if (given.filter((one) => one !== undefined).length > 1) found.push('data given twice');
      if (attributes.id === undefined) found.push('data without an id');
    }
    if (name === 'transition') {
      const { event, cond, target, type } = attributes;
      // 3.5.1: a transition must specify at least one of event, cond or target (from memory).
      if (event === undefined && cond === undefined && target === undefined) found.push('empty transition');
      if (event !== undefined && !EVENTS.test(event)) found.push(`the event ${event}`);
      if (type !== undefined && !['internal', 'external'].includes(type)) found.push(`the type ${type}`);
    }
    for (const to of [attributes.target, attributes.initial])
      if (to !== undefined && !states.has(to)) found.push(`${to} is no state`);
    // 3.3.2: an atomic state must not have an initial; a compound one names a child of its own (from memory).
    const inner = children.filter((child) => child.name === 'state' || child.name === 'final');
    if (name === 'state' && attributes.initial !== undefined)
      if (!inner.some((child) => child.attributes.id === attributes.initial))
        found.push('a stranger’s initial');
  }
  return found;
}

const all: readonly (readonly [string, Definition])[] = [
  ['sample', sample],
  ['final-drive', finalDrive],
  ['final-drive-recheck', recheck],
];

describe.each(all)('%s as State Chart XML', (_, definition) => {
  const text = toScxml(definition);
  const root = parsed(text);

  test('keeps the rules of elements, attributes, ids and targets', () => {
    expect(breaches(root)).toEqual([]);
  });

  test('comes back as the same data: states, ways, events, guards, actions, finals', () => {
    const back = definitionIn(text);
    expect(Object.keys(back.states).sort()).toEqual(Object.keys(definition.states).sort());
    expect(canonicalEqual(back, definition)).toBe(true);
    expect(revisionHash(back)).toBe(revisionHash(definition));
    expect(toScxml(back)).toBe(text);
  });

  test('has exactly the finals and hold points of the procedure', () => {
    const finals = root.children
      .filter(({ name }) => name === 'final')
      .map(({ attributes }) => attributes.id);
    expect(finals.sort()).toEqual([COMPLETE, STOPPED]);
    const named = [...text.matchAll(/<hf:hold station="(\w+)" phrase="([^"]+)" witness="(\w+)"/g)];
    const holds = Object.entries(definition.states).flatMap(([name, { meta }]) =>
      meta?.kind === 'hold' ? [[name, meta.phrase, meta.witness]] : [],
    );
    expect(named.map(([, ...parts]) => parts).sort()).toEqual(holds.sort());
  });
});

test('the rules see what is wrong', () => {
  const text = toScxml(sample);
  const harm = (from: string | RegExp, to: string) => breaches(parsed(text.replace(from, to)));
  expect(harm('version="1.0" name', 'version="1.1" name')).not.toEqual([]);
  expect(harm('target="slack"', 'target="nowhere"')).not.toEqual([]);
  expect(harm('<final id="complete"/>', '<final id="complete" type="end"/>')).not.toEqual([]);
  expect(harm('id="station_kit"', 'id="kit"')).not.toEqual([]);
  expect(harm('initial="kit"', 'initial="complete"')).not.toEqual([]);
  expect(harm(/cond="/, 'condition="')).not.toEqual([]);
});

test('generated procedures come back as well, and harmed ones as harmed', () => {
  for (let seed = 1; seed <= 20; seed++) {
    const definition = generate({ stations: 30, seed });
    expect(canonicalEqual(definitionIn(toScxml(definition)), definition)).toBe(true);
  }
  const kept = mutantsOf(sample, seeded(2)).filter(({ operator }) =>
    ['retarget a pass', 'swap pass and fail', 'ask for no witness', 'turn the ways of a fork round'].includes(
      operator,
    ),
  );
  expect(kept.length).toBeGreaterThan(3);
  for (const { definition } of kept)
    expect(canonicalEqual(definitionIn(toScxml(definition)), definition)).toBe(true);
});

test('signs that XML reads otherwise come through', () => {
  const odd = procedure({
    id: 'odd',
    title: 'Ends < 3 mm & "tight"',
    revision: 1,
    covers: "It's 5 > 4.",
    facts: {},
    figures: {},
    tools: {},
    initial: 'a',
    states: {
      a: step({ say: 'Ä “quote” & <tag> ]]> é 10 N·m', next: 'b' }),
      b: hold({ say: 'x', phrase: 'it\'s "home" & dry', why: 'a < b', pass: 'complete', fail: 'a' }),
    },
  });
  expect(definitionIn(toScxml(odd))).toEqual(odd);
});
