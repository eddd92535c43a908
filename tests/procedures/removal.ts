import type { Definition, TransitionData } from '../../src/procedure/definition.ts';
import type { Facts } from '../../src/procedure/facts.ts';

/** Could this transition be taken in a job with these facts? Guards on facts and choices are the only ones that rule it out. */
function open({ guard }: TransitionData, fact: string | undefined, facts: Facts): boolean {
  if (guard?.type === 'factIs') return facts[String(guard.params.fact)] === guard.params.value;
  if (guard?.type === 'choiceIs') return fact === undefined || facts[fact] === guard.params.value;
  return true;
}

/**
 * The states that can be reached from one, with one hold's ways of passing it deleted: the plain definition of "this
 * hold stands on every way to the end". Written apart from the project's proofs, so that the two check each other.
 */
export function reachable(
  definition: Definition,
  facts: Facts,
  from: string,
  removed?: string,
): ReadonlySet<string> {
  const seen = new Set([from]);
  const todo = [from];
  for (let name = todo.pop(); name !== undefined; name = todo.pop()) {
    const state = definition.states[name];
    const fact = state?.meta?.kind === 'fork' ? state.meta.fact : undefined;
    const ways = [...(state?.always ?? []), ...Object.values(state?.on ?? {}).flat()];
    for (const way of ways) {
      const passes = way.actions?.some((action) => action.type === 'passHold') === true;
      if (name === removed && passes) continue;
      if (way.target === undefined || seen.has(way.target) || !open(way, fact, facts)) continue;
      seen.add(way.target);
      todo.push(way.target);
    }
  }
  return seen;
}
