import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  convert,
  formatFigure,
  otherUnit,
  quantityOf,
  readUnit,
  type Unit,
  units,
  withUnit,
} from '../../src/trade/units.ts';

const unit = fc.constantFrom(...units);
const figure = fc.double({ min: 1e-6, max: 1e6, noNaN: true });

test('there and back gives the same figure, for every pair of one quantity', () => {
  fc.assert(
    fc.property(unit, unit, figure, (from, to, value) => {
      fc.pre(quantityOf(from) === quantityOf(to));
      expect(Math.abs(convert(convert(value, from, to), to, from) / value - 1)).toBeLessThan(1e-14);
    }),
  );
});

test('conversion keeps order and scale', () => {
  fc.assert(
    fc.property(figure, figure, (a, b) => {
      // Neighbours in the last bit may fall together; none may change places.
      const apart = Math.sign(convert(a, 'N·m', 'ft·lbf') - convert(b, 'N·m', 'ft·lbf'));
      const neighbours = Math.abs(a - b) <= 1e-14 * Math.max(Math.abs(a), Math.abs(b));
      expect(neighbours && apart === 0 ? Math.sign(a - b) : apart).toBe(Math.sign(a - b));
      expect(convert(2 * a, 'psi', 'bar')).toBeCloseTo(2 * convert(a, 'psi', 'bar'), 6);
    }),
  );
});

test('quantities do not convert into each other', () => {
  fc.assert(
    fc.property(unit, unit, (from, to) => {
      fc.pre(quantityOf(from) !== quantityOf(to));
      expect(() => convert(1, from, to)).toThrowError(expect.objectContaining({ code: 'wrong-quantity' }));
    }),
  );
});

test('NaN and overflow are refused', () => {
  expect(() => convert(Number.NaN, 'mm', 'in')).toThrowError(expect.objectContaining({ code: 'not-finite' }));
  expect(() => convert(1e308, 'km', 'mm')).toThrowError(expect.objectContaining({ code: 'not-finite' }));
});

test('the unit shown beside another measures the same and leads back to the same system', () => {
  for (const one of units) {
    const other = otherUnit(one);
    if (other !== null) {
      expect(quantityOf(other)).toBe(quantityOf(one));
      expect(other).not.toBe(one);
    }
  }
  expect(otherUnit('N·m')).toBe('ft·lbf');
  expect(otherUnit('mm')).toBe('in');
  expect(otherUnit('°')).toBeNull();
  expect(otherUnit('teeth')).toBeNull();
});

test('usual spellings of torque units are read', () => {
  const spelt: [string, Unit][] = [
    ['N·m', 'N·m'],
    ['Nm', 'N·m'],
    ['N⋅m', 'N·m'],
    ['ft-lb', 'ft·lbf'],
    ['lbf·ft', 'ft·lbf'],
    ['in-lb', 'in·lbf'],
    [' kgf.m ', 'kgf·m'],
  ];
  for (const [text, read] of spelt) expect(readUnit(text)).toBe(read);
  expect(() => readUnit('stone')).toThrowError(expect.objectContaining({ code: 'unknown-unit' }));
  expect(() => readUnit('constructor')).toThrowError(expect.objectContaining({ code: 'unknown-unit' }));
});

test('figures get the decimals of their unit, without trailing zeros', () => {
  const written: [number, Unit, string][] = [
    [80, 'N·m', '80'],
    [71.111, 'N·m', '71.1'],
    [8.25, 'N·m', '8.25'],
    [2.575, 'mm', '2.575'],
    [15.875, 'mm', '15.875'],
    [656.819, 'mm', '656.8'],
    [42.346, 'mm', '42.35'],
    [-2.0408, '%', '-2.04'],
    [33.333, '%', '33.3'],
    [24999.6, 'N', '25000'],
    [3.5714, '', '3.571'],
    [0, 'mm', '0'],
    [-0.00001, 'mm', '0'],
    [100, 'rpm', '100'],
    [Number.NaN, 'mm', '–'],
  ];
  for (const [value, of, text] of written) expect(formatFigure(value, of), `${value} ${of}`).toBe(text);
  expect(withUnit(12, '°')).toBe('12°');
  expect(withUnit(3.5, '')).toBe('3.5');
  expect(withUnit(14, 'teeth')).toBe('14 teeth');
});

test('a written figure reads back within half of its last place', () => {
  fc.assert(
    fc.property(unit, fc.double({ min: -1e6, max: 1e6, noNaN: true }), (of, value) => {
      expect(Math.abs(Number(formatFigure(value, of)) - value)).toBeLessThanOrEqual(0.5 + 1e-9);
    }),
  );
});
