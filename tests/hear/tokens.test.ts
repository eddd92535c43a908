import { expect, test } from 'vitest';
import { tokensOf } from '../../src/hear/tokens.ts';

const KNOWN = ['next step', 'step', 'that is wrong', 'number', 'one', 'two'];

test('a phrase is cut into the longest words that the model knows', () => {
  expect(tokensOf('Next step', KNOWN)).toEqual([1]);
  expect(tokensOf('number two', KNOWN)).toEqual([4, 6]);
  expect(tokensOf('that is wrong', KNOWN)).toEqual([3]);
  expect(tokensOf('step', KNOWN)).toEqual([2]);
});

test('a phrase with any other word in it is left to the phones', () => {
  expect(tokensOf('next steps', KNOWN)).toBeNull();
  expect(tokensOf('number three', KNOWN)).toBeNull();
  expect(tokensOf('torque confirmed', KNOWN)).toBeNull();
  expect(tokensOf('next step', [])).toBeNull();
});
