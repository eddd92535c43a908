import { TradeError } from './fault.ts';
import { type Length, mm } from './quantity.ts';

export interface TyreSize {
  readonly width: Length;
  /** Section height as a share of the width, in hundredths. */
  readonly aspect: number;
  /** Rim diameter code, inches. */
  readonly rim: number;
  readonly sectionHeight: Length;
  readonly nominalDiameter: Length;
  /** With the rim diameter in whole mm, as UN Regulation No. 75 counts it. */
  readonly regulationDiameter: Length;
}

const code =
  /^(\d{2,3})\s*\/\s*(\d{2,3})\s*(?:[VHZ]?R|[VH]?B|[VH]?-|\s)\s*(\d{2})(?:\s*M\/C)?(?:\s+.*|\s*\(?\d{2}[A-Z]\)?.*)?$/i;

/**
 * Reads a metric size from a sidewall ("110/90-19", "140/80 R 18 70H") and gives the nominal, unloaded
 * diameter D = 2 × width × aspect / 100 + 25.4 × rim.
 * Source: a tyre maker's sidewall guide; UN Regulation No. 75, paragraphs 2 and 6.1 (from memory).
 * @throws TradeError `tyre-code-not-read`
 */
export function tyreSize(text: string): TyreSize {
  const read = code.exec(text.trim());
  const [width, aspect, rim] = (read ?? []).slice(1).map(Number);
  if (width === undefined || aspect === undefined || rim === undefined || !sensible(width, aspect, rim)) {
    throw new TradeError(
      'tyre-code-not-read',
      `"${text}" is not a metric tyre size: write it as on the sidewall, width/aspect-rim, such as 110/90-19.`,
    );
  }
  const sectionHeight = mm((width * aspect) / 100);
  return {
    width: mm(width),
    aspect,
    rim,
    sectionHeight,
    nominalDiameter: mm(2 * sectionHeight + 25.4 * rim),
    regulationDiameter: mm(Math.round(25.4 * rim) + 2 * sectionHeight),
  };
}

const sensible = (width: number, aspect: number, rim: number): boolean =>
  width >= 50 && width <= 400 && aspect >= 20 && aspect <= 100 && rim >= 8 && rim <= 26;

/** Circumference of the unloaded tyre, π D. The loaded wheel rolls less: see {@link rollingEstimate}. */
export function circumference(diameter: Length): Length {
  return mm(Math.PI * diameter);
}

/** Distance rolled a turn under load, 3.05 D: an estimate (ETRTO practice, from memory) until it is measured. */
export function rollingEstimate(diameter: Length): Length {
  return mm(3.05 * diameter);
}
