import type { Trouble } from '../procedure/context.ts';
import type { Digest } from './digest.ts';

/** A length of time for people: "45 s", "12 min 05 s", "2 h 07 min". `ms` not negative. */
export function spanInWords(ms: number): string {
  const seconds = Math.round(ms / 1000);
  const two = (value: number) => String(value).padStart(2, '0');
  if (seconds < 60) return `${seconds} s`;
  const minutes = Math.floor(seconds / 60);
  if (minutes < 60) return `${minutes} min ${two(seconds % 60)} s`;
  const hours = Math.floor(minutes / 60);
  return hours < 48 ? `${hours} h ${two(minutes % 60)} min` : `${Math.floor(hours / 24)} d ${hours % 24} h`;
}

/** A moment of a record as people write it: "2026-03-02 08:05:00" (UTC). */
export const momentInWords = (moment: string): string => moment.slice(0, 19).replace('T', ' ');

/** A share in per cent: "87 %". */
export const percent = (share: number): string => `${(share * 100).toFixed(0)} %`;

const DECISIONS = {
  rework: 'rework',
  scrap: 'scrap: the part is replaced',
  concession: 'CONCESSION: used as it is',
  stop: 'stopped and made safe',
} as const;

export const decisionInWords = ({ decided }: Trouble): string =>
  decided ? DECISIONS[decided.decision] : 'not decided yet';

export const outcomeInWords = (outcome: Digest['outcome']): string =>
  ({ open: 'open', complete: 'complete', stopped: 'stopped, not complete' })[outcome];

export const factInWords = (value: string | boolean): string =>
  value === true ? 'yes' : value === false ? 'no' : value;

/** How many of something: "1 seal", "2 seals". */
export const counted = (count: number, what: string): string => `${count} ${what}${count === 1 ? '' : 's'}`;

/** How often a hold point was found not right before it was passed; `times` at least 1. */
export const failuresInWords = (times: number): string =>
  times === 1 ? 'failed once before' : `failed ${times} times before`;
