import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { procedures, TAKES_GEARING } from '../../procedures/index.ts';

const folder = fileURLToPath(new URL('../../procedures/', import.meta.url));

test('the list has every procedure that there is, once', () => {
  const folders = readdirSync(folder, { withFileTypes: true }).filter((entry) => entry.isDirectory());
  expect(procedures.map(({ id }) => id).sort()).toEqual(folders.map(({ name }) => name).sort());
});

describe.each(procedures)('$id', ({ id, title, revision, load }) => {
  test('says of the definition what the definition says of itself', async () => {
    const definition = await load();
    expect([definition.id, definition.meta.title, definition.meta.revision]).toEqual([id, title, revision]);
  });

  test('a follow-up that it asks for is on the list', async () => {
    const { followUp } = (await load()).meta;
    if (followUp) expect(procedures.map((listed) => listed.id)).toContain(followUp.procedure);
  });
});

test('the procedure that takes over a planned gearing has figures for it', async () => {
  const takes = await procedures.find(({ id }) => id === TAKES_GEARING)?.load();
  expect(takes?.meta.figures).toHaveProperty('newFront');
  expect(takes?.meta.figures).toHaveProperty('newRear');
  expect(takes?.meta.facts).toHaveProperty('regear');
});

test('a name on the card means the same in every procedure that uses it', async () => {
  const definitions = await Promise.all(procedures.map(({ load }) => load()));
  for (const table of ['figures', 'tools', 'facts'] as const) {
    const met = new Map<string, unknown>();
    for (const { id, meta } of definitions)
      for (const [name, declared] of Object.entries(meta[table])) {
        if (met.has(name)) expect(declared, `${id}: ${name}`).toEqual(met.get(name));
        met.set(name, declared);
      }
  }
});
