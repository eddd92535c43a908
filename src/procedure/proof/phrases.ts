import type { Definition } from '../definition.ts';
import type { Finding } from './finding.ts';
import { finding } from './finding.ts';
import { stationNames } from './rebuild.ts';

/** What is known of how phrases sound; a caller that has a model of pronunciation gives a better one. */
export interface PhraseRules {
  /** Words that are said at any station: no phrase may contain one of them. */
  readonly generic: readonly string[];
  /** Why a phrase cannot be said or heard well, or null. */
  unsayable(phrase: string): string | null;
  /** Why two phrases that are live together could be taken for each other, or null. */
  tooClose(one: string, other: string): string | null;
}

const GENERIC = [
  'stop work',
  'stop',
  'next step',
  'one step back',
  'say again',
  'what can i say',
  'how much',
  'tell me why',
  'pause the job',
  'resume the job',
  'trouble',
  'take note',
  'figure correct',
  'that is wrong',
];

export const wordsOf = (phrase: string): string[] => phrase.toLowerCase().match(/[\p{L}\p{N}']+/gu) ?? [];

/** Words that turn a phrase into its opposite, or into something that is only partly so. */
const TURNING = new Set(
  'not no never nearly almost partly half fully wholly quite isnt without before after is the a'.split(' '),
);

/** By spelling alone: equal, or the same but for one word or for words that turn the sense. */
function closeBySpelling(one: string, other: string): string | null {
  const a = wordsOf(one).filter((word) => !TURNING.has(word));
  const b = wordsOf(other).filter((word) => !TURNING.has(word));
  if (a.join(' ') === b.join(' ')) return 'they are the same words: word one of them differently';
  if (a.length !== b.length || a.length < 2) return null;
  const different = a.filter((word, at) => word !== b[at]).length;
  return different === 1 && a.length > 2 ? 'only one word differs: word one of them differently' : null;
}

function unsayableBySpelling(phrase: string): string | null {
  if (wordsOf(phrase).length === 0) return 'it has no words';
  return /^[\p{L}\p{N}' -]+$/u.test(phrase) ? null : 'it holds signs that nobody says';
}

/** Rules by spelling alone, where no model of pronunciation is at hand. */
export const plainRules: PhraseRules = {
  generic: GENERIC,
  unsayable: unsayableBySpelling,
  tooClose: closeBySpelling,
};

/**
 * Rules by spelling and by sound: `distance` is 0 for two phrases that sound the same and 1 for two that have nothing in
 * common, and phrases that are live together must be at least `least` apart.
 */
export const rulesBySound = (
  distance: (one: string, other: string) => number,
  least: number,
): PhraseRules => ({
  ...plainRules,
  tooClose: (one, other) =>
    closeBySpelling(one, other) ??
    (distance(one, other) < least ? 'they sound alike: word one of them differently' : null),
});

/** A hold phrase needs this many words: single words are spoken in passing too easily. */
const HOLD_WORDS = 2;

interface Spoken {
  readonly station: string;
  readonly phrase: string;
}

/**
 * Phrases against each other and against the words of every station: those of one fork, and those of all hold points,
 * since a phrase opens its own hold and no other.
 */
export function phraseFindings(definition: Definition, rules: PhraseRules): Finding[] {
  const stations = stationNames(definition).map((name) => ({ name, meta: definition.states[name]?.meta }));
  const holds: Spoken[] = stations.flatMap(({ name, meta }) =>
    meta?.kind === 'hold' ? [{ station: name, phrase: meta.phrase }] : [],
  );
  const forks: Spoken[][] = stations.flatMap(({ name, meta }) =>
    meta?.kind === 'fork' ? [meta.choices.map(({ phrase }) => ({ station: name, phrase }))] : [],
  );
  return [
    ...[...holds, ...forks.flat()].flatMap((spoken) => ownFindings(spoken, rules)),
    ...holds
      .filter(({ phrase }) => wordsOf(phrase).length < HOLD_WORDS)
      .map(({ station, phrase }) =>
        finding(station, 'phrase-unsayable', {
          phrase,
          why: `a hold phrase has ${HOLD_WORDS} words or more`,
        }),
      ),
    ...[holds, ...forks].flatMap((together) => pairFindings(together, rules)),
    ...advanceFindings(definition),
  ];
}

function ownFindings({ station, phrase }: Spoken, rules: PhraseRules): Finding[] {
  const why = rules.unsayable(phrase);
  const said = ` ${wordsOf(phrase).join(' ')} `;
  const word = rules.generic.find((generic) => said.includes(` ${wordsOf(generic).join(' ')} `));
  const close = rules.generic.flatMap((other) => {
    const alike = word === undefined ? rules.tooClose(phrase, other) : null;
    return alike === null ? [] : [{ phrase, other, where: 'said at every station', why: alike }];
  });
  return [
    ...close.map((details) => finding(station, 'phrases-too-close', details)),
    ...(why === null ? [] : [finding(station, 'phrase-unsayable', { phrase, why })]),
    ...(word === undefined ? [] : [finding(station, 'phrase-generic', { phrase, word })]),
  ];
}

function pairFindings(together: readonly Spoken[], rules: PhraseRules): Finding[] {
  return together.flatMap((one, at) =>
    together.slice(at + 1).flatMap((other) => {
      const why = rules.tooClose(one.phrase, other.phrase);
      if (why === null) return [];
      const where = other.station === one.station ? 'at the same station' : `at "${other.station}"`;
      return [
        finding(one.station, 'phrases-too-close', { phrase: one.phrase, other: other.phrase, where, why }),
      ];
    }),
  );
}

/** No state may take both the advance word and a hold's evidence. */
function advanceFindings(definition: Definition): Finding[] {
  return Object.entries(definition.states).flatMap(([name, { on = {}, meta }]) => {
    const opens = meta?.kind === 'hold' || 'confirm' in on || 'witness' in on;
    return opens && Object.hasOwn(on, 'advance') ? [finding(name, 'advance-beside-hold')] : [];
  });
}
