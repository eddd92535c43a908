import { canonicalEqual } from '../canonical-equal.ts';
import type { Definition, StateData, TransitionData } from '../definition.ts';
import { COMPLETE, STOPPED, stationOf } from '../definition.ts';
import { everywhere } from '../procedure.ts';
import type { ForkStation } from '../station.ts';
import type { Finding } from './finding.ts';
import { finding } from './finding.ts';
import { NOWHERE, rebuilt, stationNames } from './rebuild.ts';

/** Names that plain objects already have: a station of that name would seem to be there where it is not. */
const TAKEN = new Set([...Object.getOwnPropertyNames(Object.prototype), 'prototype', COMPLETE, STOPPED]);

/** Can this be the name of a station, a fact, a figure, a tool, a reading? */
export const usableName = (name: string): boolean =>
  /^[A-Za-z][A-Za-z0-9]{0,63}$/.test(name) && !TAKEN.has(name);

/**
 * Departures from what `procedure()` and the vocabulary make of the same stations: a state may have exactly the ways
 * out that its kind demands, with their guards and actions, and nothing else.
 */
export function shapeFindings(definition: Definition): Finding[] {
  const stations = stationNames(definition);
  const exists = new Set([...stations, COMPLETE]);
  const start = exists.has(definition.initial) && definition.initial !== COMPLETE;
  return [
    ...(start ? [] : [finding(null, 'start-unknown', { name: definition.initial })]),
    ...endFindings(definition),
    ...everywhereFindings(definition, stations),
    ...stations.flatMap((name) => [
      ...(usableName(name) ? [] : [finding(name, 'name-unusable', { name })]),
      ...stateFindings(definition, name, exists),
    ]),
  ];
}

function endFindings(definition: Definition): Finding[] {
  const ends = Object.keys(definition.states).filter((name) => stationOf(definition, name) === null);
  return [...new Set([...ends, COMPLETE, STOPPED])]
    .filter((name) => {
      const named = name === COMPLETE || name === STOPPED;
      return !named || !canonicalEqual(definition.states[name], { type: 'final' });
    })
    .map((name) => finding(name, 'ends-altered', { name }));
}

function everywhereFindings(definition: Definition, stations: readonly string[]): Finding[] {
  const wanted = everywhere(stations);
  const events = [...new Set([...Object.keys(wanted), ...Object.keys(definition.on)])];
  // Storing JSON in canonical form sorts the states: the order of the ways back does not matter.
  const sorted = (ways: readonly TransitionData[] = []) =>
    [...ways].sort((a, b) => ((a.target ?? '') < (b.target ?? '') ? -1 : 1));
  return events
    .filter((event) => !canonicalEqual(sorted(wanted[event]), sorted(definition.on[event])))
    .map((event) => finding(null, 'everywhere-altered', { event }));
}

function stateFindings(definition: Definition, name: string, exists: ReadonlySet<string>): Finding[] {
  const state = definition.states[name];
  const wanted = state && rebuilt(name, state);
  if (!state?.meta || !wanted) return [];
  const { kind } = state.meta;
  const known = ['meta', 'tags', 'entry', 'always', 'on'];
  const events = [...new Set([...Object.keys(wanted.on ?? {}), ...Object.keys(state.on ?? {})])];
  const tags = wanted.tags ? `"${wanted.tags.join(', ')}"` : 'left out';
  return [
    ...Object.keys(state)
      .filter((part) => !known.includes(part))
      .map((part) => finding(name, 'state-altered', { kind, part })),
    ...(canonicalEqual(state.tags, wanted.tags)
      ? []
      : [finding(name, 'tags-altered', { kind, wanted: tags })]),
    ...(canonicalEqual(state.entry, wanted.entry) ? [] : [finding(name, 'arrival-altered')]),
    ...waysFindings(name, kind, 'always', state.always, wanted.always, exists),
    ...events.flatMap((event) =>
      waysFindings(name, kind, event, state.on?.[event], wanted.on?.[event], exists),
    ),
    ...(state.meta.kind === 'fork' ? forkFindings(definition, name, state.meta, state) : []),
  ];
}

function waysFindings(
  name: string,
  kind: string,
  event: string,
  has: readonly TransitionData[] | undefined,
  wanted: readonly TransitionData[] | undefined,
  exists: ReadonlySet<string>,
): Finding[] {
  const wayOf = (way: TransitionData | undefined) =>
    event === 'always'
      ? `way on by itself (${way?.guard?.type ?? 'unguarded'})`
      : `way on "${event}" (${way?.guard?.type ?? 'unguarded'})`;
  if (wanted === undefined) {
    return (has ?? [undefined]).flatMap((way) =>
      has === undefined ? [] : [finding(name, 'way-extra', { kind, way: wayOf(way) })],
    );
  }
  const count = Math.max(has?.length ?? 0, wanted.length);
  return Array.from({ length: count }).flatMap((_, at): Finding[] => {
    const given = has?.[at];
    const right = wanted[at];
    if (!right) return [finding(name, 'way-extra', { kind, way: wayOf(given) })];
    if (!given) return [finding(name, 'way-missing', { kind, way: `the ${wayOf(right)}` })];
    const lostTarget = right.target === NOWHERE;
    if (lostTarget && given.target === undefined) {
      return [finding(name, 'way-missing', { kind, way: `a target for the ${wayOf(right)}` })];
    }
    const parts = (['target', 'guard', 'actions'] as const).filter(
      (part) => !(lostTarget && part === 'target') && !canonicalEqual(given[part], right[part]),
    );
    const altered = parts.map((part) =>
      finding(name, 'way-altered', { kind, part, way: `the ${wayOf(given)}`, wanted: inWords(right[part]) }),
    );
    const extra = Object.keys(given)
      .filter((part) => !['target', 'guard', 'actions'].includes(part))
      .map((part) => finding(name, 'state-altered', { kind, part }));
    const lost = given.target !== undefined && !exists.has(given.target);
    const unknown = lost ? [finding(name, 'target-unknown', { name: given.target ?? '' })] : [];
    return [...altered, ...extra, ...unknown];
  });
}

const inWords = (part: unknown): string => (part === undefined ? 'nothing' : JSON.stringify(part));

/** Every value of the fact has one way. */
function forkFindings(definition: Definition, name: string, fork: ForkStation, state: StateData): Finding[] {
  const declared = Object.hasOwn(definition.meta.facts, fork.fact)
    ? definition.meta.facts[fork.fact]
    : undefined;
  if (!declared) return [];
  const { fact } = fork;
  const count = (value: unknown) => fork.choices.filter((choice) => choice.value === value).length;
  const missing = declared.values.filter((value) => count(value) === 0);
  const twice = declared.values.filter((value) => count(value) > 1);
  const strange = fork.choices.filter((choice) => !declared.values.includes(choice.value));
  const ways = state.on?.choose?.length ?? 0;
  return [
    ...missing.map((value) => finding(name, 'fork-incomplete', { fact, value: String(value) })),
    ...twice.map((value) => finding(name, 'fork-overlaps', { fact, value: String(value) })),
    ...strange.map(({ value }) => finding(name, 'fact-value-unknown', { fact, value: String(value) })),
    ...(ways > fork.choices.length ? [finding(name, 'fork-overlaps', { fact, value: 'a value' })] : []),
  ];
}
