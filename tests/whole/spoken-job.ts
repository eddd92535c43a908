import type { Hands } from './hands.ts';
import type { Word } from './mouth.ts';
import { until } from './screen.ts';

export const NEXT = 'next step';
/** The job's first hold point. */
export const REFUSED_AT = 'linesWhole';

/**
 * What is said from each station on until another name on this list, in the order of the job on the demo's machine 1. One
 * "next step" too many does nothing at a hold point or a fork but be refused; at the first hold point that is the point.
 */
export const STATIONS: readonly (readonly [station: string, ...words: Word[]])[] = [
  ['protect', NEXT, NEXT, NEXT],
  ['engineOff', NEXT],
  ['engineCold', NEXT],
  ['neutral', NEXT],
  ['rider', NEXT],
  ['coverOff', NEXT],
  ['lookRetainer', 'circlip ring'],
  ['lookLink', 'clip link'],
  ['lookReach', 'plain socket'],
  ['kit', NEXT, 'number one', ...Array.from({ length: 6 }, () => NEXT)],
  [REFUSED_AT, NEXT, 'every line unbroken'],
  ['clipStill', 'clip sits where fitted'],
  ['beadWhole', 'bead in one piece'],
  ['rearTight', 'three two', 'figure correct'],
  ['raise', NEXT],
  ['standFirm', 'rock steady on stand'],
  ['axleTight', 'nine zero', 'figure correct'],
  ['line', 'zero decimal five', 'figure correct'],
  ['tightest', NEXT],
  ['slack', 'three zero', 'figure correct'],
  ['wiringBack', NEXT],
  ['guardOn', NEXT],
  ['guarded', 'guard sits solid'],
  ['lubricate', NEXT],
  ['spin', 'silent smooth running'],
  ['paint', NEXT],
  ['painted', 'paint lines all across'],
  ['pumpBrake', NEXT],
  ['brakeFirm', 'brake bites every time'],
  ['lower', NEXT],
  ['secondLook', 'released to the rider'],
];

/** Everything that is to be said from `station` up to, not including, `to`. */
export function wordsFrom(station: string, to: string | null): Word[] {
  const names = STATIONS.map(([name]) => name);
  const from = names.indexOf(station);
  const end = to === null ? names.length : names.indexOf(to);
  if (from < 0) throw new Error(`Nothing is to be said at ${station}.`);
  return STATIONS.slice(from, end).flatMap(([, ...words]) => words);
}

/** From the first start to the first station of that job, the bench listening. */
export async function startsListening(hands: Hands): Promise<void> {
  await hands.loadDemo();
  await hands.take(/^Listen for spoken words/);
  await until(hands.page, 'that it listens', ({ options }) =>
    options.some(({ text }) => /Listening: switch it off/.test(text)),
  );
  await hands.startJob(/^Re-check chain/, /^School machine 1/, /Tomas Reedle/);
}
