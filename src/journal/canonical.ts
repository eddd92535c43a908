import { utf8ToBytes } from '@noble/hashes/utils.js';
import canonicalize from 'canonicalize';
import { JournalError } from './fault.ts';

/** How deep a record may be nested. A procedure needs about ten; more is refused before anything recurses. */
export const MAX_DEPTH = 64;

/** Keys that would reach an object's prototype when copied carelessly: no record of ours has them. */
export const BARRED_KEYS: readonly string[] = ['__proto__', 'constructor', 'prototype'];

/** Why a value is not plain JSON, with its place, or null. */
function objection(value: unknown, place: string, depth: number): string | null {
  if (depth > MAX_DEPTH) return `nested deeper than ${MAX_DEPTH} at ${place.slice(0, 60)}`;
  switch (typeof value) {
    case 'string':
    case 'boolean':
      return null;
    case 'number':
      return Number.isFinite(value) ? null : `${value} at ${place}`;
    case 'object':
      break;
    default:
      return `${typeof value} at ${place}`;
  }
  if (value === null) return null;
  if (Array.isArray(value)) {
    for (let n = 0; n < value.length; n++) {
      const found = objection(value[n], `${place}[${n}]`, depth + 1);
      if (found) return found;
    }
    return null;
  }
  const prototype = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== null) return `an object of a class at ${place}`;
  for (const [key, inner] of Object.entries(value)) {
    if (BARRED_KEYS.includes(key)) return `the key ${key} at ${place}`;
    const found = objection(inner, `${place}.${key}`, depth + 1);
    if (found) return found;
  }
  return null;
}

/**
 * The RFC 8785 form of plain JSON data. Stricter than the library: `undefined`, functions and objects of a class are
 * refused instead of dropped, so that what is hashed is what was meant. Throws JournalError `not-json`.
 */
export function canonicalText(value: unknown): string {
  const found = objection(value, '$', 0);
  if (found) throw new JournalError('not-json', found);
  try {
    return canonicalize(value) ?? '';
  } catch (error) {
    // What is left for the library to refuse: half a surrogate pair, which has no UTF-8 form.
    throw new JournalError('not-json', String(error), error);
  }
}

/** The UTF-8 bytes of the RFC 8785 form. Throws JournalError `not-json`. */
export const canonicalBytes = (value: unknown): Uint8Array => utf8ToBytes(canonicalText(value));
