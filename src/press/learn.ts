import type { Pedal, Role } from './layout.ts';
import { type LearnFault, learnFault, refusedKey } from './learn-fault.ts';
import { CHATTER_MS, JOIN_MS, type Trace, traces } from './press-trace.ts';
import { FIRST_REPEAT_MS, NEXT_REPEAT_MS } from './recogniser.ts';
import { codeOf, type Stroke } from './stroke.ts';

/** What was learnt of one pedal. */
export interface Learnt {
  readonly pedal: Pedal;
  /** How it repeats while it is kept down. */
  readonly repeats: 'none' | 'marked' | 'unmarked' | 'strokes';
  /** One sentence for the person who set it up. */
  readonly says: string;
}

/** Set-up by pressing: three taps, then two seconds down. Plain data; each stroke and tick gives the next one. */
export interface Learning {
  readonly step: 'taps' | 'hold' | 'learnt' | 'cannot';
  readonly role: Role;
  /** Codes of the other pedals of this set-up. */
  readonly taken: readonly string[];
  /** Its key, once one came. */
  readonly code: string | null;
  /** What to ask for now, one sentence. */
  readonly asks: string;
  /** Taps that came so far. */
  readonly taps: number;
  /** True while the pedal is down in the hold step; `downAt` for its bar. */
  readonly downAt: number | null;
  readonly learnt: Learnt | null;
  readonly fault: LearnFault | null;
  /** When this step began, and its strokes. */
  readonly since: number;
  readonly strokes: readonly Stroke[];
  readonly tapTraces: readonly Trace[];
  /** How long the pedal was down in hold attempts that were too short. */
  readonly shortHolds: readonly number[];
}

export const LEARN_TAPS = 3;
/** How long the pedal is to be kept down, ms. */
export const LEARN_HOLD_MS = 2000;

const ENOUGH_MS = 1700;
const ONE_STROKE_MS = 300;
const QUIET_MS = 500;
// After a release the pedal's own repeat may still start, so the hold step listens longer.
const QUIET_HOLD_MS = FIRST_REPEAT_MS + 200;
const NO_RELEASE_MS = 6000;
const WAIT_MS = 20_000;
const MOST_SETTLE_MS = 150;

const ASKS = {
  taps: 'Tap the pedal three times, as you would at work.',
  hold: 'Now keep the pedal down for two seconds, then lift.',
  again: 'That was too short: keep the pedal down until the bar is full, then lift.',
};

/** Begin to learn the pedal for `role` at time `at`, ms. */
export function learning(role: Role, at: number, taken: readonly string[] = []): Learning {
  return {
    step: 'taps',
    role,
    taken,
    code: null,
    asks: ASKS.taps,
    taps: 0,
    downAt: null,
    learnt: null,
    fault: null,
    since: at,
    strokes: [],
    tapTraces: [],
    shortHolds: [],
  };
}

const cannot = (l: Learning, fault: LearnFault): Learning => ({
  ...l,
  step: 'cannot',
  asks: fault.sentence,
  downAt: null,
  fault,
});

const over = (l: Learning) => l.step === 'learnt' || l.step === 'cannot';

/** The presses of this step: in the hold step the pedal's own strokes are one press. */
const soFar = ({ step, strokes }: Learning) => traces(strokes, step === 'hold' ? JOIN_MS : CHATTER_MS);

/** One more stroke, of any key. */
export function learnStroke(before: Learning, stroke: Stroke): Learning {
  const l = learnTick(before, stroke.at);
  if (over(l)) return l;
  const code = codeOf(stroke);
  if (stroke.phase === 'down') {
    const refused = refusedKey(stroke);
    if (refused) return cannot(l, refused);
    if (l.code !== null && l.code !== code) return cannot(l, learnFault('more-than-one-key'));
    if (l.taken.includes(code)) return cannot(l, learnFault('already-used'));
  } else if (l.code !== code) return l;
  const next = { ...l, code, strokes: [...l.strokes, stroke] };
  const all = soFar(next);
  const last = all.at(-1);
  return { ...next, taps: all.length, downAt: last && last.upAt === null ? last.downAt : null };
}

/** When a tick is due, ms; null once it is over. */
export function learnDueAt(l: Learning): number | null {
  if (over(l)) return null;
  const all = soFar(l);
  const last = all.at(-1);
  if (!last) return l.since + WAIT_MS;
  if (last.upAt === null) return last.downAt + NO_RELEASE_MS;
  if (l.step === 'hold') return last.upAt + QUIET_HOLD_MS;
  return last.upAt + (all.length >= LEARN_TAPS ? QUIET_MS : WAIT_MS);
}

/** Time has come to `at`. */
export function learnTick(l: Learning, at: number): Learning {
  const due = learnDueAt(l);
  if (due === null || at < due) return l;
  const all = soFar(l);
  const last = all.at(-1);
  if (!last) return cannot(l, learnFault('nothing-came'));
  if (last.upAt === null) return cannot(l, learnFault('no-release'));
  if (l.step === 'hold') return heldDown(l, all, at);
  if (all.length < LEARN_TAPS) return cannot(l, learnFault('nothing-came'));
  return {
    ...l,
    step: 'hold',
    asks: ASKS.hold,
    since: at,
    strokes: [],
    tapTraces: all,
    downAt: null,
    taps: 0,
  };
}

/** What the hold step says of the pedal. */
function heldDown(l: Learning, all: readonly Trace[], at: number): Learning {
  const [only, more] = all;
  if (!only || only.upAt === null) return l;
  if (more) return cannot(l, learnFault('repeats-itself'));
  const heldMs = only.upAt - only.downAt;
  if (heldMs < ENOUGH_MS) {
    const shortHolds = [...l.shortHolds, heldMs];
    if (shortHolds.length < 2)
      return { ...l, asks: ASKS.again, since: at, strokes: [], taps: 0, downAt: null, shortHolds };
    const oneStroke = shortHolds.every((ms) => ms < ONE_STROKE_MS);
    return oneStroke ? learnt(l, only, false) : cannot(l, learnFault('not-kept-down'));
  }
  const slow = only.unmarked.some((gap, i) => gap > (i === 0 ? FIRST_REPEAT_MS : NEXT_REPEAT_MS));
  return slow ? cannot(l, learnFault('repeats-itself')) : learnt(l, only, true);
}

function learnt(l: Learning, hold: Trace, holds: boolean): Learning {
  const { code } = l;
  if (code === null) return l;
  const gapMs = Math.max(hold.gapMs, ...l.tapTraces.map((t) => t.gapMs));
  const settleMs = gapMs === 0 ? 0 : Math.min(MOST_SETTLE_MS, Math.ceil(gapMs * 1.25) + 5);
  const unmarked = hold.unmarked.length > 0;
  const pedal = { code, role: l.role, traits: { settleMs, holds, unmarked } };
  const repeats = hold.gapMs > 0 ? 'strokes' : unmarked ? 'unmarked' : hold.marked > 0 ? 'marked' : 'none';
  const says = holds
    ? `The pedal is learnt: it sends ${code}. Tap to go on; keep it down until the bar is full to open a hold point.`
    : `This pedal sends one short stroke however long it is kept down. A tap works; to open a hold point say its phrase, keep Enter down on a keyboard, or set the pedal to send its key for as long as it is pressed.`;
  return { ...l, step: 'learnt', asks: says, downAt: null, learnt: { pedal, repeats, says } };
}
