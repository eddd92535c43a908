/** What a pedal or key does: go (right pedal), back (left pedal), aside (middle pedal: trouble, pause). */
export type Role = 'go' | 'back' | 'aside';

export const ROLES: readonly Role[] = ['go', 'back', 'aside'];

/** What learning found out about the switch behind a key. */
export interface Traits {
  /** A release counts once the key has stayed up this long, in ms: joins the chatter or the strokes of one press. */
  readonly settleMs: number;
  /** False for a pedal that sends press and release at once however long it is kept down: it cannot open a hold. */
  readonly holds: boolean;
  /** True where the system repeats a key that is kept down without marking it as a repeat. */
  readonly unmarked: boolean;
}

export interface Binding {
  readonly role: Role;
  /** How the journal names this way in. */
  readonly via: 'pedal' | 'keys';
  readonly traits: Traits;
}

/** Commands with a letter of their own, so that everything can be reached from the keyboard alone. */
export type Command =
  | 'pause'
  | 'why'
  | 'again'
  | 'howMuch'
  | 'trouble'
  | 'note'
  | 'stop'
  | 'fail'
  | 'whatCanISay';

/** Which codes play which role, and which characters are commands. Plain JSON: it can be stored as it is. */
export interface Layout {
  /** By `KeyboardEvent.code` ("PageDown", "F13") or gamepad button ("Pad0"). */
  readonly roles: Readonly<Record<string, Binding>>;
  /** By the character typed, lower case: letters follow the label on the key, whatever the keyboard's country. */
  readonly commands: Readonly<Record<string, Command>>;
  /** Roles for which a double press means something; only there does a tap wait for the window to close. */
  readonly doubles: readonly Role[];
}

/** A keyboard's own key: no chatter, true releases, marked repeats. */
export const PLAIN: Traits = { settleMs: 0, holds: true, unmarked: false };

export const COMMANDS: Layout['commands'] = {
  p: 'pause',
  w: 'why',
  a: 'again',
  m: 'howMuch',
  t: 'trouble',
  n: 'note',
  s: 'stop',
  f: 'fail',
  '?': 'whatCanISay',
};

const GO_KEYS = ['Space', 'Enter', 'NumpadEnter', 'PageDown', 'ArrowRight', 'ArrowDown'];
const BACK_KEYS = ['Backspace', 'PageUp', 'ArrowLeft', 'ArrowUp'];
// A keyboard has no such keys, so they come from a pedal; until it is learnt each of its switches means go.
const PEDAL_KEYS = Array.from({ length: 12 }, (_, i) => `F${13 + i}`);

const bind = (codes: readonly string[], role: Role, via: Binding['via']) =>
  codes.map((code) => [code, { role, via, traits: PLAIN }] as const);

/** Works untaught with a keyboard and with the codes that pedals commonly send. */
export const defaultLayout: Layout = {
  roles: Object.fromEntries([
    ...bind(GO_KEYS, 'go', 'keys'),
    ...bind(BACK_KEYS, 'back', 'keys'),
    ...bind(PEDAL_KEYS, 'go', 'pedal'),
  ]),
  commands: COMMANDS,
  doubles: [],
};

/** The layout with one more learnt pedal. A code that had another role before changes it. */
export function withPedal(layout: Layout, code: string, role: Role, traits: Traits): Layout {
  return { ...layout, roles: { ...layout.roles, [code]: { role, via: 'pedal', traits } } };
}

/** Codes that were learnt as pedals for a role. */
export function codesFor(layout: Layout, role: Role): string[] {
  return Object.keys(layout.roles).filter((code) => layout.roles[code]?.role === role);
}
