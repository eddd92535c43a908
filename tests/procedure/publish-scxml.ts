import { XMLParser, XMLValidator } from 'fast-xml-parser';
import type { ActionName, Definition, StateData, TransitionData } from '../../src/procedure/definition.ts';
import { WORK } from '../../src/procedure/publish/scxml.ts';

/** An element as an independent parser sees it. */
export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly Element[];
}

type Raw = Readonly<Record<string, unknown>>;

const parser = new XMLParser({
  preserveOrder: true,
  ignoreAttributes: false,
  attributeNamePrefix: '',
  parseAttributeValue: false,
  parseTagValue: false,
  processEntities: true,
  htmlEntities: true,
});

function elementsOf(list: readonly Raw[]): Element[] {
  return list.flatMap((raw): Element[] => {
    const name = Object.keys(raw).find((key) => key !== ':@') ?? '';
    if (name === '#text' || name.startsWith('?')) return [];
    const attributes = (raw[':@'] ?? {}) as Readonly<Record<string, string>>;
    return [{ name, attributes, children: elementsOf(raw[name] as readonly Raw[]) }];
  });
}

/** The root element of well-formed XML. Throws where it is not. */
export function parsed(text: string): Element {
  const valid = XMLValidator.validate(text);
  if (valid !== true) throw new Error(valid.err.msg);
  const [root, ...rest] = elementsOf(parser.parse(text) as readonly Raw[]);
  if (!root || rest.length > 0) throw new Error('Not one root element.');
  return root;
}

const childrenOf = (element: Element, name: string) =>
  element.children.filter((child) => child.name === name);

function guardOf(cond: string): NonNullable<TransitionData['guard']> {
  const [, type = '', params = ''] = /^(\w+)\((.*)\)$/.exec(cond) ?? [];
  return { type, params: JSON.parse(params) };
}

const actionsOf = (element: Element): ActionName[] =>
  childrenOf(element, 'hf:action').map(({ attributes }) => ({
    type: attributes.name ?? '',
    params: JSON.parse(attributes.params ?? ''),
  }));

function wayOf(element: Element, root: boolean): TransitionData {
  const { cond, target } = element.attributes;
  const actions = actionsOf(element);
  return {
    ...(target === undefined ? {} : { target: root ? `.${target}` : target }),
    ...(cond === undefined ? {} : { guard: guardOf(cond) }),
    ...(actions.length > 0 ? { actions } : {}),
  };
}

function onOf(element: Element, root: boolean): Record<string, TransitionData[]> {
  const on: Record<string, TransitionData[]> = {};
  for (const way of childrenOf(element, 'transition')) {
    const { event } = way.attributes;
    if (event !== undefined) on[event] = [...(on[event] ?? []), wayOf(way, root)];
  }
  return on;
}

function stateOf(element: Element): StateData {
  const [data] = childrenOf(element, 'datamodel').flatMap((model) => childrenOf(model, 'data'));
  const always = childrenOf(element, 'transition').filter(({ attributes }) => attributes.event === undefined);
  const [entry] = childrenOf(element, 'onentry');
  return {
    ...JSON.parse(data?.attributes.expr ?? '{}'),
    ...(entry ? { entry: actionsOf(entry) } : {}),
    ...(always.length > 0 ? { always: always.map((way) => wayOf(way, false)) } : {}),
    on: onOf(element, false),
  };
}

/** The definition that an exported chart describes, read back from its XML alone. */
export function definitionIn(text: string): Definition {
  const root = parsed(text);
  const [model] = childrenOf(root, 'datamodel');
  const head = model?.children.find(({ attributes }) => attributes.id === 'procedure_head');
  const [work] = childrenOf(root, 'state');
  if (!work || work.attributes.id !== WORK) throw new Error('No state around the stations.');
  const states = childrenOf(work, 'state').map((one) => [one.attributes.id ?? '', stateOf(one)] as const);
  const finals = childrenOf(root, 'final').map(
    ({ attributes }) => [attributes.id ?? '', { type: 'final' as const }] as const,
  );
  return {
    id: root.attributes.name ?? '',
    initial: work.attributes.initial ?? '',
    meta: JSON.parse(head?.attributes.expr ?? '{}'),
    states: Object.fromEntries([...states, ...finals]),
    on: onOf(work, true),
  };
}
