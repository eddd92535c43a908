import { figureOf } from '../hear/numbers.ts';
import { allOffersAt, type Command as Offered, offersAt } from '../job/words.ts';
import type { Gesture } from '../press/gesture.ts';
import type { Command } from '../press/layout.ts';
import type { Evidence } from '../procedure/events.ts';
import { type Around, acknowledge, type Console, gestureAt, STOP_REASONS, type Turn } from './console.ts';
import { ONE_PAGE } from './read-on.ts';
import { nextInTalk } from './talk.ts';

/** What the ear listens for: `stop` is easy to say, a `word` firm, a `hold` phrase strict and never repaired. */
export interface LivePhrase {
  readonly text: string;
  readonly kind: 'stop' | 'word' | 'hold' | 'figure';
}

/** What was heard, with how sure the ear was of it and of its second-best guess, 0 to 1. */
export interface HeardPhrase {
  readonly text: string;
  readonly kind: LivePhrase['kind'];
  readonly score: number;
  readonly runnerUp: string | null;
  readonly runnerUpScore: number;
}

/** Words for the places of a list: two syllables and more, unlike each other. */
export const PLACES: readonly string[] = [
  'number one',
  'number two',
  'number three',
  'number four',
  'number five',
  'number six',
  'number seven',
  'number eight',
  'number nine',
];

/** Turns what lies over the station to its next page. */
export const READ_ON = 'keep reading';

/** The press that it stands for. */
export const TAP: Gesture = { kind: 'tap', key: 'go', via: 'keys', downAt: 0 };

/** How what can be said is told: in one breath, so that no phrase of it ever stands between two pauses. */
export const wordsSpoken = (live: readonly LivePhrase[]): string[] => {
  const words = live.flatMap(({ text, kind }) => (text === '' ? 'a figure' : kind === 'hold' ? [] : [text]));
  const holds = live.some(({ kind }) => kind === 'hold') ? ['or the words that open this hold point'] : [];
  return words.length === 0 ? [] : [`${['You can say', words.join(' or '), ...holds].join(' ')}.`];
};

export const TOO_LOUD =
  'It is too loud here to open a hold point by voice: check it, then keep the pedal down.';

const word = (text: string): LivePhrase => ({ text, kind: 'word' });

/** How many options lie before the person now; 0 where there is no list. */
function optionCount(console: Console, around: Around): number {
  if (console.over === 'stop') return STOP_REASONS.length;
  if (console.over === 'tools') return around.view.kit?.next?.tools.length ?? 0;
  if (console.over === 'talk' || around.view.trouble) {
    const next = nextInTalk(console.talk ?? { about: 'decide' }, around);
    return next.kind === 'list' ? next.options.length : 0;
  }
  return around.view.hold?.awaitingFor ? around.witnesses.length : 0;
}

/** The phrases that mean something at this moment, and no others. A generic word at a hold is heard, to be refused. */
export function livePhrases(console: Console, around: Around, pages = ONE_PAGE): LivePhrase[] {
  const { view } = around;
  if (view.outcome !== 'open') return [];
  const more = console.overPage < pages.over - 1 ? [word(READ_ON)] : [];
  const places = PLACES.slice(0, optionCount(console, around)).map(word);
  if (console.over !== 'none' || view.trouble) {
    const back = console.over === 'back' ? [word('one step back')] : [];
    return [...places, ...back, ...more, word('leave it')];
  }
  const again = around.back?.readAgain ? around.back.confirmed : null;
  const offers = allOffersAt(view).filter(({ says }) => says !== '');
  const phrases = offers.map(
    ({ command, says }): LivePhrase => ({
      text: says,
      kind:
        command === 'stop' || command === 'pause'
          ? 'stop'
          : command === 'confirm' && view.hold && !view.hold.byFigure
            ? 'hold'
            : 'word',
    }),
  );
  const choices = view.choices.map(({ phrase }) => word(phrase));
  const figure: LivePhrase[] = view.asked
    ? [{ text: '', kind: 'figure' }, word('figure correct'), word('that is wrong')]
    : [];
  const generic = view.paused || offers.some(({ says }) => says === 'next step') ? [] : [word('next step')];
  // It stands on no list of what can be said, for it asks for that list.
  const asks = view.paused ? [] : [word('what can I say')];
  const read: LivePhrase[] = again ? [{ text: again.phrase, kind: 'hold' }] : [];
  const all = [
    ...phrases,
    ...(view.paused ? more : []),
    ...read,
    ...choices,
    ...figure,
    ...generic,
    ...asks,
    ...places,
  ];
  return all.filter(
    ({ text, kind }, at) => all.findIndex((one) => one.text === text && one.kind === kind) === at,
  );
}

const KEYS: Readonly<Partial<Record<Offered, Command>>> = {
  why: 'why',
  again: 'again',
  howMuch: 'howMuch',
  words: 'words',
  showMe: 'showMe',
  trouble: 'trouble',
  stop: 'stop',
  fail: 'fail',
  pause: 'pause',
};

const nothing = (console: Console): Turn => ({ console, effects: [] });

/** What a heard phrase does: the same as the press for it, but a hold's phrase is its own evidence. Pure. */
export function heardAt(console: Console, heard: HeardPhrase, around: Around): Turn {
  const { view } = around;
  const { text } = heard;
  const press = (gesture: Gesture) => gestureAt(console, gesture, around);
  const place = PLACES.indexOf(text);
  if (place >= 0) return press({ kind: 'digit', digit: String(place + 1) });
  if (text === 'leave it') return press({ kind: 'escape' });
  if (console.over === 'back' && text === 'one step back') return goBack(console, around);
  if (heard.kind === 'figure') return spokenFigure(console, text, around);
  if (text === 'figure correct' && console.readBack) return press({ kind: 'enter' });
  if (text === 'that is wrong' && console.readBack) return press({ kind: 'escape' });
  if (view.paused && around.back?.readAgain && text === around.back.confirmed?.phrase)
    return acknowledge(console, around.back);
  if (view.hold && heard.kind === 'hold') return byPhrase(console, heard, around);
  const choice = view.choices.find(({ phrase }) => phrase === text);
  if (choice)
    return { console, effects: [{ kind: 'event', event: { type: 'choose', value: choice.value } }] };
  if (text === READ_ON) return press(TAP);
  if (text === 'next step') return nextStep(console, around);
  const offer = [...offersAt(view), ...allOffersAt(view)].find(({ says }) => says === text);
  if (offer?.command === 'back') return goBack(console, around);
  if (offer?.command === 'resume') return press({ kind: 'enter' });
  // Whoever asks for a note with their voice gives it with their voice.
  if (offer?.command === 'note') return { console, effects: [{ kind: 'capture', what: 'voice' }] };
  const key = offer && KEYS[offer.command];
  return key ? press({ kind: 'key', name: key }) : nothing(console);
}

/** The advance word is the tap of the pedal; where a tap would only light the next choice, the job refuses the word. */
function nextStep(console: Console, around: Around): Turn {
  if (around.view.kind === 'fork' || around.view.hold) {
    return { console, effects: [{ kind: 'event', event: { type: 'advance' } }] };
  }
  return gestureAt(console, { kind: 'enter' }, around);
}

function goBack(console: Console, { before, voided }: Around): Turn {
  if (before === null) return nothing(console);
  if (voided > 0 && console.over !== 'back') return { console: { ...console, over: 'back' }, effects: [] };
  return {
    console: { ...console, over: 'none' },
    effects: [{ kind: 'event', event: { type: 'open', station: before } }],
  };
}

function byPhrase(console: Console, heard: HeardPhrase, { view, witnesses }: Around): Turn {
  const evidence: Evidence = {
    kind: 'phrase',
    phrase: heard.text,
    score: rounded(heard.score),
    ...(heard.runnerUp === null
      ? {}
      : { runnerUp: heard.runnerUp, runnerUpScore: rounded(heard.runnerUpScore) }),
  };
  if (!view.hold?.awaitingFor)
    return { console, effects: [{ kind: 'event', event: { type: 'confirm', evidence } }] };
  const witness = witnesses.find(({ id }) => id === console.witness);
  // A voice does not say whose it is: the witness names themselves first.
  return witness
    ? { console, effects: [{ kind: 'event', event: { type: 'witness', evidence }, by: witness.id }] }
    : nothing(console);
}

/** Scores go into the journal with three decimals: more would be noise. */
const rounded = (score: number): number => Math.round(score * 1000) / 1000;

/** A spoken figure is never committed: it is shown and read back, and waits for "figure correct". */
function spokenFigure(console: Console, text: string, { view }: Around): Turn {
  const figure = figureOf(text.split(' '));
  if (!view.asked || !('digits' in figure)) return nothing(console);
  return {
    console: { ...console, entry: { text: figure.digits }, readBack: true },
    effects: [{ kind: 'speak', what: 'readBack' }],
  };
}
