import { expect as chai, fixture, html } from '@open-wc/testing';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { cdp, userEvent } from 'vitest/browser';
import type { Pressed } from '../../src/press/input.ts';
import { defaultLayout, PLAIN, withPedals } from '../../src/press/layout.ts';
import { type Learning, learnDueAt, learning, learnStroke, learnTick } from '../../src/press/learn.ts';
import { type Presses, presses } from '../../src/press/presses.dom.ts';

const pass = (ms: number) => new Promise((done) => setTimeout(done, ms));
const F13 = { code: 'F13', key: 'F13', windowsVirtualKeyCode: 124 };
const charKey = (key: string) =>
  key === 'Enter'
    ? { code: 'Enter', key, text: '\r', windowsVirtualKeyCode: 13 }
    : { code: /[0-9]/.test(key) ? `Digit${key}` : `Key${key.toUpperCase()}`, key, text: key };
const send = (type: 'keyDown' | 'keyUp', key: object, more: object = {}) =>
  cdp().send('Input.dispatchKeyEvent', { type, ...key, ...more });

let told: Pressed[] = [];
let keys: Presses;
const kinds = () => told.filter((one) => one.kind !== 'holding').map((one) => one.kind);
const until = (count: number) =>
  expect.poll(() => told.filter((one) => one.kind !== 'holding').length, { timeout: 3000 }).toBe(count);

beforeEach(() => {
  told = [];
  keys = presses(defaultLayout, (one) => told.push(one));
  window.focus();
  (document.activeElement as HTMLElement | null)?.blur();
});
afterEach(() => keys.stop());

describe('a pedal that sends F13', () => {
  test('gives a tap at its release', async () => {
    await send('keyDown', F13);
    await send('keyUp', F13);
    await until(1);
    expect(told.at(-1)).toMatchObject({ kind: 'tap', key: 'go', via: 'pedal' });
  });

  test('kept down shows its progress to full and is a long press at its release', async () => {
    const before = performance.now();
    await send('keyDown', F13);
    await expect
      .poll(() => told.some((one) => one.kind === 'holding' && one.full), { timeout: 5000 })
      .toBe(true);
    expect(kinds()).toEqual([]);
    await send('keyUp', F13);
    await until(1);
    const long = told.at(-1);
    expect(long).toMatchObject({ kind: 'long', key: 'go', via: 'pedal' });
    const heldMs = long?.kind === 'long' ? long.heldMs : 0;
    expect(heldMs).toBeGreaterThanOrEqual(1200);
    expect(heldMs).toBeLessThanOrEqual(performance.now() - before + 1);
    const steps = told.flatMap((one) => (one.kind === 'holding' ? [one.heldMs] : []));
    expect(steps.length).toBeGreaterThan(5);
    expect(steps).toEqual([...steps].sort((a, b) => a - b));
  });

  test('is lost when another window takes the keys, and its late release counts for nothing', async () => {
    const frame = await fixture<HTMLIFrameElement>(
      html`<iframe title="another window" srcdoc="<input>"></iframe>`,
    );
    await send('keyDown', F13);
    await expect.poll(() => told.length).toBeGreaterThan(0);
    frame.contentWindow?.focus();
    await until(1);
    expect(told.at(-1)).toMatchObject({ kind: 'dropped', why: 'lost' });
    await pass(1300);
    window.focus();
    await send('keyUp', F13);
    await pass(100);
    expect(kinds()).toEqual(['dropped']);
  });

  test('is dropped when the page is hidden', async () => {
    await send('keyDown', F13);
    Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true });
    document.dispatchEvent(new Event('visibilitychange'));
    Reflect.deleteProperty(document, 'visibilityState');
    await until(1);
    await send('keyUp', F13);
    await pass(50);
    expect(kinds()).toEqual(['dropped']);
  });

  test('does not count when the screen has moved on under the foot', async () => {
    await send('keyDown', F13);
    await until(0);
    keys.forget();
    await send('keyUp', F13);
    await pass(50);
    expect(kinds()).toEqual(['dropped']);
  });
});

describe('a keyboard', () => {
  test('that repeats a key kept down gives one answer to one press', async () => {
    const repeats: boolean[] = [];
    const watch = (event: KeyboardEvent) => repeats.push(event.repeat);
    window.addEventListener('keydown', watch);
    await userEvent.keyboard('{PageDown>20/}');
    window.removeEventListener('keydown', watch);
    expect(repeats.filter((marked) => marked)).toHaveLength(19);
    expect(kinds()).toHaveLength(1);
  });

  test('keeps its shortcuts, and Tab', async () => {
    await fixture(html`<div><button>one</button><button>two</button></div>`);
    await userEvent.keyboard('{Tab}');
    const first = document.activeElement;
    await userEvent.keyboard('{Tab}');
    expect(document.activeElement).not.toBe(first);
    await userEvent.keyboard('{Control>}p{/Control}');
    await pass(80);
    expect(told).toEqual([]);
  });

  test('does not scroll the page with the keys that are ours', async () => {
    await fixture(html`<div style="height: 5000px"></div>`);
    await userEvent.keyboard('{PageDown}{ArrowDown} ');
    await until(3);
    await pass(100);
    expect(window.scrollY).toBe(0);
    window.scrollTo(0, 0);
  });

  test('types into a field undisturbed, also inside a shadow root', async () => {
    const host = await fixture<HTMLElement>(html`<div></div>`);
    const field = document.createElement('input');
    host.attachShadow({ mode: 'open' }).append(field);
    field.focus();
    await userEvent.keyboard('stop 90.5{Enter}{PageDown}');
    await send('keyDown', F13);
    await send('keyUp', F13);
    await pass(80);
    expect(field.value).toBe('stop 90.5');
    expect(told).toEqual([]);
  });

  test('leaves Enter and Space to a focused button and keeps the other keys', async () => {
    let clicks = 0;
    const button = await fixture<HTMLButtonElement>(html`<button @click=${() => clicks++}>note</button>`);
    button.focus();
    await userEvent.keyboard('{Enter} ');
    chai(clicks).to.equal(2);
    expect(told).toEqual([]);
    await userEvent.keyboard('{PageDown}');
    await until(1);
  });

  test('that is a learnt pedal on Enter goes on even where a button has the focus', async () => {
    keys.use(withPedals(defaultLayout, [{ code: 'Enter', role: 'go', traits: PLAIN }]));
    let clicks = 0;
    const button = await fixture<HTMLButtonElement>(html`<button @click=${() => clicks++}>note</button>`);
    button.focus();
    await userEvent.keyboard('{Enter}');
    await until(1);
    expect(told.at(-1)).toMatchObject({ kind: 'tap', via: 'pedal' });
    expect(clicks).toBe(0);
  });
});

describe('a device that types', () => {
  // The protocol dates key events as it is told: the gaps are those of the device, however slow the test machine.
  const burst = (text: string, gapMs: number) => {
    const start = Date.now() / 1000;
    const all = [...text, 'Enter'].flatMap((key, i) => {
      const timestamp = start + (i * gapMs) / 1000;
      return [
        send('keyDown', charKey(key), { timestamp }),
        send('keyUp', charKey(key), { timestamp: timestamp + 0.002 }),
      ];
    });
    return Promise.all(all);
  };

  test('is told as a text, and its letters command nothing', async () => {
    await burst('sf0042', 6);
    await until(1);
    await pass(100);
    expect(told).toMatchObject([{ kind: 'typed', text: 'sf0042', source: 'scanner' }]);
  });

  test('is hands when it is slow', async () => {
    await burst('905', 120);
    await until(4);
    expect(kinds()).toEqual(['digit', 'digit', 'digit', 'enter']);
  });
});

test('no timer runs while nothing is pending', async () => {
  await send('keyDown', F13);
  await send('keyUp', F13);
  await until(1);
  const real = window.setTimeout;
  let started = 0;
  window.setTimeout = ((...args: Parameters<typeof real>) => {
    started += 1;
    return real(...args);
  }) as typeof real;
  await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
  await new Promise((done) => real(done, 300));
  window.setTimeout = real;
  expect(started).toBe(0);
});

test('a pedal is learnt by pressing it', async () => {
  let now: Learning = learning('back', performance.now());
  keys.divert((one) => {
    now = learnStroke(now, one);
    return now.step !== 'cannot';
  });
  for (let i = 0; i < 3; i += 1) {
    await send('keyDown', F13);
    await pass(40);
    await send('keyUp', F13);
    await pass(200);
  }
  await pass(500);
  now = learnTick(now, performance.now());
  expect(now.step).toBe('hold');
  await send('keyDown', F13);
  await pass(500);
  for (let i = 0; i < 8; i += 1) {
    await send('keyDown', F13, { autoRepeat: true });
    await pass(200);
  }
  await send('keyUp', F13);
  await expect
    .poll(() => learnDueAt(now) !== null && performance.now() > (learnDueAt(now) ?? 0), { timeout: 3000 })
    .toBe(true);
  now = learnTick(now, performance.now());
  expect(now.learnt).toMatchObject({
    repeats: 'marked',
    pedal: { code: 'F13', role: 'back', traits: PLAIN },
  });
  keys.divert(null);
  expect(told).toEqual([]);
});
