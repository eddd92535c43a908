import { expect, test } from 'vitest';
import { procedure, step } from '../../src/procedure/index.ts';

const head = { id: 'x', title: 'X', revision: 1, covers: 'X.', facts: {}, figures: {}, tools: {} };
const first = { one: step({ say: 'One.', next: 'two' }) };
const second = { two: step({ say: 'Two.', next: 'complete' }) };
const astray = { two: step({ say: 'Two.', next: 'three' }) };

test('parts in files of their own: the compiler still refuses a name that no part has', () => {
  const good = procedure({ ...head, initial: 'one', states: { ...first, ...second } });
  expect(Object.keys(good.states)).toEqual(['one', 'two', 'complete', 'stopped']);
  const bad = procedure({
    ...head,
    initial: 'one',
    // @ts-expect-error "two" leads to "three", which is in neither part
    states: { ...first, ...astray },
  });
  expect(bad.states.two?.on?.advance?.[0]?.target).toBe('three');
});
