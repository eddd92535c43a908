import type { Stroke } from '../../src/press/stroke.ts';

const NAMED: Readonly<Record<string, string>> = { ' ': 'Space', '.': 'Period', ',': 'Comma', '-': 'Minus' };

const codeFor = (key: string) => {
  if (/^[0-9]$/.test(key)) return `Digit${key}`;
  if (/^[a-z]$/i.test(key)) return `Key${key.toUpperCase()}`;
  return NAMED[key] ?? key;
};

/** A stroke as a keyboard with an English layout gives it. */
export function stroke(phase: 'down' | 'up', key: string, at: number, more: Partial<Stroke> = {}): Stroke {
  return { phase, code: codeFor(key), key, at, repeat: false, chord: false, shift: false, ...more };
}

/** Keys pressed at these times, each released `heldMs` later, in the order in which it all happens. */
export function typing(keys: readonly (readonly [key: string, at: number])[], heldMs: number): Stroke[] {
  return keys
    .flatMap(([key, at]) => [stroke('down', key, at), stroke('up', key, at + heldMs)])
    .sort((a, b) => a.at - b.at);
}
