import { codeOf, type Stroke } from './stroke.ts';

/** Why a pedal cannot be learnt: a closed list, each with one plain sentence that says what to do. */
const sentences = {
  'nothing-came': () =>
    'No key came from the pedal: see that it is plugged in or paired and that this page is in front, then try again.',
  shortcut: () =>
    'This pedal sends a key together with Control, Alt or the system key: set it to a single key, Page Down for example.',
  reserved: (key: string) =>
    `This pedal sends ${key}, which the app or the system needs: set it to another key, Page Down or F13 for example.`,
  'more-than-one-key': () =>
    'More than one key came: press only this pedal; if you did, set it to a single key, Page Down for example.',
  'already-used': () =>
    'Another pedal sends the same key: set this one to a key of its own, Page Up for example.',
  'no-release': () =>
    'The pedal never reported that it was released: lift your foot when asked; if you did, use another pedal.',
  'not-kept-down': () =>
    'The pedal was let go too early: start again and keep it down until you are told to lift.',
  'repeats-itself': () =>
    'The pedal pressed itself again while it was kept down: switch off the repeat in its own settings, then try again.',
} satisfies Record<string, (key: string) => string>;

export type LearnCode = keyof typeof sentences;

export interface LearnFault {
  readonly code: LearnCode;
  readonly sentence: string;
}

export const LEARN_CODES = Object.keys(sentences) as LearnCode[];

export const learnFault = (code: LearnCode, key = 'a key'): LearnFault => ({
  code,
  sentence: sentences[code](key),
});

// Figures and their signs belong to the entry of readings; Delete and Escape to its correction; the question mark's
// key to "what can I say".
const FIGURES = /^(Digit|Numpad)[0-9]$|^(Period|Comma|NumpadDecimal|Delete|Escape|Slash)$/;
// The browser and the system act on these before or beside the page.
const SYSTEM =
  /^(Tab|F[1-9]|F1[0-2]|ContextMenu|PrintScreen|Power|Sleep|WakeUp|Unidentified)$|Lock$|^(Audio|Media|Browser|Launch|Lang|Intl)/;
const MODIFIERS = /^(Shift|Control|Alt|Meta|OS|Fn)/;

/** Why this key must not become a pedal, or null. */
export function refusedKey(stroke: Stroke): LearnFault | null {
  const code = codeOf(stroke);
  if (stroke.chord || /^(Control|Alt|Meta|OS)/.test(code)) return learnFault('shortcut');
  if (MODIFIERS.test(code) || SYSTEM.test(code) || FIGURES.test(code)) return learnFault('reserved', code);
  return null;
}
