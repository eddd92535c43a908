import type { Layout } from './layout.ts';

/** One key going down or up, as the window reported it. Times in ms on the clock of `KeyboardEvent.timeStamp`. */
export interface Stroke {
  readonly phase: 'down' | 'up';
  /** Physical key, `KeyboardEvent.code`, or the button of a gamepad ("Pad0"). */
  readonly code: string;
  /** What it types, `KeyboardEvent.key`; for a button the same as its code. */
  readonly key: string;
  readonly at: number;
  readonly repeat: boolean;
  /** Control, Alt or Meta was down with it: a shortcut of the browser or system, never ours. */
  readonly chord: boolean;
  readonly shift: boolean;
}

/** The character a stroke types, or null. The number pad types figures with Num Lock on or off. */
export function charOf({ code, key }: Stroke): string | null {
  const pad = /^Numpad([0-9])$/.exec(code);
  if (pad?.[1]) return pad[1];
  if (code === 'NumpadDecimal') return '.';
  return key.length === 1 && !code.startsWith('Pad') ? key : null;
}

/** The physical key; some devices name only what it types. */
export const codeOf = ({ code, key }: Stroke): string =>
  code === '' || code === 'Unidentified' ? key : code;

/**
 * The name under which the recogniser knows a stroke: its physical key where that plays a role, otherwise what it
 * types, so that letters follow the label on the key. With Shift a learnt letter is a letter again. Where a keyboard
 * gives digits only with Shift, the digit row types digits all the same.
 */
export function nameOf(layout: Layout, stroke: Stroke): string {
  const code = codeOf(stroke);
  const char = charOf(stroke);
  const plays = layout.roles[code] !== undefined;
  if (plays && !(stroke.shift && char !== null && char !== ' ')) return code;
  if (char === null) return code;
  const row = /^Digit([0-9])$/.exec(code);
  const bound = layout.commands[char.toLowerCase()] !== undefined || char === '.' || char === ',';
  return row?.[1] && !bound && !/[0-9]/.test(char) && !stroke.shift ? row[1] : char.toLowerCase();
}

const EDITING = ['Delete', 'Escape'];

/** Does this name do anything here? Only such keys are taken from the browser. */
export function isBound(layout: Layout, name: string): boolean {
  return (
    layout.roles[name] !== undefined ||
    layout.commands[name] !== undefined ||
    EDITING.includes(name) ||
    /^[0-9.,]$/.test(name)
  );
}
