import type { Condition, Facts } from '../facts.ts';

/** What is known of a condition while only some facts are settled: the answer, or the fact that is to be settled next. */
export type Partly = boolean | { readonly open: string };

/** Like `satisfies`, for facts of which only some are settled. Facts that are not declared stay open for ever: they hold. */
export function satisfiesPartly(
  condition: Condition | undefined,
  settled: Facts,
  declared: Readonly<Record<string, unknown>>,
): Partly {
  let open: string | null = null;
  for (const [fact, wanted] of Object.entries(condition ?? {})) {
    if (!Object.hasOwn(declared, fact)) continue;
    const value = settled[fact];
    if (value === undefined) open ??= fact;
    else if (!(Array.isArray(wanted) ? wanted.includes(value) : wanted === value)) return false;
  }
  return open === null ? true : { open };
}
