import type { Definition, StateData, TransitionData } from '../definition.ts';
import { everywhere } from '../procedure.ts';
import { type Edge, graphOf } from '../proof/graph.ts';
import { stationNames } from '../proof/rebuild.ts';
import type { Tell } from './difference.ts';
import { same } from './same.ts';
import { stationInWords, wayInWords } from './words.ts';

type Ways = readonly (readonly [event: string, way: TransitionData])[];

const waysOf = (state: StateData): Ways =>
  [['always', state.always ?? []] as const, ...Object.entries(state.on ?? {})].flatMap(([event, list]) =>
    (Array.isArray(list) ? (list as readonly TransitionData[]) : []).map((way) => [event, way] as const),
  );

/** What a way is, apart from where it leads. */
const keyOf = (event: string, { guard }: TransitionData): string =>
  `${event} ${guard?.type ?? ''} ${JSON.stringify(guard?.params?.value ?? null)}`;

/** Tells where the ways of a state lead now, unless only stations that came or went lie between. */
export function wayDifferences(
  name: string,
  states: readonly [StateData, StateData],
  between: (before: string | undefined, after: string | undefined) => boolean,
  definitions: readonly [Definition, Definition],
  tell: Tell,
): void {
  const [before, after] = states.map(waysOf) as [Ways, Ways];
  const targets = (ways: Ways) => {
    const all = new Map<string, { says: string; to: (string | undefined)[] }>();
    for (const [event, way] of ways) {
      const key = keyOf(event, way);
      const station = (ways === before ? states[0] : states[1]).meta;
      const entry = all.get(key) ?? { says: wayInWords(station, event, way), to: [] };
      entry.to.push(way.target);
      all.set(key, entry);
    }
    return all;
  };
  const [was, is] = [targets(before), targets(after)];
  const told = new Set<string>();
  for (const [key, now] of is) {
    const old = was.get(key);
    if (!old || same(old.to, now.to)) continue;
    if (old.to.length === now.to.length && old.to.every((to, at) => between(to, now.to[at]))) continue;
    const [from, to] = [
      old.to.map((one) => stationInWords(definitions[0], one)).join(' and '),
      now.to.map((one) => stationInWords(definitions[1], one)).join(' and '),
    ];
    // The same way once by itself and once on an event: one line is enough.
    const says = `${now.says} it goes to ${to}; it went to ${from}`;
    if (!told.has(says)) tell('way', says);
    told.add(says);
  }
  if (!same(withoutTargets(name, states[0]), withoutTargets(name, states[1]))) {
    tell('build', builtHow(was, is) ?? 'what opens it, or what is recorded here, is built differently');
  }
}

function builtHow(
  was: ReadonlyMap<string, { says: string }>,
  is: ReadonlyMap<string, { says: string }>,
): string | null {
  const come = [...is].filter(([key]) => !was.has(key)).map(([, { says }]) => says);
  const gone = [...was].filter(([key]) => !is.has(key)).map(([, { says }]) => says);
  if (come.length + gone.length === 0) return null;
  const parts = [
    come.length > 0 ? `new ways out: ${come.join(', ')}` : '',
    gone.length > 0 ? `ways out that are gone: ${gone.join(', ')}` : '',
  ];
  return parts.filter((part) => part !== '').join('; ');
}

/** The state without what it says and where it leads: what is left is made by the vocabulary and never changes by itself. */
function withoutTargets(name: string, { meta: _, on, always, ...rest }: StateData): unknown {
  const bare = (list: unknown) =>
    Array.isArray(list)
      ? (list as readonly TransitionData[]).map(({ target, guard, ...way }) => {
          const { completes: __, ...params } = guard?.params ?? {};
          return {
            ...way,
            leads: target !== undefined,
            guard: guard
              ? { type: guard.type, params: { ...params, station: params.station === name } }
              : null,
          };
        })
      : list;
  const onBare = Object.fromEntries(Object.entries(on ?? {}).map(([event, list]) => [event, bare(list)]));
  const actions = JSON.stringify({ ...rest, on: onBare, always: always ? bare(always) : null });
  return JSON.parse(actions.replaceAll(`"station":"${name}"`, '"station":"here"'));
}

/**
 * May a way that led to one station and now leads to another be left untold? Only where a station that came stands
 * between them, or one that went stood there: the line about that station tells it.
 */
export function onlyBetween(
  [before, after]: readonly [Definition, Definition],
  come: ReadonlySet<string>,
  gone: ReadonlySet<string>,
): (old: string | undefined, now: string | undefined) => boolean {
  const through = (definition: Definition, allowed: ReadonlySet<string>) => {
    let edges: readonly Edge[] | null = null;
    return (from: string, to: string): boolean => {
      if (!allowed.has(from)) return false;
      edges ??= graphOf(definition).edges;
      const seen = new Set<string>();
      const stack = [from];
      for (let name = stack.pop(); name !== undefined; name = stack.pop()) {
        seen.add(name);
        for (const edge of edges) {
          if (edge.from !== name) continue;
          if (edge.to === to) return true;
          if (allowed.has(edge.to) && !seen.has(edge.to)) stack.push(edge.to);
        }
      }
      return false;
    };
  };
  const throughNew = through(after, come);
  const throughOld = through(before, gone);
  return (old, now) => {
    if (old === undefined || now === undefined) return old === now;
    return old === now || throughNew(now, old) || throughOld(old, now);
  };
}

/** What can happen at every station is made by `procedure()`; where it is not, that is told. */
export function rootDifferences([before, after]: readonly [Definition, Definition], tell: Tell): void {
  const sorted = (on: Definition['on']) =>
    Object.fromEntries(
      Object.entries(on ?? {}).map(([event, ways]) => [
        event,
        [...(ways ?? [])].toSorted((a, b) => ((a?.target ?? '') < (b?.target ?? '') ? -1 : 1)),
      ]),
    );
  const made = (definition: Definition) =>
    same(sorted(definition.on), sorted(everywhere(stationNames(definition))));
  if (before.on === after.on || (made(before) && made(after))) return;
  if (same(sorted(before.on), sorted(after.on))) return;
  const events = [...new Set([...Object.keys(before.on ?? {}), ...Object.keys(after.on ?? {})])].filter(
    (event) => !same(before.on[event], after.on[event]),
  );
  tell('build', `what can be done at every station is built differently: ${events.join(', ')}`);
}
