import { expect as chai, fixture, html } from '@open-wc/testing';
import { beforeAll, describe, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { SILENT } from '../../src/bench/ear-state.ts';
import '../../src/bench/page.css';
import { earStrip, earStyle, notePanel } from '../../src/bench/parts/ear.ts';
import { shared } from '../../src/bench/shared-style.ts';
import '../../src/bench/screens/levels-screen.ts';
import '../../src/bench/screens/teach-screen.ts';
import { css, LitElement, type TemplateResult } from 'lit';

const LISTENS = { ...SILENT, on: true, level: { now: -22, floor: -48 } };
const SIZES = [
  [1280, 800],
  [800, 1280],
] as const;

class Strip extends LitElement {
  static override styles = [shared, earStyle, css`:host { position: relative; }`];
  static override properties = { strip: { attribute: false } };
  declare strip: TemplateResult;
  override render(): TemplateResult {
    return this.strip;
  }
}

const text = (element: Element) => element.shadowRoot?.textContent?.replace(/\s+/g, ' ').trim() ?? '';
const inRoom = (part: TemplateResult) =>
  html`<main style="height: 100vh; width: 100vw; position: fixed; inset: 0">${part}</main>`;

beforeAll(() => customElements.define('test-strip', Strip));

const told = { good: false, says: 'That was not like the takes before: say it again in the same way.' };
const teach = html`<hf-teach
  .heading=${'Tomas Reedle'}
  .word=${'paint lines all across'}
  .place=${'word 17 of 18'}
  .takes=${2}
  .own=${true}
  .told=${told}
  .ear=${LISTENS}
></hf-teach>`;
const levels = (ratio: number) =>
  html`<hf-levels .step=${'told'} .floor=${-41.6} .ratio=${ratio} .ear=${LISTENS}></hf-levels>`;

describe.each(SIZES)('at %i by %i', (width, height) => {
  test.each([
    ['teaching', () => teach, 'hf-teach'],
    ['a shop that is too loud', () => levels(4), 'hf-levels'],
    ['a shop where words work', () => levels(15), 'hf-levels'],
  ])('%s is accessible and fits', async (_, part, name) => {
    await page.viewport(width, height);
    const room = await fixture(inRoom(part()));
    const element = room.querySelector(name) as HTMLElement;
    await document.fonts.ready;
    await chai(element).to.be.accessible();
    expect(element.scrollHeight).toBeLessThanOrEqual(height);
    const foot = element.shadowRoot?.querySelector('footer')?.getBoundingClientRect();
    expect(foot?.bottom).toBeLessThanOrEqual(height);
    const ask = element.shadowRoot?.querySelector('.ask') as HTMLElement;
    expect(ask.scrollHeight).toBeLessThanOrEqual(ask.clientHeight + 1);
  });
});

test('teaching says the word, its takes, what was wrong, and where they stay', async () => {
  const element = (await fixture(teach)) as HTMLElement;
  expect(text(element)).toMatch(
    /paint lines all across .*say it again in the same way. Your takes.*stay on this device/,
  );
  expect(element.shadowRoot?.querySelectorAll('.takes .done')).toHaveLength(2);
});

test('the verdict on a shop names the ratio and the remedy', async () => {
  expect(text(await fixture(levels(15)))).toMatch(
    /also needs the pedal or a key. Your voice stands 15 dB over the noise, over a shop 42 dB below full scale. A microphone nearer/,
  );
});

test.each([
  ['an engine that sends sound away', { notice: 'The sound goes away.' }, /Listening .*The sound goes away./],
  [
    'a call word that is waited for',
    { call: { word: 'holdfast listen', open: false } },
    /first holdfast listen/,
  ],
  ['a call word just said', { call: { word: 'holdfast listen', open: true } }, /now say it/],
])('the strip shows %s', async (_, state, shown) => {
  const element = await fixture(html`<test-strip .strip=${earStrip({ ...LISTENS, ...state })}></test-strip>`);
  expect(text(element)).toMatch(shown);
  await chai(element).to.be.accessible();
});

test('a voice note says how it is ended', async () => {
  const element = await fixture(html`<test-strip .strip=${notePanel({ ...LISTENS, note: 7 })}></test-strip>`);
  expect(text(element)).toMatch(/7 s .*end of note.*any key or pedal ends it/);
});
