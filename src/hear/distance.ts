/**
 * How far apart two phrases sound. A weighted edit distance over phones: changing a phone costs by the features that
 * differ (voice, place and manner of a consonant; height, depth and rounding of a vowel), leaving one out or putting one
 * in costs the most. Features after the charts of the International Phonetic Association, from memory.
 */

// Manner, place (front of the mouth to the back, 0-7), voice.
const CONSONANTS: Readonly<Record<string, readonly [string, number, number]>> = {
  P: ['stop', 0, 0],
  B: ['stop', 0, 1],
  T: ['stop', 3, 0],
  D: ['stop', 3, 1],
  K: ['stop', 6, 0],
  G: ['stop', 6, 1],
  CH: ['affricate', 4, 0],
  JH: ['affricate', 4, 1],
  F: ['fricative', 1, 0],
  V: ['fricative', 1, 1],
  TH: ['fricative', 2, 0],
  DH: ['fricative', 2, 1],
  S: ['fricative', 3, 0],
  Z: ['fricative', 3, 1],
  SH: ['fricative', 4, 0],
  ZH: ['fricative', 4, 1],
  HH: ['fricative', 7, 0],
  M: ['nasal', 0, 1],
  N: ['nasal', 3, 1],
  NG: ['nasal', 6, 1],
  L: ['glide', 3, 1],
  R: ['glide', 4, 1],
  Y: ['glide', 5, 1],
  W: ['glide', 0, 1],
};
// Height (0 close, 1 open), depth (0 front, 1 back), and where it glides to.
const VOWELS: Readonly<Record<string, readonly [number, number, number]>> = {
  IY: [0, 0, 0],
  IH: [0.2, 0.15, 0],
  EH: [0.6, 0.1, 0],
  AE: [0.85, 0.1, 0],
  AA: [1, 0.8, 0],
  AO: [0.7, 1, 0],
  UH: [0.2, 0.85, 0],
  UW: [0, 1, 0],
  AH: [0.6, 0.6, 0],
  ER: [0.5, 0.5, 0.3],
  EY: [0.4, 0.05, 0.2],
  AY: [0.9, 0.5, 0.5],
  OY: [0.6, 0.95, 0.6],
  AW: [0.9, 0.5, 0.7],
  OW: [0.4, 0.95, 0.2],
};

/** 0 for the same phone, 1 for two that share nothing. */
export function phoneDistance(a: string, b: string): number {
  if (a === b) return 0;
  const c = CONSONANTS[a];
  const d = CONSONANTS[b];
  if (c && d)
    return (c[0] === d[0] ? 0 : 0.4) + (Math.abs(c[1] - d[1]) / 7) * 0.4 + (c[2] === d[2] ? 0 : 0.2) + 0.1;
  const v = VOWELS[a];
  const w = VOWELS[b];
  if (v && w) return Math.min(1, 0.1 + 0.5 * Math.hypot(v[0] - w[0], v[1] - w[1], v[2] - w[2]));
  return 1;
}

/** Two phrases live together must be at least this far apart, or one is heard as the other. */
export const TOO_CLOSE = 0.35;

/**
 * Distance between two phrases: the cheapest way to turn one's phones into the other's, divided by the phones of the
 * longer. 0 is the same sound, 1 nothing in common. `phones` answers the phones of one word.
 */
export function phraseDistance(a: string, b: string, phones: (word: string) => string[]): number {
  const of = (text: string) => text.trim().toLowerCase().split(/\s+/).filter(Boolean).flatMap(phones);
  return soundDistance(of(a), of(b));
}

/** The same between two rows of phones; 0 where both are empty. */
export function soundDistance(x: readonly string[], y: readonly string[]): number {
  const longest = Math.max(x.length, y.length);
  return longest === 0 ? 0 : soundCost(x, y) / longest;
}

/** The cheapest way to turn one row of phones into the other, in phones left out or put in. */
export function soundCost(x: readonly string[], y: readonly string[]): number {
  let row = Array.from({ length: y.length + 1 }, (_, j) => j);
  for (const [i, p] of x.entries()) {
    const next = [i + 1];
    for (const [j, q] of y.entries()) {
      next.push(Math.min((row[j] ?? 0) + phoneDistance(p, q), (row[j + 1] ?? 0) + 1, (next[j] ?? 0) + 1));
    }
    row = next;
  }
  return row[y.length] ?? 0;
}
