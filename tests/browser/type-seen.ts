import { arcMinutesOf, type Reading } from '../../src/bench/optics.ts';

/** CSS pixels and pixels to the inch: a 10.1-inch tablet lying and standing, a 15.6-inch panel. */
export const SCREENS = [
  { name: '10.1-inch, 1280 × 800', width: 1280, height: 800, inch: Math.hypot(1280, 800) / 10.1 },
  { name: '10.1-inch, 800 × 1280', width: 800, height: 1280, inch: Math.hypot(1280, 800) / 10.1 },
  { name: '15.6-inch, 1920 × 1080', width: 1920, height: 1080, inch: Math.hypot(1920, 1080) / 15.6 },
];

/** Text on the screen: its words, how high its capital letters are in minutes of arc, and whether any of it is cut off. */
export interface Seen {
  readonly text: string;
  readonly minutes: number;
  readonly cut: boolean;
  readonly says: boolean;
}

const canvas = document.createElement('canvas').getContext('2d');
const capitals = new Map<string, number>();

/**
 * Height of a rendered capital H of this font as a part of its size, from the glyph's own bounding box. ISO 9241-3 and
 * NUREG-0700 mean the height of a capital letter without accents.
 */
export function capitalPart(weight: string, family: string): number {
  const font = `${weight} 1000px ${family}`;
  const known = capitals.get(font);
  if (known !== undefined) return known;
  if (!canvas) throw new Error('No canvas.');
  canvas.font = font;
  const part = canvas.measureText('H').actualBoundingBoxAscent / 1000;
  capitals.set(font, part);
  return part;
}

function textNodes(root: ParentNode): Text[] {
  const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  const found: Text[] = [];
  while (walker.nextNode())
    if (walker.currentNode.textContent?.trim()) found.push(walker.currentNode as Text);
  return found;
}

/** Half a pixel either way: layout rounds. */
const SLACK = 1.5;
const within = (inner: DOMRect, outer: DOMRect) =>
  inner.left >= outer.left - SLACK &&
  inner.right <= outer.right + SLACK &&
  inner.top >= outer.top - SLACK &&
  inner.bottom <= outer.bottom + SLACK;
const apart = (a: DOMRect, b: DOMRect) =>
  a.bottom <= b.top + SLACK ||
  a.top >= b.bottom - SLACK ||
  a.right <= b.left + SLACK ||
  a.left >= b.right - SLACK;

/** Every text that can be seen inside `root`. A line that is wholly outside its box is left out, and not cut off. */
export function seenIn(root: Element, reading: Reading): Seen[] {
  return textNodes(root).flatMap((node): Seen[] => {
    const element = node.parentElement;
    if (!element) return [];
    const style = getComputedStyle(element);
    const size = Number.parseFloat(style.fontSize) * (scaleOf(element) ?? 1);
    if (size === 0 || style.visibility === 'hidden') return [];
    const range = document.createRange();
    range.selectNodeContents(node);
    const lines = [...range.getClientRects()].filter(({ width, height }) => width > 0 && height > 0);
    if (lines.length === 0) return [];
    const boxes = clippers(element, root);
    const shown = lines
      .map((line) => tight(line, size))
      .filter((line) => !boxes.some((box) => apart(line, box)));
    if (shown.length === 0) return [];
    const minutes = arcMinutesOf(size * capitalPart(style.fontWeight, style.fontFamily), reading);
    return [
      {
        text: node.textContent?.trim() ?? '',
        minutes,
        cut: shown.some((line) => boxes.some((box) => !within(line, box))),
        says: element.closest('.say, .caution') !== null,
      },
    ];
  });
}

/** The part of a line box that letters fill: a line box may reach out of its parent by its leading, letters may not. */
function tight(line: DOMRect, size: number): DOMRect {
  const letters = Math.min(line.height, size * 0.95);
  return new DOMRect(line.x, line.y + (line.height - letters) / 2, line.width, letters);
}

function scaleOf(element: Element): number | null {
  return element instanceof SVGGraphicsElement ? (element.getScreenCTM()?.a ?? null) : null;
}

/** The boxes outside which nothing is seen. */
function clippers(element: Element, root: Element): DOMRect[] {
  const boxes = [root.getBoundingClientRect()];
  for (let one: Element | null = element; one && one !== root; one = one.parentElement) {
    if (getComputedStyle(one).overflowY !== 'visible') boxes.push(one.getBoundingClientRect());
  }
  return boxes;
}

/** The type of the bench, loaded and in use, so that what is measured is what is shown. */
export async function inBenchType(): Promise<void> {
  document.documentElement.style.fontFamily = '"B612", sans-serif';
  await Promise.all(
    ['400 40px B612', '700 40px B612', '700 40px "B612 Mono"'].map((font) => document.fonts.load(font)),
  );
}
