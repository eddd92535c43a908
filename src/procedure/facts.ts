/** A fact has one of a closed list of values, so that every combination can be proved. */
export type FactValue = string | boolean;
export type Facts = Readonly<Record<string, FactValue>>;

/** What a procedure says about one of its facts: its values and how to ask for it. */
export interface FactDeclaration {
  readonly values: readonly FactValue[];
  /** Plain words for the fact, used on a job card: "Joining link". */
  readonly says: string;
}

/** A condition holds when every fact named has the value (or one of the values) given. */
export type Condition = Readonly<Record<string, FactValue | readonly FactValue[]>>;

/** A fact with named values: `oneOf('Joining link', 'clip', 'rivet')`. */
export const oneOf = (says: string, ...values: readonly string[]): FactDeclaration => ({ says, values });

/** A fact that is true or false. */
export const yesNo = (says: string): FactDeclaration => ({ says, values: [true, false] });

/** Does the condition hold under these facts? A fact that is not known yet does not satisfy a condition. */
export function satisfies(condition: Condition | undefined, facts: Facts): boolean {
  if (!condition) return true;
  return Object.entries(condition).every(([fact, wanted]) => {
    const value = facts[fact];
    if (value === undefined) return false;
    return Array.isArray(wanted) ? wanted.includes(value) : wanted === value;
  });
}

/** Every combination of the declared facts, in a fixed order. Grows as the product of the value counts. */
export function combinations(declared: Readonly<Record<string, FactDeclaration>>): Facts[] {
  let all: Record<string, FactValue>[] = [{}];
  for (const [fact, { values }] of Object.entries(declared)) {
    all = all.flatMap((facts) => values.map((value) => ({ ...facts, [fact]: value })));
  }
  return all;
}

/** "link = clip, sealed = yes": one combination in words. */
export function factsInWords(facts: Facts): string {
  const words = Object.entries(facts).map(([fact, value]) => {
    const said = value === true ? 'yes' : value === false ? 'no' : value;
    return `${fact} = ${said}`;
  });
  return words.length > 0 ? words.join(', ') : 'no facts';
}
