import { expect, test } from 'vitest';
import { defaultLayout } from '../../src/press/layout.ts';
import { recogniser } from '../../src/press/recogniser.ts';

test('a short press of a go key is a tap, told at its release', () => {
  const r = recogniser(defaultLayout);
  expect(r.down('F13', 1000, false)).toEqual([]);
  expect(r.up('F13', 1120)).toEqual([{ kind: 'tap', key: 'go', via: 'pedal', downAt: 1000 }]);
});

test('a press kept down is a long press, told at its release with the time measured', () => {
  const r = recogniser(defaultLayout);
  r.down('PageDown', 0, false);
  expect(r.up('PageDown', 1300)).toEqual([{ kind: 'long', key: 'go', via: 'keys', downAt: 0, heldMs: 1300 }]);
});
