import { canonicalEqual } from '../canonical-equal.ts';

/** Are two parts the same data? Looks no further where they are one and the same object. */
export const same = (a: unknown, b: unknown): boolean => a === b || canonicalEqual(a, b);
