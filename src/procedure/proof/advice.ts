/**
 * Where a procedure departs from what checklist research advises, as far as that can be measured. A closed list of codes,
 * each with one plain sentence; advice is printed and never fails a check, since a good reason may stand against it.
 * What each rests on is told in `procedures/WRITING.md`.
 */
const sentences = {
  'sentence-long': (d: Details) =>
    `"${d.text}" has about ${d.syllables} syllables and one breath carries ${d.most}: make two sentences of it.`,
  'acts-joined': (d: Details) =>
    `"${d.word}" joins two acts: give each a station of its own, or the second is forgotten.`,
  'acts-many': (d: Details) =>
    `It says ${d.sentences} sentences: at most ${d.most} are remembered; split it.`,
  'pause-missing': (d: Details) =>
    `From here ${d.steps} steps follow each other up to "${d.last}" and nothing is looked at: put a hold point, a reading or a look between them.`,
  'caution-in-words': (d: Details) =>
    `"${d.word}" stands in the ${d.where}: make it a caution, so that it is said before the act.`,
  'protection-late': () =>
    'This is dangerous, and protective equipment is not called off on every way here: call it off first.',
  'why-thin': (d: Details) =>
    `The reason has ${d.words} words: say which failure the hold point prevents, and what it does to the rider.`,
  'first-hold-late': (d: Details) =>
    `The first hold point comes after ${d.stations} stations of ${d.all}: hold what matters most as early as the work allows.`,
  'response-vague': (d: Details) =>
    `"${d.word}" in the phrase says that someone looked, not what was seen: word it as the state that must be there.`,
  'release-missing': () =>
    'No hold point asks for a second person in every job: let one release the work before it ends.',
  'completion-unsaid': () =>
    'The job ends here without a word: end with a step that says that it is complete and what comes next.',
} satisfies Record<string, (details: Details) => string>;

type Details = Readonly<Record<string, string | number>>;

export type AdviceCode = keyof typeof sentences;

export interface Advice {
  /** The station it is about; null: the whole procedure. */
  readonly station: string | null;
  readonly code: AdviceCode;
  readonly says: string;
}

export const ADVICE_CODES = Object.keys(sentences) as AdviceCode[];

export function advise(station: string | null, code: AdviceCode, details: Details = {}): Advice {
  return { station, code, says: sentences[code](details) };
}
