import type { BigFigure } from './figures.ts';
import type { StationView } from './view.ts';

/** Unit names as they are spoken. */
const spokenUnits: Readonly<Record<string, string>> = {
  mm: 'millimetres',
  N·m: 'newton metres',
  ft·lbf: 'foot pounds',
  in·lbf: 'inch pounds',
  kgf·m: 'kilogram metres',
  '%': 'per cent',
  '°': 'degrees',
  'km/h': 'kilometres an hour',
  bar: 'bar',
  min: 'minutes',
  pitches: 'pitches',
  teeth: 'teeth',
};

export const spokenUnit = (unit: string): string => spokenUnits[unit] ?? unit;

const digitWords: Readonly<Record<string, string>> = {
  '0': 'zero',
  '1': 'one',
  '2': 'two',
  '3': 'three',
  '4': 'four',
  '5': 'five',
  '6': 'six',
  '7': 'seven',
  '8': 'eight',
  '9': 'nine',
  '.': 'decimal',
  '-': 'minus',
  '–': 'to',
  '≤': 'at most',
  '≥': 'at least',
};

/** Figures are read digit by digit, as ICAO Annex 10 vol. II 5.2.1.4 has it: "nine zero decimal five". */
export function digitByDigit(digits: string): string {
  const words = [...digits].map((sign) => digitWords[sign] ?? '').filter((word) => word !== '');
  return words.join(' ');
}

export function spokenFigure({ label, digits, unit }: BigFigure): string {
  return `${label}: ${digitByDigit(digits)} ${spokenUnit(unit)}`.trim();
}

const signal = (word: string) => word.charAt(0).toUpperCase() + word.slice(1);

/**
 * A fork's question as it is spoken: in one breath, and never beginning with a phrase that may be said there. A phrase alone
 * between two pauses is what a person says; a microphone that hears the app must not take it for that.
 */
export function spokenQuestion(say: string, phrases: readonly string[]): string {
  if (phrases.length === 0) return say;
  const sentences = say.split(/(?<=[.?!]) /);
  const question = sentences.pop() ?? '';
  const begins = phrases.some((phrase) => question.toLowerCase().startsWith(phrase.toLowerCase()));
  const asked = begins ? `Is it ${question.charAt(0).toLowerCase()}${question.slice(1)}` : question;
  return [...sentences, asked.replaceAll(/, or\b|,/g, ' or')].join(' ');
}

/** What is read aloud on arriving at a station: cautions first, then the instruction, then the figure. */
export function spokenAt(view: StationView): string[] {
  if (view.outcome === 'complete') return ['The job is complete. The record is closed and sealed.'];
  if (view.outcome === 'stopped') return ['The job is stopped. It is not complete: mark the machine so.'];
  const cautions = view.cautions.map(({ word, text }) => `${signal(word)}. ${text}`);
  const opening = view.hold ? ['Hold point.'] : [];
  const figure = view.figures[0] ? [`${spokenFigure(view.figures[0])}.`] : [];
  const kit = view.kit?.next ? [`${view.kit.next.calls}?`] : [];
  const say = spokenQuestion(
    view.say,
    view.choices.map(({ phrase }) => phrase),
  );
  const ring = view.round ? [`${signal(view.round.fastener)} ${view.round.now}.`] : [];
  return [...cautions, ...opening, say, ...figure, ...kit, ...ring];
}
