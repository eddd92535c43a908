import { type Angle, degrees, type Length, mm, type Percent, percent, type Teeth } from './quantity.ts';

const half = (teeth: Teeth): number => Math.PI / teeth;

/**
 * Diameter of the circle through the pin centres: d = p / sin(180°/z).
 * Source: ISO 606, sprocket geometry; checked in tests against two public tables.
 */
export function pitchDiameter(teeth: Teeth, pitch: Length): Length {
  return mm(pitch / Math.sin(half(teeth)));
}

/** Diameter at the bottom of the teeth: df = d − d1, d1 the roller diameter (ISO 606). */
export function rootDiameter(teeth: Teeth, pitch: Length, roller: Length): Length {
  return mm(pitchDiameter(teeth, pitch) - roller);
}

/**
 * What a caliper reads across the tooth bottoms. With an odd number of teeth no two bottoms lie opposite:
 * even z: d − d1; odd z: d cos(90°/z) − d1.
 */
export function caliperDiameter(teeth: Teeth, pitch: Length, roller: Length): Length {
  const across = teeth % 2 === 0 ? 1 : Math.cos(half(teeth) / 2);
  return mm(pitchDiameter(teeth, pitch) * across - roller);
}

/** How far each link turns as it runs on to the sprocket: 180°/z on either side of the span. */
export function articulationAngle(teeth: Teeth): Angle {
  return degrees(180 / teeth);
}

/** Chordal action: the chain's speed swings by (vmax − vmin)/vmax = 1 − cos(180°/z) though the shaft turns evenly. */
export function chordalVariation(teeth: Teeth): Percent {
  return percent(100 * (1 - Math.cos(half(teeth))));
}
