/**
 * What can be wrong with a procedure: a closed list of codes, each with one plain sentence that says what to do. The
 * sentence is printed by the check; the code is for machines.
 */
const sentences = {
  // The definition as JSON
  'not-a-procedure': (d: Details) => `"${d.where}" must be ${d.wanted}.`,
  'name-unusable': (d: Details) =>
    `"${d.name}" cannot be used as a name: take letters and digits, beginning with a letter.`,
  'start-unknown': (d: Details) => `The procedure starts at "${d.name}", which is no station: name one.`,
  'ends-altered': (d: Details) => `"${d.name}" must be a bare final state: leave it as procedure() makes it.`,
  'everywhere-altered': (d: Details) =>
    `"${d.event}" at the root is not what procedure() makes: write the procedure with procedure() and export it again.`,

  // One state against the shape of its kind
  'way-missing': (d: Details) => `A ${d.kind} must have ${d.way}: write the station with ${d.kind}().`,
  'way-extra': (d: Details) => `A ${d.kind} has no ${d.way}: take it out.`,
  'way-altered': (d: Details) => `The ${d.part} of ${d.way} is not that of a ${d.kind}: make it ${d.wanted}.`,
  'arrival-altered': () => 'Arriving here must record this station and do nothing else: leave entry alone.',
  'state-altered': (d: Details) => `A ${d.kind} has nothing called "${d.part}" here: take it out.`,
  'tags-altered': (d: Details) => `The tags of a ${d.kind} must be ${d.wanted}: leave them alone.`,
  'fork-incomplete': (d: Details) => `The fork gives no way for ${d.fact} = ${d.value}: add a choice for it.`,
  'fork-overlaps': (d: Details) => `The fork gives two ways for ${d.fact} = ${d.value}: keep one.`,

  // Names
  'target-unknown': (d: Details) => `It leads to "${d.name}", which is no station: name one that exists.`,
  'fact-unknown': (d: Details) => `The fact "${d.name}" is not declared: add it to the procedure's facts.`,
  'fact-value-unknown': (d: Details) =>
    `The fact "${d.fact}" never has the value ${d.value}: use one of its declared values.`,
  'figure-unknown': (d: Details) => `The figure "${d.name}" is not declared: add it to the figures.`,
  'tool-unknown': (d: Details) => `The tool "${d.name}" is not declared: add it to the tools.`,
  'part-not-in-kit': (d: Details) =>
    `No kit station lists a part "${d.name}": list it there, or take "fits" out.`,
  'drawing-unknown': (d: Details) => `There is no drawing "${d.name}": add the file or take the name out.`,
  'unit-unknown': (d: Details) =>
    `"${d.unit}" is not a unit known here: write one of the units of the trade.`,
  'unit-differs': (d: Details) =>
    `${d.what} is in ${d.has}, but ${d.wanted} is wanted here: make them agree.`,
  'working-unknown': (d: Details) => `There is no working "${d.name}": name one that exists.`,
  'working-input-unknown': (d: Details) =>
    `The working ${d.working} has no input "${d.name}": take it out or spell it right.`,
  'working-input-missing': (d: Details) => `The working ${d.working} needs the input "${d.name}": give it.`,
  'working-input-kind': (d: Details) => `The input "${d.name}" must be ${d.wanted}.`,
  'output-unknown': (d: Details) =>
    `The working ${d.working} gives no figure "${d.name}": use one of its outputs.`,
  'reading-unknown': (d: Details) => `No station takes the reading "${d.name}": name one that is taken.`,
  'result-unknown': (d: Details) => `"${d.name}" is no working station: name the station that computes it.`,
  'procedure-unknown': (d: Details) =>
    `The follow-up names the procedure "${d.name}", which does not exist: name one that does.`,
  'name-taken': (d: Details) =>
    `The reading "${d.name}" is taken in ${d.has} elsewhere and in ${d.wanted} here: name them apart.`,
  'name-unused': (d: Details) => `Nothing uses the ${d.what} "${d.name}": use it or take it out.`,

  // Figures and limits
  'range-empty': (d: Details) =>
    `No value of "${d.name}" is plausible from ${d.min} to ${d.max}: give the smaller one first.`,
  'limits-impossible': (d: Details) =>
    `No figure lies from ${d.min} to ${d.max} ${d.unit}: set a lower limit below the upper one.`,
  'limits-missing': () => 'A hold point that measures must say what is right: give limits or a tolerance.',
  'limits-twice': () => 'Limits and a tolerance are both given: keep one of them.',
  'tolerance-without-target': () => 'A tolerance needs a target: give the figure that it is a part of.',
  'tolerance-impossible': (d: Details) =>
    `A tolerance of ${d.percent} % makes no sense: give more than 0 and less than 100.`,
  'target-outside': (d: Details) =>
    `The target ${d.target} ${d.unit} lies outside its own limits: correct one.`,
  'amount-impossible': (d: Details) => `${d.what} cannot be ${d.value}: give ${d.wanted}.`,
  'list-empty': (d: Details) => `The list of ${d.what} is empty: fill it or leave the station out.`,

  // Known before it is used
  'figure-not-looked-up': (d: Details) =>
    `The figure "${d.name}" may not be known here (${d.facts}): look it up on the way.`,
  'reading-not-taken': (d: Details) =>
    `The reading "${d.name}" may not be taken yet (${d.facts}): take it on every way that leads here.`,
  'result-not-computed': (d: Details) =>
    `The result of "${d.name}" may not be there yet (${d.facts}): compute it on every way that leads here.`,
  'fact-read-too-early': (d: Details) =>
    `This reads ${d.fact}, but "${d.fork}" asks for it only later: ask first.`,
  'fact-not-asked': (d: Details) =>
    `The fact "${d.fact}" may not be known here: lead every way here through a fork that asks for it.`,

  // The proof
  'hold-can-be-missed': (d: Details) =>
    `The job can be finished without this hold point (${d.facts}): ${d.path}: close that way.`,
  'hold-never-met': (d: Details) =>
    `This hold point applies but is never met (${d.facts}): lead the job through it.`,
  'rework-does-not-return': (d: Details) =>
    `From "${d.rework}" the job does not come back to this hold point (${d.facts}): lead the rework back.`,
  'dead-end': (d: Details) => `From here the job cannot be finished (${d.facts}): give a way on.`,
  'complete-out-of-reach': (d: Details) => `The job cannot be finished when ${d.facts}: give a way through.`,
  'never-reached': () => 'No job ever gets here: lead to it or take it out.',
  'loop-without-a-person': (d: Details) =>
    `The job would run in a circle by itself (${d.facts}): put a station with an act of a person in it.`,
  'too-many-combinations': (d: Details) =>
    `More than ${d.limit} combinations of facts meet between "${d.from}" and "${d.to}": bring the ways together sooner.`,

  // Phrases
  'phrase-generic': (d: Details) =>
    `The phrase "${d.phrase}" contains "${d.word}", which is said everywhere: choose words for this station only.`,
  'phrases-too-close': (d: Details) => `"${d.phrase}" is too close to "${d.other}" (${d.where}): ${d.why}.`,
  'phrase-unsayable': (d: Details) => `"${d.phrase}" cannot be said: ${d.why}.`,
  'advance-beside-hold': () =>
    'The advance word and a hold phrase are both live here: a hold opens for its own evidence only.',
} satisfies Record<string, (details: Details) => string>;

type Details = Readonly<Record<string, string | number>>;

export type FindingCode = keyof typeof sentences;

export interface Finding {
  /** The station it is about; null: the whole procedure. */
  readonly station: string | null;
  readonly code: FindingCode;
  /** One plain sentence that says what is wrong and what to do. */
  readonly says: string;
}

export const FINDING_CODES = Object.keys(sentences) as FindingCode[];

export function finding(station: string | null, code: FindingCode, details: Details = {}): Finding {
  return { station, code, says: sentences[code](details) };
}
