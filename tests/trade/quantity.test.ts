import { expect, test } from 'vitest';
import { chainLength } from '../../src/trade/chain-length.ts';
import { degrees, type Length, mm, newtonMetres, percent, pitches, teeth } from '../../src/trade/quantity.ts';
import { adapterSetting } from '../../src/trade/torque-adapter.ts';

test('the compiler refuses one quantity for another', () => {
  const length = mm(400);
  const torque = newtonMetres(80);
  expect(adapterSetting(torque, length, mm(50), degrees(0))).toBeCloseTo(71.11, 2);
  // @ts-expect-error a length is not a torque
  expect(adapterSetting(length, torque, mm(50), degrees(0))).toBeTypeOf('number');
  // @ts-expect-error a plain number is no length
  const bare: Length = 15;
  expect(bare).toBe(15);
  // @ts-expect-error pitches are not millimetres
  expect(() => chainLength({ front: teeth(13), rear: teeth(49) }, mm(15.875), pitches(60))).toThrow();
});

test('quantities are finite and teeth are whole', () => {
  for (const make of [mm, newtonMetres, degrees, percent])
    expect(() => make(Number.NaN)).toThrowError(expect.objectContaining({ code: 'not-finite' }));
  expect(() => teeth(13.5)).toThrowError(expect.objectContaining({ code: 'teeth-not-whole' }));
});
