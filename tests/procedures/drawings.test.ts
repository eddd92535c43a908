import { readdirSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import type { Definition } from '../../src/procedure/definition.ts';

const folder = fileURLToPath(new URL('../../assets/drawings/', import.meta.url));
const files = readdirSync(folder);
const procedures = import.meta.glob<Definition>('../../procedures/*/index.ts', {
  import: 'default',
  eager: true,
});

const named = new Set(
  Object.values(procedures).flatMap(({ states }) =>
    Object.values(states).flatMap(({ meta }) => (meta?.drawing === undefined ? [] : [meta.drawing])),
  ),
);

/** The elements of a drawing: name and attributes. Stricter than XML: quoted attributes, no entities, no comments, no CDATA. */
function elements(svg: string): { name: string; attributes: Record<string, string>; text: string }[] {
  const found: { name: string; attributes: Record<string, string>; text: string }[] = [];
  const open: string[] = [];
  let rest = svg.trim();
  while (rest !== '') {
    const tag = /^<(\/?)([a-z]+)((?: [a-zA-Z:-]+="[^"<&]*")*)(\/?)>([^<&]*)/.exec(rest);
    if (!tag) throw new Error(`Not well-formed at: ${rest.slice(0, 40)}`);
    const [whole, closing, name = '', attributes = '', single, text = ''] = tag;
    if (closing) {
      if (open.pop() !== name) throw new Error(`</${name}> closes another element.`);
    } else {
      const pairs = [...attributes.matchAll(/ ([a-zA-Z:-]+)="([^"]*)"/g)].map(([, key = '', value = '']) => [
        key,
        value,
      ]);
      if (new Set(pairs.map(([key]) => key)).size !== pairs.length)
        throw new Error(`<${name}> repeats an attribute.`);
      found.push({ name, attributes: Object.fromEntries(pairs), text: text.trim() });
      if (!single) open.push(name);
    }
    rest = rest.slice(whole.length);
  }
  if (open.length > 0) throw new Error(`<${open.join('>, <')}> is not closed.`);
  return found;
}

test('every drawing that a procedure names is there, and no other lies about', () => {
  expect([...named].sort()).toEqual([...files].sort());
});

describe.each(files)('%s', (file) => {
  const svg = readFileSync(folder + file, 'utf8');
  const all = elements(svg);
  const root = all[0];

  test('is well-formed, drawn on 400 by 300, small, and runs nothing', () => {
    expect(root?.name).toBe('svg');
    expect(root?.attributes.viewBox).toBe('0 0 400 300');
    expect(statSync(folder + file).size).toBeLessThan(6000);
    const drawn = ['svg', 'title', 'desc', 'path', 'rect', 'circle', 'ellipse', 'text'];
    expect(all.filter(({ name }) => !drawn.includes(name))).toEqual([]);
    expect(
      all.flatMap(({ attributes }) => Object.keys(attributes).filter((key) => /^on|href|style/.test(key))),
    ).toEqual([]);
  });

  test('has a title and a description, and points at them', () => {
    const [title, desc] = ['title', 'desc'].map((name) => all.find((one) => one.name === name));
    expect(title?.text).toMatch(/^[A-Z].{8,}/);
    expect(desc?.text).toMatch(/^[A-Z].{30,}\.$/);
    expect(root?.attributes.role).toBe('img');
    expect(root?.attributes['aria-labelledby']).toBe(`${title?.attributes.id} ${desc?.attributes.id}`);
    expect(title?.attributes.id).toBe(`${file.replace('.svg', '')}-title`);
  });

  test('takes its colours from the screen and can be read from three metres', () => {
    const colour = /^(none|currentColor|var\(--(hold|accent), #[0-9a-f]{6}\))$/;
    for (const { attributes } of all) {
      for (const key of ['fill', 'stroke']) expect(attributes[key] ?? 'none').toMatch(colour);
      // 3 % of the width, so that a stroke keeps its weight where the drawing is a hand wide.
      if ((attributes.stroke ?? 'none') !== 'none')
        expect(Number(attributes['stroke-width'])).toBeGreaterThanOrEqual(12);
      if ('font-size' in attributes) expect(Number(attributes['font-size'])).toBeGreaterThanOrEqual(20);
    }
  });
});
