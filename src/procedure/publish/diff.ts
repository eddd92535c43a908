import type { Definition, StateData } from '../definition.ts';
import { headDifferences } from './diff-head.ts';
import { stationDifferences } from './diff-station.ts';
import { onlyBetween, rootDifferences, wayDifferences } from './diff-ways.ts';
import { type Difference, GROUPS, type Group } from './difference.ts';
import { stationOrder } from './order.ts';
import { same } from './same.ts';
import { capital, kindInWords, stationInWords } from './words.ts';

export { type Difference, GROUPS, type Group } from './difference.ts';

/**
 * What a mechanic who knows the first revision has to know of the second: one sentence a change, the gravest first.
 * Empty exactly when the two are the same data. Takes definitions that failed the check as well, so that an author can
 * see what was done to one.
 */
export function differences(before: Definition, after: Definition): readonly Difference[] {
  const found: Difference[] = [];
  const teller = (station: string | null, prefix: string) => (group: Group, says: string) => {
    found.push({ group, station, says: sentence(`${prefix}${prefix === '' ? capital(says) : says}`) });
  };
  const both = [before, after] as const;
  const whole = teller(null, '');
  headDifferences(both, whole);
  rootDifferences(both, whole);
  const come = new Set(Object.keys(after.states).filter((name) => !Object.hasOwn(before.states, name)));
  const gone = new Set(Object.keys(before.states).filter((name) => !Object.hasOwn(after.states, name)));
  const between = onlyBetween(both, come, gone);
  if (before.initial !== after.initial && !between(before.initial, after.initial)) {
    whole(
      'way',
      `the job begins at ${stationInWords(after, after.initial)}; it began at ${stationInWords(before, before.initial)}`,
    );
  }
  for (const name of gone) found.push(wentOrCame(before, name, 'gone'));
  for (const name of come) found.push(wentOrCame(after, name, 'come'));
  for (const name of Object.keys(after.states)) {
    const [old, now] = [before.states[name], after.states[name]];
    if (!old || !now || same(old, now)) continue;
    compare(name, [old, now], between, both, teller);
  }
  if (found.length === 0 && !same(before, after))
    whole('build', 'something is built differently that has no words here');
  return sorted(found, both);
}

/** With a full stop, unless what is quoted at its end has one. */
const sentence = (text: string): string => (/[.!?…]”?$/.test(text) ? text : `${text}.`);

type Teller = (station: string | null, prefix: string) => (group: Group, says: string) => void;

function compare(
  name: string,
  [old, now]: readonly [StateData, StateData],
  between: ReturnType<typeof onlyBetween>,
  definitions: readonly [Definition, Definition],
  teller: Teller,
): void {
  const station = now.meta ?? old.meta;
  const prefix = station ? `${capital(kindInWords(String(station.kind)))} “${station.say}”: ` : `${name}: `;
  const tell = teller(name, prefix);
  if (old.meta && now.meta) stationDifferences({ before: old.meta, after: now.meta, definitions }, tell);
  else if (!same(old.meta, now.meta)) tell('build', now.meta ? 'now a station' : 'no station any more');
  // Of another kind it has other ways by itself; where they lead is still worth a line.
  if (old.meta?.kind === now.meta?.kind) wayDifferences(name, [old, now], between, definitions, tell);
}

function wentOrCame(definition: Definition, name: string, what: 'gone' | 'come'): Difference {
  const meta = definition.states[name]?.meta;
  if (!meta)
    return {
      group: 'build',
      station: name,
      says: `${name} ${what === 'come' ? 'is a new state' : 'is gone'}.`,
    };
  const before = Object.entries(definition.states).flatMap(([from, state]) =>
    from !== name && leadsTo(state, name) ? [stationInWords(definition, from)] : [],
  );
  const first = definition.initial === name ? ['the start'] : [];
  const places = [...first, ...before].slice(0, 3).join(' or ');
  const place = places === '' ? '' : what === 'come' ? `, after ${places}` : `; it came after ${places}`;
  const says = `${what === 'come' ? 'New' : 'Gone'}: the ${kindInWords(meta.kind)} “${meta.say}”${place}`;
  return { group: meta.kind === 'hold' ? 'hold' : 'station', station: name, says: sentence(says) };
}

const leadsTo = (state: StateData, name: string): boolean =>
  [...(state.always ?? []), ...Object.values(state.on ?? {}).flat()].some((way) => way?.target === name);

function sorted(
  found: readonly Difference[],
  [before, after]: readonly [Definition, Definition],
): Difference[] {
  const rank = new Map<string, number>(GROUPS.map(({ key }, at) => [key, at]));
  const place = new Map([...stationOrder(before), ...stationOrder(after)].map((name, at) => [name, at]));
  const at = ({ station }: Difference) => (station === null ? -1 : (place.get(station) ?? 0));
  return found.toSorted((a, b) => (rank.get(a.group) ?? 0) - (rank.get(b.group) ?? 0) || at(a) - at(b));
}
