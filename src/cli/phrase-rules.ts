import { dictionary } from 'cmu-pronouncing-dictionary';
import { CALL_WORDS } from '../hear/call-word.ts';
import { END_OF_NOTE } from '../hear/command-words.ts';
import { phraseDistance, TOO_CLOSE } from '../hear/distance.ts';
import { lexicon } from '../hear/lexicon.ts';
import { OWN_WORDS } from '../hear/own-words.ts';
import { type PhraseRules, rulesBySound } from '../procedure/proof/phrases.ts';

/** Phones of any English word: the trade's own, else the pronouncing dictionary's, else guessed from the spelling. */
const words = lexicon(
  new Proxy(OWN_WORDS, {
    get: (own, word) => Reflect.get(own, word) ?? dictionary[String(word)]?.replace(/\d|\s*#.*$/g, ''),
    getOwnPropertyDescriptor: (own, word) =>
      word in own || String(word) in dictionary ? { configurable: true, enumerable: true } : undefined,
  }),
);

/** Phrases that are live together must sound far enough apart for the ear to tell them. */
const bySound = rulesBySound(
  (one, other) => phraseDistance(one, other, (word) => words.phones(word)),
  TOO_CLOSE,
);

/** The same, and no phrase may be or sound like a call word that a workshop may choose, nor the end of a voice note. */
export const phraseRules: PhraseRules = {
  ...bySound,
  generic: [...bySound.generic, ...CALL_WORDS, END_OF_NOTE],
};
