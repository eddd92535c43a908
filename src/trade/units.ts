import { TradeError } from './fault.ts';

/** The international foot, inch and pound are exact by the 1959 agreement; standard gravity by the 1901 CGPM. */
const inch = 25.4;
const pound = 0.45359237;
const gravity = 9.80665;
const poundForce = pound * gravity;

/**
 * Each unit: what it measures, its exact factor to the first unit of that quantity, and the decimals
 * that make sense on a screen.
 * Source: NIST SP 811, appendix B.8 (from memory; checked in tests against two independent unit libraries).
 */
const table = {
  mm: { of: 'length', factor: 1, decimals: 2 },
  cm: { of: 'length', factor: 10, decimals: 2 },
  m: { of: 'length', factor: 1000, decimals: 3 },
  km: { of: 'length', factor: 1e6, decimals: 1 },
  in: { of: 'length', factor: inch, decimals: 3 },
  ft: { of: 'length', factor: 304.8, decimals: 2 },
  mile: { of: 'length', factor: 1_609_344, decimals: 1 },
  N·m: { of: 'torque', factor: 1, decimals: 1 },
  ft·lbf: { of: 'torque', factor: poundForce * 0.3048, decimals: 1 },
  in·lbf: { of: 'torque', factor: (poundForce * 0.3048) / 12, decimals: 0 },
  kgf·m: { of: 'torque', factor: gravity, decimals: 2 },
  kgf·cm: { of: 'torque', factor: gravity / 100, decimals: 0 },
  ozf·in: { of: 'torque', factor: (poundForce * 0.3048) / 192, decimals: 0 },
  '°': { of: 'angle', factor: 1, decimals: 1 },
  '′': { of: 'angle', factor: 1 / 60, decimals: 1 },
  '': { of: 'ratio', factor: 1, decimals: 3 },
  '%': { of: 'ratio', factor: 0.01, decimals: 1 },
  'km/h': { of: 'speed', factor: 1, decimals: 1 },
  mph: { of: 'speed', factor: 1.609344, decimals: 1 },
  'm/s': { of: 'speed', factor: 3.6, decimals: 2 },
  rpm: { of: 'rotation', factor: 1, decimals: 0 },
  kPa: { of: 'pressure', factor: 1, decimals: 0 },
  bar: { of: 'pressure', factor: 100, decimals: 2 },
  psi: { of: 'pressure', factor: (poundForce / (0.0254 * 0.0254)) * 1e-3, decimals: 1 },
  MPa: { of: 'pressure', factor: 1000, decimals: 0 },
  kg: { of: 'mass', factor: 1, decimals: 1 },
  lb: { of: 'mass', factor: pound, decimals: 1 },
  N: { of: 'force', factor: 1, decimals: 0 },
  kN: { of: 'force', factor: 1000, decimals: 1 },
  lbf: { of: 'force', factor: poundForce, decimals: 0 },
  kgf: { of: 'force', factor: gravity, decimals: 1 },
  'N/mm': { of: 'spring rate', factor: 1, decimals: 1 },
  'kgf/mm': { of: 'spring rate', factor: gravity, decimals: 2 },
  'lbf/in': { of: 'spring rate', factor: poundForce / inch, decimals: 0 },
  s: { of: 'time', factor: 1, decimals: 0 },
  min: { of: 'time', factor: 60, decimals: 0 },
  h: { of: 'time', factor: 3600, decimals: 1 },
  'mm²': { of: 'area', factor: 1, decimals: 1 },
  pitches: { of: 'pitches', factor: 1, decimals: 2 },
  links: { of: 'links', factor: 1, decimals: 0 },
  teeth: { of: 'teeth', factor: 1, decimals: 0 },
  turns: { of: 'turns', factor: 1, decimals: 0 },
  pieces: { of: 'pieces', factor: 1, decimals: 0 },
  px: { of: 'pixels', factor: 1, decimals: 0 },
  'px/in': { of: 'pixel density', factor: 1, decimals: 0 },
} as const satisfies Record<string, { of: string; factor: number; decimals: number }>;

/** A unit as written on screen and in JSON. */
export type Unit = keyof typeof table;

/** What a unit measures; only units of one quantity convert into each other. */
export type Quantity = (typeof table)[Unit]['of'];

/** Every unit, in table order. */
export const units = Object.keys(table) as readonly Unit[];

/** Other spellings of the torque units: wrenches and cards print them in many ways, and keyboards lack the dot. */
const spellings = new Map<string, Unit>(
  Object.entries({
    nm: 'N·m',
    'n.m': 'N·m',
    'n*m': 'N·m',
    lbf·ft: 'ft·lbf',
    lb·ft: 'ft·lbf',
    ft·lb: 'ft·lbf',
    'ft.lbf': 'ft·lbf',
    'ft-lbf': 'ft·lbf',
    'ft-lb': 'ft·lbf',
    lbf·in: 'in·lbf',
    in·lb: 'in·lbf',
    'in.lbf': 'in·lbf',
    'in-lbf': 'in·lbf',
    'in-lb': 'in·lbf',
    'kgf.m': 'kgf·m',
    kg·m: 'kgf·m',
    'kgf.cm': 'kgf·cm',
  } as const),
);

/**
 * Reads a unit as people write it: the exact spelling, or a usual other one ("Nm", "ft-lb").
 * @throws TradeError `unknown-unit`
 */
export function readUnit(text: string): Unit {
  const dotted = text.trim().replaceAll('⋅', '·').replaceAll('∙', '·');
  const known = units.find((unit) => unit === dotted) ?? spellings.get(dotted.toLowerCase());
  if (known === undefined)
    throw new TradeError('unknown-unit', `"${text}" is not a unit known here: write it as ${commonUnits}.`);
  return known;
}

const commonUnits = 'N·m, ft·lbf, in·lbf, kgf·m, mm, in, bar or psi';

/** What `unit` measures. */
export function quantityOf(unit: Unit): Quantity {
  return table[unit].of;
}

/**
 * Converts with exact SI factors.
 * @throws TradeError `wrong-quantity` when the units measure different things, `not-finite`
 */
export function convert(value: number, from: Unit, to: Unit): number {
  if (quantityOf(from) !== quantityOf(to)) {
    throw new TradeError(
      'wrong-quantity',
      `${from || 'a plain number'} measures ${quantityOf(from)} and ${to || 'a plain number'} measures ${quantityOf(to)}: give two units of the same quantity.`,
    );
  }
  if (!Number.isFinite(value)) throw new TradeError('not-finite', `Give a number to convert from ${from}.`);
  if (from === to) return value;
  const result = (value * table[from].factor) / table[to].factor;
  if (!Number.isFinite(result))
    throw new TradeError('not-finite', `${value} ${from} is too large to convert.`);
  return result;
}

const beside: Partial<Record<Unit, Unit>> = {
  mm: 'in',
  cm: 'in',
  m: 'ft',
  km: 'mile',
  in: 'mm',
  ft: 'm',
  mile: 'km',
  N·m: 'ft·lbf',
  ft·lbf: 'N·m',
  in·lbf: 'N·m',
  kgf·m: 'N·m',
  kgf·cm: 'N·m',
  ozf·in: 'N·m',
  'km/h': 'mph',
  mph: 'km/h',
  bar: 'psi',
  kPa: 'psi',
  psi: 'bar',
  kg: 'lb',
  lb: 'kg',
  N: 'lbf',
  kN: 'lbf',
  lbf: 'N',
  kgf: 'N',
  'N/mm': 'lbf/in',
  'kgf/mm': 'N/mm',
  'lbf/in': 'N/mm',
};

/** The unit to show beside `unit` for a workshop that works in the other system, or null when there is none. */
export function otherUnit(unit: Unit): Unit | null {
  return beside[unit] ?? null;
}

/**
 * Writes a figure with the decimals that suit its unit and size, without the unit: no trailing zeros,
 * never "-0". Small lengths keep a third decimal, since shims are sold in steps of 0.025 mm.
 */
export function formatFigure(value: number, unit: Unit): string {
  if (!Number.isFinite(value)) return '–';
  const { decimals } = table[unit];
  const fine =
    unit === 'mm' && Math.abs(value) < 20 ? 3 : unit === 'mm' && Math.abs(value) >= 100 ? 1 : decimals;
  const small = unit === 'N·m' && Math.abs(value) < 10 ? 2 : unit === '%' && Math.abs(value) < 10 ? 2 : fine;
  const text = value.toFixed(small);
  const trimmed = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return trimmed === '-0' ? '0' : trimmed;
}

/** A figure with its unit, as it stands in an explanation: "80 N·m", "14 teeth", "2 %", "3.571". */
export function withUnit(value: number, unit: Unit): string {
  const figure = formatFigure(value, unit);
  return unit === '' ? figure : unit === '°' || unit === '′' ? `${figure}${unit}` : `${figure} ${unit}`;
}
