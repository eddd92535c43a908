import { mm } from '../trade/quantity.ts';
import { typeHeight } from '../trade/type-size.ts';

/**
 * Character heights in minutes of arc, for the height of a capital letter.
 *
 * `least`: nothing is smaller. `reading`: instructions and cautions, which are cut into breaths rather than set smaller.
 * `most`: beyond it a word no longer falls into one look. NUREG-0700, 1.3.1-4: at least 16', 20' to 22' preferred for
 * reading, up to 45'; the same 16' and 20' to 22' in ISO 9241-3 and in the FAA's guide to visual displays, and from
 * memory in ANSI/HFES 100-2007 and ISO 9241-303. `figure` is our choice, without a published source.
 */
export const ARC_MINUTES = { least: 16, reading: 20, figure: 30, most: 45 } as const;

/** Height of B612's capital letters as a part of the type size; a test measures it in the browser. */
export const CAPITAL_PART = 0.75;

/** How far the eye is from the screen, in mm, and how many CSS pixels lie on a millimetre of it. */
export interface Reading {
  readonly distance: number;
  readonly pixelsPerMm: number;
}

/**
 * What is assumed until it is set: 150 CSS pixels to the inch, as on a ten-inch tablet, read from one metre. A desk
 * monitor has 90 to 110: there the type comes out larger than asked for, never smaller.
 */
export const UNSET: Reading = { distance: 1000, pixelsPerMm: 150 / 25.4 };

/** For screens that are worked with a hand on them: no more than arm's length, mm. */
export const ARM_LENGTH = 700;

/** Distances to choose from, mm. */
export const DISTANCES = [700, 1000, 1500, 2000, 2500, 3000, 4000] as const;

/** Type sizes (CSS px, the size of the type and not of its letters). */
export type TypeSizes = Readonly<Record<keyof typeof ARC_MINUTES, number>>;

const sizeFor = ({ distance, pixelsPerMm }: Reading, arcMinutes: number): number =>
  (typeHeight(mm(distance), arcMinutes) * pixelsPerMm) / CAPITAL_PART;

export function typeSizes(reading: Reading): TypeSizes {
  const { least, reading: read, figure, most } = ARC_MINUTES;
  return {
    least: sizeFor(reading, least),
    reading: sizeFor(reading, read),
    figure: sizeFor(reading, figure),
    most: sizeFor(reading, most),
  };
}

/** Visual angle of letters so high, in minutes of arc: the inverse of `typeHeight`, for the tests and for set-up. */
export function arcMinutesOf(capitalPx: number, { distance, pixelsPerMm }: Reading): number {
  return 2 * Math.atan(capitalPx / pixelsPerMm / (2 * distance)) * (180 / Math.PI) * 60;
}

/** The card that is held to the screen: ISO/IEC 7810, ID-1, from memory; the size of a bank card. */
export const CARD = { width: 85.6, height: 53.98 } as const;

/** Pixels on a millimetre when the card is `widthPx` wide; null when no screen has so many or so few. */
export function fromCard(widthPx: number): number | null {
  const pixelsPerMm = widthPx / CARD.width;
  return pixelsPerMm >= 1.5 && pixelsPerMm <= 12 ? pixelsPerMm : null;
}

/** How much room the screen has, counted in lines of the least type. */
export type Tier = 'roomy' | 'lean' | 'bare';

/** Which frame a screen of this height (px) has room for: lines of least type, with their leading. */
export function tierFor(height: number, { least }: TypeSizes): Tier {
  const lines = height / (least * 1.25);
  if (lines >= 15) return 'roomy';
  return lines >= 10 ? 'lean' : 'bare';
}
