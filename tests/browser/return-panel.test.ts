import { expect as chai, fixture, html } from '@open-wc/testing';
import { describe, expect, test } from 'vitest';
import { acknowledge, freshConsole } from '../../src/bench/console.ts';
import { readOn } from '../../src/bench/read-on.ts';
import '../../src/bench/screens/job-screen.ts';
import type { JobScreen } from '../../src/bench/screens/job-screen.ts';
import { type Return, returnOf } from '../../src/job/return.ts';
import { step } from '../../src/job/runner.ts';
import { viewOf } from '../../src/job/view.ts';
import type { Gesture } from '../../src/press/gesture.ts';
import { jobAt } from './bench-job.ts';

const slack = jobAt('slack');
const at = Date.parse(slack.records[slack.records.length - 1]?.at ?? '');
const state = step(slack, { type: 'pause' }, { at, by: 'ada', via: 'keys' }).state;
const view = viewOf(state, 'ada');
const long: Gesture = { kind: 'long', key: 'go', via: 'pedal', downAt: 0, heldMs: 1400 };

function backAfter(ms: number): Return {
  const back = returnOf(state, at + ms);
  if (!back) throw new Error('Not paused.');
  return back;
}

describe('reading the last hold again', () => {
  const meant = acknowledge(freshConsole, backAfter(14 * 3_600_000));
  const pages = { station: 1, over: 2 };

  // Null: its phrase was heard.
  test.each([long, null])('counts on the last page and on no page before it', (gesture) => {
    const first = readOn(freshConsole, gesture, meant, view, pages);
    expect([first.effects, first.console.overPage]).toEqual([[], 1]);
    expect(readOn(first.console, gesture, meant, view, pages).effects).toEqual(meant.effects);
  });
});

describe('the screen of a paused job', () => {
  const shown = async (back: Return, page: number) => {
    const place = await fixture<HTMLElement>(html`<div></div>`);
    place.style.cssText = 'position: fixed; inset: 0; width: 640px; height: 360px';
    const screen = document.createElement('hf-job') as JobScreen;
    let pages = 0;
    screen.addEventListener('pages', (event) => {
      pages = (event as CustomEvent<{ over: number }>).detail.over;
    });
    Object.assign(screen, { view, back, console: { ...freshConsole, overPage: page } });
    place.append(screen);
    await expect.poll(() => pages).toBeGreaterThan(0);
    const over = screen.shadowRoot?.querySelector<HTMLElement>('.over');
    if (!over) throw new Error('Nothing lies over the station.');
    const parts = [...over.querySelectorAll<HTMLElement>('[data-part]')].filter(({ hidden }) => !hidden);
    const foot = over.querySelector<HTMLElement>('.foot');
    return { screen, over, parts, pages, foot: foot ? getComputedStyle(foot, '::before').content : '' };
  };

  test('has the hold that is read again whole on its last page, and says on the pages before that there is more', async () => {
    const back = backAfter(14 * 3_600_000);
    const first = await shown(back, 0);
    expect(first.pages).toBeGreaterThan(1);
    expect(first.foot).toContain(`tap: keep reading 1/${first.pages}`);
    let read = '';
    for (let page = 0; page < first.pages; page++) {
      const { parts, over } = await shown(back, page);
      const floor = over.querySelector('.text')?.getBoundingClientRect().bottom ?? 0;
      for (const part of parts) {
        read += ` ${part.textContent}`;
        expect(part.getBoundingClientRect().bottom).toBeLessThanOrEqual(floor + 1);
      }
    }
    expect(read.replaceAll(/\s+/g, ' ')).toContain(back.readAgain);
    const last = await shown(back, first.pages - 1);
    expect(last.parts.at(-1)?.querySelector('.bar')).not.toBeNull();
    expect(last.foot).not.toContain('tap: keep reading');
    await chai(last.screen).to.be.accessible();
  });

  test('asks for no long press after a short break', async () => {
    const { over } = await shown(backAfter(7 * 60_000), 0);
    expect(over.textContent).toContain('You stand at');
    expect(over.textContent).not.toContain('Read it again');
    expect(over.querySelector('.bar')).toBeNull();
  });
});
