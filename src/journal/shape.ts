import type { Misfit, Wanted } from '../procedure/proof/wanted.ts';
import { fromMoment } from './moment.ts';

export const HEX_64 = /^[0-9a-f]{64}$/;
/** RFC 9562, in its lower-case form. */
export const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;

const must =
  (test: (value: unknown) => boolean, wanted: string): Wanted =>
  (value, where): Misfit | null =>
    test(value) ? null : { where, wanted };

/** Any text: what people said and typed is kept as it came. */
export const plain = must((value) => typeof value === 'string', 'text');
export const name = must((value) => typeof value === 'string' && value !== '', 'a name');
export const whole = must((value) => Number.isSafeInteger(value) && Number(value) >= 0, 'a whole number');
export const table = must(
  (value) => typeof value === 'object' && value !== null && !Array.isArray(value),
  'a table of fields',
);
export const moment = must(
  (value) => typeof value === 'string' && fromMoment(value) !== null,
  'a moment like 2026-01-31T08:05:00.000Z',
);

export const matches = (pattern: RegExp, wanted: string): Wanted =>
  must((value) => typeof value === 'string' && pattern.test(value), wanted);

/** In words where a value is not as wanted, or null. */
export function misfitIn(wanted: Wanted, value: unknown): string | null {
  const misfit = wanted(value, '');
  return misfit && `"${misfit.where}" should be ${misfit.wanted}`;
}
