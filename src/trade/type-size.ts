import { type Length, mm } from './quantity.ts';

/**
 * Height that subtends a visual angle: h = 2 d tan(α/2), α in minutes of arc.
 * Source: definition of the visual angle; NUREG-0700, 1.3.1-4 prints its short form 6.283 d α / 21600.
 */
export function typeHeight(distance: Length, arcminutes: number): Length {
  return mm(2 * distance * Math.tan((arcminutes / 60 / 2) * (Math.PI / 180)));
}

/** Millimetres on a screen to its pixels. */
export function toPixels(height: Length, pixelsPerInch: number): number {
  return (height / 25.4) * pixelsPerInch;
}
