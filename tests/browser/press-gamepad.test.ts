import { afterEach, describe, expect, test } from 'vitest';
import { padSource, type ReadPads } from '../../src/press/gamepad.dom.ts';
import type { Pressed } from '../../src/press/input.ts';
import { defaultLayout } from '../../src/press/layout.ts';
import { presses } from '../../src/press/presses.dom.ts';

// No gamepad can be plugged into the test machine: the browser's reading of the pads is stood in for, at that edge only.
const pass = (ms: number) => new Promise((done) => setTimeout(done, ms));
const frames = async (n: number) => {
  for (let i = 0; i < n; i += 1) await new Promise((done) => requestAnimationFrame(done));
};

let stop = () => {};
afterEach(() => stop());

function pad(plugged: boolean) {
  const state = { plugged, pressed: false, looks: 0 };
  const read: ReadPads = () => {
    state.looks += 1;
    const button = { pressed: state.pressed, touched: state.pressed, value: state.pressed ? 1 : 0 };
    return state.plugged ? [{ index: 0, buttons: [button] }] : [];
  };
  const told: Pressed[] = [];
  const keys = presses(
    defaultLayout,
    (one) => {
      if (one.kind !== 'holding') told.push(one);
    },
    () => [padSource(read)],
  );
  stop = keys.stop;
  return { state, told };
}

describe('buttons of a gamepad', () => {
  test('are pedals: a tap and a long press that is never longer than it was', async () => {
    const { state, told } = pad(true);
    await frames(3);
    state.pressed = true;
    await frames(3);
    state.pressed = false;
    await expect.poll(() => told.length).toBe(1);
    expect(told[0]).toMatchObject({ kind: 'tap', key: 'go', via: 'pedal' });
    const from = performance.now();
    state.pressed = true;
    await pass(1500);
    state.pressed = false;
    const to = performance.now();
    await expect.poll(() => told.length).toBe(2);
    const long = told[1];
    expect(long?.kind).toBe('long');
    expect(long?.kind === 'long' ? long.heldMs : Number.POSITIVE_INFINITY).toBeLessThanOrEqual(to - from);
  });

  test('are looked at only while one is connected', async () => {
    const { state } = pad(false);
    const atStart = state.looks;
    await frames(5);
    expect(state.looks).toBe(atStart);
    state.plugged = true;
    window.dispatchEvent(new Event('gamepadconnected'));
    await frames(5);
    expect(state.looks).toBeGreaterThan(atStart + 2);
    state.plugged = false;
    window.dispatchEvent(new Event('gamepaddisconnected'));
    const atEnd = state.looks;
    await frames(5);
    expect(state.looks).toBe(atEnd);
  });

  test('that are down when the pad appears were pressed for something else', async () => {
    const { state, told } = pad(true);
    state.pressed = true;
    await frames(4);
    state.pressed = false;
    await frames(4);
    expect(told).toEqual([]);
  });

  test('are dropped when the pad goes in the middle of a press', async () => {
    const { state, told } = pad(true);
    await frames(3);
    state.pressed = true;
    await frames(3);
    state.plugged = false;
    window.dispatchEvent(new Event('gamepaddisconnected'));
    expect(told).toMatchObject([{ kind: 'dropped', why: 'lost' }]);
    await pass(50);
    expect(told).toHaveLength(1);
  });
});
