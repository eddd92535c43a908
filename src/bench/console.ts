import type { Stamp } from '../job/open-job.ts';
import { type Return, readAgainNote } from '../job/return.ts';
import type { StationView } from '../job/view.ts';
import type { Gesture } from '../press/gesture.ts';
import type { Command } from '../press/layout.ts';
import { type Entry, emptyEntry, entryValue, typeInto } from '../press/number-entry.ts';
import type { Person } from '../procedure/context.ts';
import type { JobEvent } from '../procedure/events.ts';
import type { Snapshot } from '../procedure/machine.ts';
import { choose } from './chooser.ts';
import { type Capture, nextInTalk, type Talk, type TalkAround } from './talk.ts';

/** What lies over the station: nothing, or something that is answered first. */
export type Over =
  | 'none'
  | 'why'
  | 'words'
  | 'picture'
  | 'back'
  | 'stop'
  | 'note'
  | 'label'
  | 'tools'
  | 'talk';

/** What the hand has done at a station so far and the job does not know yet. */
export interface Console {
  readonly entry: Entry;
  /** The figure was read back and waits for "figure correct". */
  readonly readBack: boolean;
  /** The option that is lit where there is a list. */
  readonly at: number;
  readonly over: Over;
  /** How long the pedal has been down, ms, and whether that is long enough. */
  readonly press: { readonly heldMs: number; readonly full: boolean } | null;
  /** Tool chosen for the reading; null: the only one at hand. */
  readonly toolId: string | null;
  /** The conversation that lies over the station. */
  readonly talk: Talk | null;
  /** Digits of a PIN typed so far, and what was said of the last one. */
  readonly pin: string;
  readonly pinFault: string | null;
  /** The person who is about to witness. */
  readonly witness: string | null;
  /** Which page of the station is shown, and which of what lies over it. */
  readonly page: number;
  readonly overPage: number;
  /** Every page of the station has been shown. */
  readonly readOut: boolean;
}

export const freshConsole: Console = {
  entry: emptyEntry,
  readBack: false,
  at: 0,
  over: 'none',
  press: null,
  toolId: null,
  talk: null,
  pin: '',
  pinFault: null,
  witness: null,
  page: 0,
  overPage: 0,
  readOut: false,
};

export type Ask = 'again' | 'howMuch' | 'readBack' | 'why' | 'words' | 'picture';

/** What comes of a gesture besides a changed console. */
export type Effect =
  | {
      readonly kind: 'event';
      readonly event: JobEvent;
      readonly by?: Stamp['by'];
      /** Written down before it; when that fails, neither happens. */
      readonly first?: JobEvent;
    }
  | { readonly kind: 'speak'; readonly what: Ask }
  | { readonly kind: 'signOn'; readonly person: string; readonly pin: string }
  | { readonly kind: 'passkey'; readonly person: string }
  | { readonly kind: 'capture'; readonly what: Capture }
  | { readonly kind: 'leave' }
  | { readonly kind: 'hush' };

export interface Around extends TalkAround {
  /** Station that "back" leads to; null at the start of the job. */
  readonly before: string | null;
  /** Hold points that going back would void. */
  readonly voided: number;
  /** People who could witness here: everybody who is not doing the work. */
  readonly witnesses: readonly Person[];
  /** What a person is told who comes back; null while the job is not paused. */
  readonly back: Return | null;
}

export interface Turn {
  readonly console: Console;
  readonly effects: readonly Effect[];
}

export const STOP_REASONS = [
  'A part is missing',
  'A fault was found that this job does not cover',
  'A figure cannot be brought within its limits',
  'The machine is needed as it is',
  'This job was opened by mistake',
] as const;

const turn = (console: Console, ...effects: Effect[]): Turn => ({ console, effects });
const give = (console: Console, event: JobEvent, by?: string): Turn =>
  turn(console, by === undefined ? { kind: 'event', event } : { kind: 'event', event, by });

/** Another station, the end or a pause has come: what was open over the station before is closed. */
export const movesOn = (view: StationView, { station, outcome, context }: Snapshot): boolean =>
  station !== view.station || outcome !== 'open' || (context.paused !== null && view.paused === null);

/** A trouble is decided on before anything else; but a job that is paused is resumed or handed over first. */
export const asksDecision = ({ trouble, paused }: StationView): boolean =>
  trouble !== null && paused === null;

/** One gesture at a station: pure, so that what a foot or a key does can be read and tested without a screen. */
export function gestureAt(console: Console, gesture: Gesture, around: Around): Turn {
  if (gesture.kind === 'holding') {
    return turn({ ...console, press: { heldMs: gesture.heldMs, full: gesture.full } });
  }
  const settled: Console = { ...console, press: null };
  if (gesture.kind === 'released') {
    // Given up before the bar was full. At a hold that is an attempt, and attempts are recorded.
    if (!takesPress(around.view) || console.over !== 'none') return turn(settled);
    return confirm(settled, gesture.heldMs, around);
  }
  if (around.view.outcome !== 'open') {
    return gesture.kind === 'escape' ? turn(settled, { kind: 'leave' }) : turn(settled);
  }
  if (asksDecision(around.view) && !settled.talk)
    return gestureAt(
      { ...settled, over: 'talk', talk: { about: 'decide' }, at: console.over === 'none' ? 0 : console.at },
      gesture,
      around,
    );
  if (console.over === 'talk') return talking(settled, gesture, around);
  if (around.view.paused) return whilePaused(settled, gesture, around.back);
  if (console.over !== 'none') return overStation(settled, gesture, around);
  if (gesture.kind === 'key') return commandKey(settled, gesture.name, around.view);
  if (gesture.kind === 'tap' && gesture.key === 'back') return goBack(settled, around);
  if (gesture.kind === 'tap' && gesture.key === 'aside') return give(settled, { type: 'pause' });
  return atStation(settled, gesture, around);
}

/** The last hold was read again after a long break: the journal says so, and the job goes on. */
export const acknowledge = (console: Console, back: Return): Turn =>
  turn(console, { kind: 'event', event: { type: 'resume' }, first: readAgainNote(back) });

/** After a long break the last hold is read again: only a long press, or its phrase, goes on, and the journal says so. */
function whilePaused(console: Console, gesture: Gesture, back: Return | null): Turn {
  if (gesture.kind === 'digit' && gesture.digit === '1') return startTalk(console, { about: 'handOver' });
  const away = back?.readAgain ? back : null;
  if (away && gesture.kind === 'long' && gesture.key === 'go') return acknowledge(console, away);
  if (away && (gesture.kind === 'tap' || gesture.kind === 'enter')) {
    return turn(console, { kind: 'speak', what: 'again' });
  }
  const resumes = (gesture.kind === 'tap' && gesture.key !== 'back') || gesture.kind === 'enter';
  if (resumes) return give(console, { type: 'resume' });
  return gesture.kind === 'escape' ? turn(console, { kind: 'leave' }) : turn(console);
}

function commandKey(console: Console, name: Command, view: StationView): Turn {
  const show = (over: Over, what: Ask) => turn({ ...console, over, overPage: 0 }, { kind: 'speak', what });
  switch (name) {
    case 'why':
      return show('why', 'why');
    case 'words':
      return show('words', 'words');
    case 'showMe':
      return show('picture', 'picture');
    case 'again':
      return turn(console, { kind: 'speak', what: 'again' });
    case 'howMuch':
      return turn(console, { kind: 'speak', what: 'howMuch' });
    case 'pause':
      return give(console, { type: 'pause' });
    case 'fail':
      return give(console, { type: 'fail' });
    case 'note':
      return turn({ ...console, over: 'note', overPage: 0 });
    case 'label':
      return turn(view.fit || view.kit?.next?.scans ? { ...console, over: 'label', overPage: 0 } : console);
    case 'stop':
      return turn({ ...console, over: 'stop', at: 0, overPage: 0 });
    case 'trouble':
      return startTalk(console, { about: 'trouble' });
    default:
      return turn(console);
  }
}

/** Opens a conversation over the station. */
export const startTalk = (console: Console, talk: Talk): Turn =>
  turn({ ...console, over: 'talk', talk, at: 0, pin: '', pinFault: null, overPage: 0 });

const MOST_PIN = 8;

/** One gesture in a conversation: a list is worked like every list, a PIN is typed and given with Enter. */
function talking(console: Console, gesture: Gesture, around: Around): Turn {
  const closed: Console = { ...console, over: 'none', talk: null, at: 0, pin: '', pinFault: null };
  const talk = console.talk ?? { about: 'decide' as const };
  const next = nextInTalk(talk, around);
  if (next.kind === 'done') return turn(closed);
  if (next.kind === 'pin') {
    if (gesture.kind === 'escape') return turn(closed);
    if (gesture.kind === 'digit' && console.pin.length < MOST_PIN) {
      return turn({ ...console, pin: console.pin + gesture.digit, pinFault: null });
    }
    if (gesture.kind === 'erase') return turn({ ...console, pin: console.pin.slice(0, -1) });
    const gives = gesture.kind === 'enter' || (gesture.kind === 'long' && gesture.key === 'go');
    const shows = gives || (gesture.kind === 'tap' && gesture.key === 'go');
    if (next.passkey && shows && console.pin === '')
      return turn({ ...console, pinFault: null }, { kind: 'passkey', person: next.person.id });
    if (!gives || console.pin === '') return turn(console);
    return turn({ ...console, pin: '' }, { kind: 'signOn', person: next.person.id, pin: console.pin });
  }
  const { at, taken, left } = choose(console.at, next.options.length, gesture);
  // A trouble that is open cannot be waved away: leaving its question leaves the job.
  if (left)
    return around.view.trouble && talk.about === 'decide' && !talk.decision
      ? turn(closed, { kind: 'leave' })
      : turn(closed);
  if (taken === null) return turn({ ...console, at });
  const answer = next.take(taken);
  if (answer === 'photo' || answer === 'voice') return turn(console, { kind: 'capture', what: answer });
  return carryOn({ ...console, at: 0 }, answer, around);
}

/** The conversation after an answer: its next question, or the event that it comes to. */
export function carryOn(console: Console, talk: Talk, around: Around): Turn {
  const next = nextInTalk(talk, around);
  if (next.kind !== 'done')
    return turn({ ...console, over: 'talk', talk, pin: '', pinFault: null, overPage: 0 });
  const closed: Console = { ...console, over: 'none', talk: null, at: 0, pin: '', pinFault: null };
  return next.event ? give(closed, next.event, next.by) : turn(closed);
}

/** Going back asks first when it would void hold points: a stray foot must not undo an inspection. */
function goBack(console: Console, { before, voided }: Around): Turn {
  if (before === null) return turn(console, { kind: 'hush' });
  return voided > 0
    ? turn({ ...console, over: 'back', overPage: 0 })
    : give(console, { type: 'open', station: before });
}

function overStation(console: Console, gesture: Gesture, around: Around): Turn {
  const closed: Console = { ...console, over: 'none', at: 0 };
  switch (console.over) {
    case 'back':
      if (gesture.kind === 'tap' && gesture.key === 'back' && around.before !== null) {
        return give(closed, { type: 'open', station: around.before });
      }
      return turn(closed);
    case 'stop': {
      const { at, taken, left } = choose(console.at, STOP_REASONS.length, gesture);
      if (left) return turn(closed);
      if (taken === null) return turn({ ...console, at });
      return give(closed, { type: 'stop', says: STOP_REASONS[taken] ?? STOP_REASONS[0] });
    }
    case 'tools': {
      const tools = around.view.kit?.next?.tools ?? [];
      const { at, taken, left } = choose(console.at, tools.length, gesture);
      const tool = taken === null ? undefined : tools[taken];
      const item = around.view.kit?.next?.key;
      if (left) return turn(closed);
      if (!tool || item === undefined) return turn({ ...console, at });
      return give(closed, { type: 'callOff', item, toolId: tool.id });
    }
    case 'note':
    case 'label':
      return gesture.kind === 'escape' ? turn(closed) : turn(console);
    default:
      return turn(closed, { kind: 'hush' });
  }
}

function atStation(console: Console, gesture: Gesture, around: Around): Turn {
  const { view } = around;
  if (view.asked) {
    const entered = enterFigure(console, gesture, view);
    if (entered) return entered;
  }
  if (view.hold) return atHold(console, gesture, around);
  if (view.kind === 'fork') {
    const { at, taken, left } = choose(console.at, view.choices.length, gesture);
    if (left) return turn(console, { kind: 'leave' });
    const choice = taken === null ? undefined : view.choices[taken];
    return choice ? give(console, { type: 'choose', value: choice.value }) : turn({ ...console, at });
  }
  if (gesture.kind === 'escape') return turn(console, { kind: 'leave' });
  const goes =
    (gesture.kind === 'tap' && gesture.key === 'go') || gesture.kind === 'enter' || gesture.kind === 'long';
  return goes ? goOn(console, view) : turn(console);
}

/** What "go on" means at an ordinary station. */
function goOn(console: Console, view: StationView): Turn {
  if (view.kit?.next) {
    const { key, tools } = view.kit.next;
    if (tools.length > 1) return turn({ ...console, over: 'tools', at: 0, overPage: 0 });
    const [only] = tools;
    return give(console, { type: 'callOff', item: key, ...(only ? { toolId: only.id } : {}) });
  }
  if (view.result) {
    const { inputs, output, faultCode } = view.result;
    if (output) return give(console, { type: 'accept', inputs, output });
    return give(console, { type: 'cannot', code: faultCode ?? '' });
  }
  return give(console, { type: 'advance' });
}

/** Is it a press that this hold waits for: its own evidence, or that of the witness to a figure? */
const takesPress = ({ hold }: StationView): boolean =>
  hold !== null && (!hold.byFigure || hold.awaitingFor !== null);

function confirm(console: Console, heldMs: number, { view, witnesses }: Around): Turn {
  const evidence = { kind: 'press', heldMs: Math.round(heldMs) } as const;
  if (!view.hold?.awaitingFor) return give(console, { type: 'confirm', evidence });
  const witness = witnesses.find(({ id }) => id === console.witness) ?? witnesses[0];
  return witness ? give(console, { type: 'witness', evidence }, witness.id) : turn(console);
}

function atHold(console: Console, gesture: Gesture, around: Around): Turn {
  const { view, witnesses } = around;
  if (view.hold?.awaitingFor) {
    const chosen = choose(
      Math.max(
        0,
        witnesses.findIndex(({ id }) => id === console.witness),
      ),
      witnesses.length,
      gesture,
    );
    const person = witnesses[chosen.taken ?? chosen.at];
    const names = gesture.kind === 'digit' || gesture.kind === 'enter';
    if (names && chosen.taken !== null && person) {
      const named = { ...console, witness: person.id };
      return around.fresh(person.id) ? turn(named) : startTalk(named, { about: 'signOn', person: person.id });
    }
    if (gesture.kind === 'tap' && gesture.key === 'go' && person)
      return turn({ ...console, witness: person.id });
  }
  if (gesture.kind === 'long' && gesture.key === 'go' && takesPress(view)) {
    return confirm(console, gesture.heldMs, around);
  }
  if (gesture.kind === 'escape') return turn(console, { kind: 'leave' });
  // A tap, Enter or a double press is the generic way on: the job refuses it, aloud, and records that.
  const generic =
    gesture.kind === 'tap' ||
    gesture.kind === 'double' ||
    gesture.kind === 'enter' ||
    gesture.kind === 'long';
  return generic ? give(console, { type: 'advance' }) : turn(console);
}

/** Typing a figure: digits, then Enter reads it back, then Enter or a long press commits. Null: not for the figure. */
function enterFigure(console: Console, gesture: Gesture, view: StationView): Turn | null {
  const { asked } = view;
  if (!asked) return null;
  if (gesture.kind === 'digit' || gesture.kind === 'decimal' || gesture.kind === 'erase') {
    return turn({ ...console, entry: typeInto(console.entry, gesture), readBack: false });
  }
  const value = entryValue(console.entry);
  if (gesture.kind === 'escape' && value !== null)
    return turn({ ...console, entry: emptyEntry, readBack: false });
  const commits = gesture.kind === 'enter' || (gesture.kind === 'long' && gesture.key === 'go');
  const taps = gesture.kind === 'tap' && gesture.key === 'go';
  if (value === null || !(commits || taps)) return null;
  if (!console.readBack) return turn({ ...console, readBack: true }, { kind: 'speak', what: 'readBack' });
  // At a hold a stray tap must not commit: it takes Enter or the long press, as every hold does.
  if (view.hold && taps) return null;
  return give({ ...console, entry: emptyEntry, readBack: false }, figureEvent(console, view, value));
}

function figureEvent(console: Console, view: StationView, value: number): JobEvent {
  const { asked } = view;
  if (asked?.as === 'lookUp') return { type: 'lookUp', figure: asked.name, value, unit: asked.unit };
  const toolId = console.toolId ?? asked?.tools[0]?.id;
  return { type: 'reading', value, unit: asked?.unit ?? '', ...(toolId === undefined ? {} : { toolId }) };
}
