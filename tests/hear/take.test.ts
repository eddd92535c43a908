import { describe, expect, test } from 'vitest';
import { outputOf } from '../../src/hear/phones.ts';
import { refusalsOf } from '../../src/hear/refusals.ts';
import { transcribe, wayOfSaying } from '../../src/hear/take.ts';

const out = (phones: string) => phones.split(' ').map((p) => outputOf(p) ?? 0);
const torque = [out('T AO R K'), out('K AH N F ER M D')];

describe('a person’s own way of saying a phrase', () => {
  test('repeats and blanks are dropped, a blank between keeps two of a kind', () => {
    const column = (best: number) => Float32Array.from({ length: 40 }, (_, i) => (i === best ? 0 : -9));
    expect(transcribe([0, 3, 3, 0, 3, 5, 5, 0].map(column))).toEqual([3, 3, 5]);
  });

  test('phones heard go to the words they belong to', () => {
    expect(wayOfSaying(torque, out('T AO K K AH N F AH M D'))).toEqual([
      out('T AO K'),
      out('K AH N F AH M D'),
    ]);
  });

  test('something else said is no take', () => {
    expect(wayOfSaying(torque, out('S EY AH G EH N'))).toBeNull();
    expect(wayOfSaying(torque, [])).toBeNull();
  });

  test('a take that lost a word is no take', () => {
    expect(wayOfSaying(torque, out('K AH N F ER M D'), 0.9)).toBeNull();
  });
});

test('every turning word goes in at every place of a hold phrase', () => {
  const forms = refusalsOf('torque confirmed');
  expect(forms).toContain('torque not confirmed');
  expect(forms).toContain('not torque confirmed');
  expect(forms).toContain('torque partly confirmed');
  expect(new Set(forms).size).toBe(forms.length);
  expect(forms).not.toContain('torque confirmed');
});
