/** Levels of the sound, in decibels below full scale. */
export interface Level {
  /** One column's mean square. */
  push(meanSquare: number): void;
  /** The quiet under everything: the tenth percentile of the last five seconds, dBFS. */
  floorDb(): number;
  /** Power from column `from` up to `to` over the quiet around it, dB; null where it is gone from memory. */
  overFloorDb(from: number, to: number): number | null;
}

const KEPT = 256;
const FIVE_SECONDS = 167;
const db = (power: number) => 10 * Math.log10(power + 1e-12);

export function level(): Level {
  const powers = new Float64Array(KEPT);
  let count = 0;

  const sorted = (from: number, to: number) =>
    Array.from({ length: Math.max(0, to - from) }, (_, i) => powers[(from + i) % KEPT] as number).sort(
      (a, b) => a - b,
    );

  return {
    push(meanSquare) {
      powers[count % KEPT] = meanSquare;
      count += 1;
    },
    floorDb() {
      const row = sorted(Math.max(0, count - FIVE_SECONDS), count);
      return db(row[Math.floor(row.length / 10)] ?? 0);
    },
    overFloorDb(from, to) {
      if (to > count || from < count - KEPT || to <= from) return null;
      // Median power of the second around the phrase, the phrase left out: what it had to be heard over.
      const before = sorted(Math.max(0, count - KEPT, from - 33), from);
      const ground = before[Math.floor(before.length / 2)];
      if (ground === undefined) return null;
      const inside = sorted(from, to);
      const mean = inside.reduce((a, b) => a + b, 0) / inside.length;
      return db(Math.max(mean - ground, ground * 1e-3)) - db(ground);
    },
  };
}
