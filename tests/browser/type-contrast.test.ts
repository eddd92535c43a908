import { describe, expect, test } from 'vitest';
import { hex } from 'wcag-contrast';
import page from '../../src/bench/page.css?raw';

/** Tokens of a theme as the stylesheet has them. */
function tokens(selector: string): Readonly<Record<string, string>> {
  const rule = page.slice(page.indexOf(`${selector} {`));
  const body = rule.slice(rule.indexOf('{') + 1, rule.indexOf('}'));
  return Object.fromEntries(
    [...body.matchAll(/--([a-z0-9-]+):\s*(#[0-9a-f]{6});/g)].map(([, name = '', colour = '']) => [
      name,
      colour,
    ]),
  );
}

const light = tokens(':root');
const dark = { ...light, ...tokens(':root[data-theme="dark"]') };

/** Thresholds of WCAG 2.2: 1.4.3 text 4.5, 1.4.6 enhanced text 7, 1.4.11 what is not text 3. */
const AA = 4.5;
const AAA = 7;
const NOT_TEXT = 3;

/** Instructions, cautions, figures and refusals; text beside them; lines and shapes. */
const PAIRS: readonly (readonly [text: string, ground: string, least: number])[] = [
  ['ink', 'paper', AAA],
  ['ink', 'paper-2', AAA],
  ['accent', 'paper', AAA],
  ['bad', 'paper', AAA],
  ['ink-2', 'paper', AAA],
  ['ink-2', 'paper-2', AA],
  ['good', 'paper', AA],
  ['hold', 'paper', AAA],
  ['rule', 'paper', NOT_TEXT],
  ['on-hold', 'hold-band', AAA],
  ['over-ink', 'over-paper', AAA],
  ['over-ink', 'over-paper-2', AAA],
  ['over-ink-2', 'over-paper', AAA],
  ['over-accent', 'over-paper', AAA],
  ['over-bad', 'over-paper', AAA],
  ['over-good', 'over-paper', AA],
  ['over-hold', 'over-paper', AAA],
  ['over-rule', 'over-paper', NOT_TEXT],
  ['on-danger', 'z-danger', AA],
  ['on-warning', 'z-warning', AAA],
  ['on-caution', 'z-caution', AAA],
  ['on-notice', 'z-notice', AA],
];

describe.each([
  ['light', light],
  ['dark', dark],
] as const)('%s', (_, theme) => {
  test.each(PAIRS)('%s on %s has a contrast of at least %d', (text, ground, least) => {
    const [one, other] = [theme[text], theme[ground]];
    expect(one, text).toMatch(/^#/);
    expect(other, ground).toMatch(/^#/);
    expect(hex(one ?? '', other ?? '')).toBeGreaterThanOrEqual(least);
  });

  test('a hold turns the page over: its paper is no paper of another station', () => {
    expect(hex(theme['over-paper'] ?? '', theme.paper ?? '')).toBeGreaterThanOrEqual(AAA);
  });
});

test('the contrast of published pairs comes out as published', () => {
  // W3C techniques and the list of contrast-ratio-checker on npm: #767676 on white is the first grey that passes 4.5.
  expect(hex('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
  expect(hex('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
  expect(hex('#000000', '#ffffff')).toBeCloseTo(21, 10);
});

test('the dark theme sets every colour that the light one has, but those that stand on their own ground', () => {
  const own = /^(z-|on-)/;
  const dark = tokens(':root[data-theme="dark"]');
  expect(Object.keys(light).filter((name) => !own.test(name) && !(name in dark))).toEqual([]);
});
