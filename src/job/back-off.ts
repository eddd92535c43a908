/** Tries before a pause is imposed; each further failure doubles it, from 5 s up to 15 min. Our own choice. */
const FREE_TRIES = 3;
const FIRST_WAIT_MS = 5000;
const LONGEST_WAIT_MS = 15 * 60_000;

/** How long no further try counts after so many failures in a row, ms. */
export const waitAfter = (failures: number): number =>
  failures < FREE_TRIES ? 0 : Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (failures - FREE_TRIES));

export const waitSentence = (seconds: number): string =>
  `Too many wrong tries: wait ${seconds} s, then try again.`;
