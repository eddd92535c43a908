import type { Phrase } from '../hear/ear.ts';
import type { Lexicon } from '../hear/lexicon.ts';
import { TAKES, tooAlike, type Way } from '../hear/teach.ts';
import type { Definition } from '../procedure/definition.ts';
import { PLACES } from './voice.ts';

/** What can be taught: a phrase and what follows from it. */
export type Teachable = Pick<Phrase, 'text' | 'kind'>;

const word = (text: string): Teachable => ({ text, kind: 'word' });
const stop = (text: string): Teachable => ({ text, kind: 'stop' });

/** The app's command words, in the order in which they are wanted; three takes of each take less than two minutes. */
export const COMMANDS: readonly Teachable[] = [
  word('next step'),
  stop('stop work'),
  stop('pause the job'),
  word('resume the job'),
  word('one step back'),
  word('say again'),
  word('tell me why'),
  word('how much'),
  word('show the drawing'),
  word('keep reading'),
  word('what can I say'),
  word('trouble here'),
  word('not passed'),
  word('take note'),
  word('end of note'),
  word('figure correct'),
  word('that is wrong'),
  word('leave it'),
];

export const NUMBERS: readonly Teachable[] = PLACES.map(word);

/** The phrases of a procedure's hold points, once each, in its order. */
export const holdsOf = (definition: Definition): Teachable[] => [
  ...new Map(
    Object.values(definition.states).flatMap(({ meta }): [string, Teachable][] =>
      meta?.kind === 'hold' ? [[meta.phrase, { text: meta.phrase, kind: 'hold' }]] : [],
    ),
  ).values(),
];

export interface Standing extends Teachable {
  readonly stands: 'safe' | 'alike' | 'begun' | 'untaught';
  /** The phrases that it sounds like. */
  readonly like: readonly string[];
}

/** How each phrase of a list stands with this person; `taught`: everything they have taught, of this list or not. */
export function standing(
  list: readonly Teachable[],
  takes: ReadonlyMap<string, readonly unknown[]>,
  taught: ReadonlyMap<string, readonly Way[]>,
  words: Lexicon,
): Standing[] {
  const holds = new Set(list.flatMap(({ text, kind }) => (kind === 'hold' ? [text] : [])));
  const texts = [...new Set([...[...COMMANDS, ...NUMBERS, ...list].map(({ text }) => text)])];
  // Hold points are never live together.
  const alike = tooAlike(
    texts.map((text) => ({ text, ways: taught.get(text) ?? [] })),
    words,
  ).filter(({ one, other }) => !(holds.has(one) && holds.has(other)));
  return list.map((phrase) => {
    const like = alike.flatMap(({ one, other }) =>
      one === phrase.text ? [other] : other === phrase.text ? [one] : [],
    );
    const many = takes.get(phrase.text)?.length ?? 0;
    const whole = many >= TAKES && (taught.get(phrase.text)?.length ?? 0) > 0;
    const stands = like.length > 0 ? 'alike' : whole ? 'safe' : many > 0 ? 'begun' : 'untaught';
    return { ...phrase, stands, like };
  });
}
