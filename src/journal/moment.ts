import { JournalError } from './fault.ts';

const RFC_3339_UTC = /^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T([01]\d|2[0-3]):[0-5]\d:[0-5]\d\.\d{3}Z$/;

/** A moment as it stands in a record: RFC 3339, UTC, milliseconds. `at` in ms since 1970. Throws `wrong-moment`. */
export function toMoment(at: number): string {
  if (!Number.isSafeInteger(at) || at < 0 || at > 253_402_300_799_999) throw new JournalError('wrong-moment');
  // biome-ignore lint/style/noRestrictedGlobals: formats a moment that came in as a value; reads no clock.
  return new Date(at).toISOString();
}

/** The ms since 1970 of a moment in a record, or null when it is not written exactly so or is on no calendar. */
export function fromMoment(text: string): number | null {
  if (!RFC_3339_UTC.test(text)) return null;
  // biome-ignore lint/style/noRestrictedGlobals: reads a moment that came in as a value, not the clock.
  const at = Date.parse(text);
  return Number.isNaN(at) || at < 0 || toMoment(at) !== text ? null : at;
}
