import { afterAll, beforeAll, expect, test } from 'vitest';
import { allScreens } from './all-screens.ts';
import { Bench } from './app.ts';
import { axeFinds } from './axe.ts';
import type { Hands } from './hands.ts';
import { painted } from './screen.ts';
import { type Server, serve } from './server.ts';

/*
 * Every screen of the app, from the first start to the book: axe with its best practices; the person's own palette (forced
 * colours) followed by every letter and every stroke; more contrast where it is asked for; nothing that moves where nothing
 * should; no text beyond the window.
 */

let server: Server;
let bench: Bench;
let hands: Hands;

beforeAll(async () => {
  server = await serve();
  bench = await Bench.open(server.origin);
  hands = await bench.hands();
}, 240_000);
afterAll(async () => {
  await bench.close();
  await server.stop();
});

/** What does not follow the palette that the person has set: letters, grounds, and the strokes of drawings. Runs in the page. */
function strangers(): string[] {
  const NAMES = [
    'Canvas',
    'CanvasText',
    'LinkText',
    'Highlight',
    'HighlightText',
    'GrayText',
    'ButtonText',
    'ButtonFace',
    'ButtonBorder',
    'Field',
    'FieldText',
    'Mark',
    'MarkText',
    'AccentColor',
    'AccentColorText',
    'SelectedItem',
    'SelectedItemText',
  ];
  const probe = document.body.appendChild(document.createElement('i'));
  probe.style.forcedColorAdjust = 'none';
  const palette = new Set(
    NAMES.map((name) => {
      probe.style.color = name;
      return getComputedStyle(probe).color;
    }),
  );
  probe.remove();
  const none = (colour: string) =>
    colour === 'none' ||
    colour === 'transparent' ||
    /^rgba\(.*, 0\)$/.test(colour) ||
    colour.startsWith('url(');
  const found: string[] = [];
  const ground = (element: Element | null): string => {
    for (
      let one = element;
      one;
      one = one.parentElement ?? ((one.getRootNode() as ShadowRoot).host as Element)
    ) {
      const { backgroundColor } = getComputedStyle(one);
      if (!none(backgroundColor)) return backgroundColor;
    }
    return 'none';
  };
  const visit = (root: ParentNode) => {
    for (const element of root.querySelectorAll('*')) {
      if (element.shadowRoot) visit(element.shadowRoot);
      if (!element.checkVisibility({ visibilityProperty: true }) || element.closest('.report, option'))
        continue;
      const style = getComputedStyle(element);
      const text = [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent?.trim());
      const says = `${element.localName}.${element.getAttribute('class') ?? ''}`;
      if (element instanceof SVGElement) {
        if (!(element instanceof SVGGeometryElement || element instanceof SVGTextElement)) continue;
        for (const paint of ['fill', 'stroke'] as const)
          if (!none(style[paint]) && !palette.has(style[paint]))
            found.push(`${says}: ${paint} ${style[paint]}`);
        continue;
      }
      if (!text) continue;
      if (!palette.has(style.color)) found.push(`${says}: letters ${style.color}`);
      const under = ground(element);
      if (under === style.color) found.push(`${says}: letters as their ground, ${style.color}`);
      if (!palette.has(under)) found.push(`${says}: ground ${under}`);
    }
  };
  visit(document);
  return [...new Set(found)].map((one) => `forced colours: ${one}`);
}

/** Letters that do not reach 7 to 1 although more contrast is asked for, and what moves although nothing should. */
function quiet(): string[] {
  const style = getComputedStyle(document.documentElement);
  const token = (name: string) => style.getPropertyValue(name).trim();
  const second = token('--ink-2') === token('--ink') && token('--rule') === token('--ink');
  const moving = document.getAnimations().map((one) => `moves: ${one.id || one.constructor.name}`);
  return [...(second ? [] : ['more contrast: there is still a second ink']), ...moving];
}

/** Screens of which each was met once; held against the walk so that none is lost unseen. */
const FEWEST = 36;

test('every screen: axe with best practices, forced colours, more contrast, no motion', async () => {
  const { page } = hands;
  const faults: string[] = [];
  const met = new Set<string>();
  for await (const { name } of allScreens(hands)) {
    met.add(name);
    const add = (all: readonly string[]) => faults.push(...all.map((fault) => `${name}: ${fault}`));
    add(await axeFinds(page, 'best-practice'));
    await page.emulateMedia({ forcedColors: 'active', contrast: 'no-preference' });
    await painted(page);
    add(await page.evaluate(strangers));
    await page.emulateMedia({ forcedColors: 'none', contrast: 'more', reducedMotion: 'reduce' });
    await painted(page);
    add(await page.evaluate(quiet));
    await page.emulateMedia({
      forcedColors: 'none',
      contrast: 'no-preference',
      reducedMotion: 'no-preference',
    });
    await painted(page);
  }
  expect(faults).toEqual([]);
  expect(met.size).toBeGreaterThanOrEqual(FEWEST);
  expect(bench.complaints).toEqual([]);
});
