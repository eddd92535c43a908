import canonicalize from 'canonicalize';

/** Are two JSON values the same data, whatever the order of their keys? */
export function canonicalEqual(a: unknown, b: unknown): boolean {
  return canonicalize(a) === canonicalize(b);
}
