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
  /** A short press of this key says "enter": it takes a choice or a figure. Kept down it plays its role. */
  readonly enters?: true;
}

/** Commands with a letter of their own, so that everything can be reached from the keyboard alone. */
export type Command =
  | 'pause'
  | 'why'
  | 'again'
  | 'howMuch'
  | 'trouble'
  | 'note'
  | 'label'
  | 'stop'
  | 'fail'
  | 'words'
  | 'showMe';

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
  l: 'label',
  s: 'stop',
  f: 'fail',
  g: 'showMe',
  '?': 'words',
};

const GO_KEYS = ['Space', 'PageDown', 'ArrowRight', 'ArrowDown'];
const ENTER_KEYS = ['Enter', 'NumpadEnter'];
const BACK_KEYS = ['Backspace', 'PageUp', 'ArrowLeft', 'ArrowUp'];
// A keyboard has no such keys, so they come from a pedal; until it is learnt each of its switches means go.
const PEDAL_KEYS = Array.from({ length: 12 }, (_, i) => `F${13 + i}`);

const bind = (codes: readonly string[], role: Role, via: Binding['via']) =>
  codes.map((code) => [code, { role, via, traits: PLAIN }] as const);

/** Works untaught with a keyboard and with the codes that pedals commonly send. */
export const defaultLayout: Layout = {
  roles: Object.fromEntries([
    ...bind(GO_KEYS, 'go', 'keys'),
    ...ENTER_KEYS.map((code) => [code, { role: 'go', via: 'keys', traits: PLAIN, enters: true }] as const),
    ...bind(BACK_KEYS, 'back', 'keys'),
    ...bind(PEDAL_KEYS, 'go', 'pedal'),
    ...bind(['Pad0'], 'go', 'pedal'),
    ...bind(['Pad1'], 'back', 'pedal'),
    ...bind(['Pad2'], 'aside', 'pedal'),
  ]),
  commands: COMMANDS,
  doubles: [],
};

/** A learnt pedal: what is stored of a set-up. The rest of the layout comes with the app. */
export interface Pedal {
  readonly code: string;
  readonly role: Role;
  readonly traits: Traits;
}

/** The layout with these pedals as well. A code that had another role before changes it. */
export function withPedals(layout: Layout, pedals: readonly Pedal[]): Layout {
  const learnt = pedals.map(({ code, role, traits }) => [code, { role, via: 'pedal', traits }] as const);
  return { ...layout, roles: { ...layout.roles, ...Object.fromEntries(learnt) } };
}

/** Can a long press come from one of the pedals, so that the bench may offer it at a hold point? */
export const pedalHolds = (pedals: readonly Pedal[]): boolean =>
  pedals.some(({ role, traits }) => role === 'go' && traits.holds);
