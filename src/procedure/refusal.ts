/**
 * Why an event was refused: a closed list of codes, each with one plain sentence that says what to do. The sentence is
 * spoken, shown and journalled; the code is for the record's reader.
 */
const sentences = {
  'job-closed': () => 'This job is closed: open its record to read it, or start a new job.',
  'job-paused': () => 'The job is paused: say "resume the job", or press the pedal, to go on.',
  'not-paused': () => 'The job is not paused: carry on.',
  'person-unknown': (d: Details) => `${d.who} is not signed on to this job: sign on first.`,
  'not-here': (d: Details) => `That does nothing at this station: ${d.what}.`,
  'hold-needs-evidence': (d: Details) =>
    `This is a hold point: check it, then say "${d.phrase}" or hold the pedal down.`,
  'hold-needs-figure': (d: Details) =>
    `This hold opens only for a figure: measure ${d.what} and give the reading.`,
  'wrong-phrase': (d: Details) => `That phrase does not open this hold: say "${d.phrase}".`,
  'press-too-short': (d: Details) => `Keep the pedal down until the bar is full, ${d.seconds} seconds.`,
  'witness-needed': () => 'This hold waits for its witness: a second, authorised person must confirm it.',
  'no-evidence-to-witness': () =>
    'There is nothing to witness yet: the person doing the work confirms first.',
  'witness-same-person': () => 'A witness must be somebody else: call a second person to look.',
  'witness-not-authorised': () =>
    'An apprentice cannot witness a hold point: call a mechanic or the supervisor.',
  'kit-item-unknown': () => 'That is not on the list: call off the item that is shown.',
  'kit-item-called': (d: Details) => `${d.what} is called off already: go on to the next item.`,
  'kit-not-complete': (d: Details) => `Not everything is at hand: ${d.what} is still missing.`,
  'tool-needed': (d: Details) => `Say which tool: give the number on the ${d.what}.`,
  'tool-unknown': (d: Details) => `No ${d.what} with that number is on the list: read its number again.`,
  'tool-out-of-calibration': (d: Details) =>
    `The calibration of ${d.tool} lapsed on ${d.date}: put it aside and take one that is in date.`,
  'tool-not-called-off': (d: Details) => `${d.tool} was not called off for this job: use the one that was.`,
  'label-unreadable': () => 'That label was not read whole: scan it again, or go on without it.',
  'part-unknown': (d: Details) =>
    `"${d.code}" is on no parts list, and ${d.what} is asked for: look at the part, then keep its code as a note or scan another.`,
  'part-wrong': (d: Details) =>
    `Wrong part. Scanned: ${d.scanned}. Asked for: ${d.what}. Lay it aside and scan the right one.`,
  'figure-not-finite': () => 'That is not a number: give the figure again.',
  'figure-wrong-unit': (d: Details) => `This figure is in ${d.unit}: give it in ${d.unit}.`,
  'figure-implausible': (d: Details) =>
    `${d.what} must lie between ${d.min} and ${d.max} ${d.unit}: look at the decimal point and give it again.`,
  'figure-known': (d: Details) => `${d.what} is known already: go on.`,
  'figure-missing': (d: Details) =>
    `${d.what} is not known yet: go back and read it from the service manual.`,
  'choice-unknown': (d: Details) => `Choose between ${d.choices}.`,
  'working-differs': () =>
    'The figures have changed since they were shown: look at the new ones and confirm again.',
  'working-has-no-answer': (d: Details) => `There is no answer to accept: ${d.why}`,
  'working-has-answer': () => 'There is an answer: look at it and confirm it.',
  'wait-not-over': (d: Details) => `The wait is not over: ${d.left} to go.`,
  'round-fasteners-unknown': () => 'The number of fasteners is not known: go back and count them.',
  'not-visited': () => 'You have not been at that station in this job: go on from here.',
  'already-there': () => 'You are at that station now: carry on.',
  'hold-not-passed': (d: Details) => `The job cannot be finished: the hold point "${d.hold}" is not passed.`,
  'sign-on-needed': (d: Details) => `${d.who} has not signed on: sign on first.`,
  'sign-on-stale': (d: Details) => `${d.who} signed on too long ago for this: sign on again.`,
  'trouble-open': () => 'A trouble is open: it must be decided before the work goes on.',
  'trouble-needed': () => 'There is no trouble to decide on: raise it first.',
  'not-authorised': (d: Details) => `${d.role} may not decide on ${d.act}: call the supervisor.`,
  'concession-not-allowed': () => 'The procedure allows no concession here: choose rework, scrap or stop.',
  'return-not-visited': () =>
    'Work can only go back to a station that was done in this job: choose one of those.',
  'attachment-unusable': () =>
    'That file cannot be kept with the record: take the picture or the voice note again.',
  'reason-needed': () => 'Say why in a few words, so that the record can be understood.',
} satisfies Record<string, (details: Details) => string>;

type Details = Readonly<Record<string, string | number>>;

export type RefusalCode = keyof typeof sentences;

export interface Refusal {
  readonly code: RefusalCode;
  readonly sentence: string;
}

export const REFUSAL_CODES = Object.keys(sentences) as RefusalCode[];

/** A refusal with its sentence filled in. */
export function refuse(code: RefusalCode, details: Details = {}): Refusal {
  return { code, sentence: sentences[code](details) };
}
