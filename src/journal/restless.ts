import type { Definition } from '../procedure/definition.ts';

type States = Definition['states'];

/** Where a state leads by itself. A way without a target stays, and would be taken for ever. */
function onward(states: States, from: string): string[] {
  const always = Object.hasOwn(states, from) ? states[from]?.always : undefined;
  return (always ?? []).map((way) => way.target ?? from);
}

/**
 * A ring of stations that pass by themselves would never come to rest. Names one in or before such a ring, or null:
 * whoever leads only to stations that come to rest does so too, and who is left over in the end does not.
 */
export function restless({ states }: Definition): string | null {
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
