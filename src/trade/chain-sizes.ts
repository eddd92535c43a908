/** A roller chain by its number: sizes in mm, least breaking load of a new chain in N. */
export interface ChainSize {
  readonly number: string;
  readonly pitch: number;
  /** Between the inner plates. */
  readonly innerWidth: number;
  readonly roller: number;
  /** Null where no source for the figure was found. */
  readonly tensile: number | null;
}

/**
 * ANSI/ASME B29.1 sizes of small machines, converted from inches and pounds-force.
 * Source: amesweb.info/chain/roller-chain-dimensions-table.aspx
 */
export const standardChains: readonly ChainSize[] = [
  { number: '41', pitch: 12.7, innerWidth: 6.35, roller: 7.7724, tensile: 6672.3 },
  { number: '40', pitch: 12.7, innerWidth: 7.9248, roller: 7.9248, tensile: 13900.7 },
  { number: '50', pitch: 15.875, innerWidth: 9.525, roller: 10.16, tensile: 21707.3 },
  { number: '60', pitch: 19.05, innerWidth: 12.7, roller: 11.9126, tensile: 31271 },
];

/**
 * Motorcycle sizes by their three-figure trade code. The widths come from trade charts, never from the
 * code: 415 and 428 break the rule of eighths.
 * Source: two trade charts; widths of 420, 520, 525, 530 also "The Complete Guide to Chain", table 1.9.
 */
export const tradeChains: readonly ChainSize[] = [
  { number: '415', pitch: 12.7, innerWidth: 4.76, roller: 7.75, tensile: null },
  { number: '420', pitch: 12.7, innerWidth: 6.35, roller: 7.77, tensile: null },
  { number: '428', pitch: 12.7, innerWidth: 7.94, roller: 8.51, tensile: null },
  { number: '520', pitch: 15.875, innerWidth: 6.35, roller: 10.16, tensile: null },
  { number: '525', pitch: 15.875, innerWidth: 7.95, roller: 10.16, tensile: null },
  { number: '530', pitch: 15.875, innerWidth: 9.53, roller: 10.16, tensile: null },
];

/** Pitch that a chain number names: all figures but the last (ANSI), or the first (trade code), in eighths of an inch. */
export function pitchOfNumber(number: string): number | null {
  if (!/^[1-9]\d{1,2}$/.test(number)) return null;
  const eighths = Number(number.length === 3 && number.startsWith('1') ? number.slice(0, 2) : number[0]);
  return (eighths * 25.4) / 8;
}

/** Finds a size by number in both tables, or null. */
export function chainSize(number: string): ChainSize | null {
  return [...standardChains, ...tradeChains].find((size) => size.number === number) ?? null;
}
