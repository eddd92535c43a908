import { render } from 'lit';
import { expect, test } from 'vitest';
import { procedures } from '../../procedures/index.ts';
import { drawing, loadDrawings } from '../../src/bench/parts/drawing.ts';

const shown = (name: string | null): HTMLElement => {
  const place = document.createElement('div');
  document.body.append(place);
  const drawn = drawing(name);
  render(drawn, place);
  return place;
};

test('before they are fetched a station is shown without its drawing', () => {
  expect(shown('clip-way.svg').querySelector('svg')).toBeNull();
});

test('once fetched, every drawing that a procedure names is shown, with a size of its own', async () => {
  await loadDrawings();
  const definitions = await Promise.all(procedures.map(({ load }) => load()));
  const names = new Set(
    definitions.flatMap(({ states }) =>
      Object.values(states).flatMap(({ meta }) => (meta?.drawing === undefined ? [] : [meta.drawing])),
    ),
  );
  expect(names.size).toBeGreaterThan(20);
  for (const name of names) {
    const place = shown(name);
    const svg = place.querySelector('svg');
    expect(svg?.getBBox().width, name).toBeGreaterThan(100);
    place.remove();
  }
  expect(shown(null).querySelector('svg')).toBeNull();
});
