import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import {
  environmentOf,
  FLOORS,
  floorFindings,
  floorOf,
  importsOf,
  MOST_LINES,
  type Source,
} from './floors.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

const sources: Source[] = ['src', 'procedures', 'seeds'].flatMap((folder) =>
  readdirSync(`${root}/${folder}`, { recursive: true, encoding: 'utf8' })
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
    .filter((path) => path.endsWith('.ts') && !path.endsWith('.d.ts'))
    .map((path) => ({ path, text: readFileSync(`${root}/${path}`, 'utf8') })),
);

test('every import leads to the same floor or a lower one, and no file is too long', () => {
  expect(floorFindings(sources)).toEqual([]);
});

test('the walk really sees the project', () => {
  const floors = new Set(sources.map(({ path }) => floorOf(path)));
  expect([...floors]).toEqual(expect.arrayContaining(['src/trade', 'src/bench', 'procedures', 'seeds']));
  const imports = sources.flatMap(importsOf);
  expect(imports.length).toBeGreaterThan(300);
  expect(imports.some(({ typeOnly }) => typeOnly) && imports.some(({ typeOnly }) => !typeOnly)).toBe(true);
});

test('the floors lie on one another without a ring', () => {
  const above = (floor: string): readonly string[] => FLOORS[floor]?.below ?? [];
  for (const floor of Object.keys(FLOORS)) {
    const reached = new Set(above(floor));
    for (const lower of reached) for (const next of above(lower)) reached.add(next);
    expect(reached.has(floor), floor).toBe(false);
    for (const lower of reached) expect(Object.keys(FLOORS), lower).toContain(lower);
  }
});

describe('what the walk must find', () => {
  const says = (path: string, text: string) => floorFindings([{ path, text }]);

  test.each([
    ['src/trade/a.ts', "import { b } from '../procedure/b.ts';"],
    ['src/trade/a.ts', "import { clamp } from 'mathjs';"],
    ['src/procedure/a.ts', "import type { JournalRecord } from '../journal/record.ts';"],
    ['src/journal/a.ts', "export { step } from '../job/runner.ts';"],
    ['src/journal/a.ts', "export * from '../job/runner.ts';"],
    ['src/job/a.ts', "const late = await import('../press/layout.ts');"],
    ['src/job/a.ts', "type Layout = import('../press/layout.ts').Layout;"],
    ['src/press/a.dom.ts', "import { say } from '../say/speaker.dom.ts';"],
    ['src/press/a.ts', "import type { App } from '../bench/app.ts';"],
    ['src/book/a.ts', "import { App } from '../bench/app.ts';"],
    ['src/say/a.ts', "import { procedures } from '../../procedures/index.ts';"],
    ['procedures/a.ts', "import { step } from '../src/job/runner.ts';"],
    ['procedures/a.ts', "import { demoJobs } from '../seeds/demo.ts';"],
    ['seeds/a.ts', "import { App } from '../src/bench/app.ts';"],
    ['src/job/a.ts', "import { walk } from '../../tests/procedures/walk.ts';"],
    ['src/elsewhere/a.ts', ''],
    ['src/a.ts', ''],
  ])('a floor crossed upwards: %s: %s', (path, text) => {
    const line = text === '' ? '' : '// first\n// second\n';
    expect(says(path, line + text)).toEqual([expect.stringMatching(`^${path}:${text === '' ? 1 : 3}: `)]);
  });

  test.each([
    ['src/job/a.ts', "import { writerFor } from './writer.dom.ts';"],
    ['src/job/a.ts', "import './writer.dom.ts';"],
    ['src/journal/a.ts', "import { type Key, make } from './keys.dom.ts';"],
    ['src/journal/a.dom.ts', "import { readAll } from './files.node.ts';"],
    ['src/hear/a.worker.ts', "import { mic } from './mic.dom.ts';"],
    ['src/cli/a.ts', "import { IdbJournalStore } from '../journal/store.dom.ts';"],
    ['src/journal/a.ts', "import { readFileSync } from 'node:fs';"],
  ])('another environment: %s: %s', (path, text) => {
    expect(says(path, text)).toHaveLength(1);
  });

  test.each([
    ['src/job/a.ts', 'const then = Date.now();'],
    ['src/job/a.ts', 'const then = new Date();'],
    ['src/trade/a.ts', 'const chance = Math.random();'],
    ['src/procedure/a.ts', 'export const store = indexedDB;'],
    ['src/hear/a.ts', 'const heard = new SpeechRecognition();'],
    ['src/hear/a.ts', "const Any = globalThis['webkitSpeechRecognition'];"],
    ['src/press/a.ts', 'if (typeof window === "object") go();'],
    ['src/book/a.ts', 'const id = crypto.randomUUID();'],
    ['procedures/a.ts', 'console.error("no");'],
  ])('a side effect in a pure file: %s: %s', (path, text) => {
    expect(says(path, text)).toHaveLength(1);
  });

  test('a file that is too long', () => {
    expect(says('src/job/a.ts', '// line\n'.repeat(MOST_LINES))).toEqual([]);
    expect(says('src/job/a.ts', '// line\n'.repeat(MOST_LINES + 1))).toHaveLength(1);
  });

  test.each([
    ['src/job/a.ts', "import type { Writer } from './writer.dom.ts';"],
    ['src/job/a.ts', "import { type Writer } from './writer.dom.ts';"],
    ['src/press/a.ts', "import { HOLD_PRESS_MS } from '../procedure/settle-hold.ts';"],
    ['src/hear/a.dom.ts', "import url from './engine.worker.ts?worker&url';"],
    ['src/job/a.ts', 'const day = Date.UTC(2026, 1, 1) + new Date(0).getTime();'],
    ['src/job/a.ts', 'const settings = { window: 3 }; const wide = settings.window;'],
    [
      'src/trade/a.ts',
      'export const middle = ({ window }: Answer) => { const history = window; return history; };',
    ],
    ['src/bench/a.ts', "import './page.css'; const now = Date.now();"],
    ['src/cli/a.ts', "import { readFile } from 'node:fs/promises';"],
  ])('what is allowed: %s: %s', (path, text) => {
    expect(says(path, text)).toEqual([]);
  });

  test('where a file runs is in its name', () => {
    expect(environmentOf('src/job/runner.ts')).toBe('pure');
    expect(environmentOf('src/job/writer.dom.ts')).toBe('dom');
    expect(environmentOf('src/bench/app.ts')).toBe('dom');
    expect(environmentOf('src/cli/start.ts')).toBe('node');
    expect(environmentOf('procedures/index.ts')).toBe('pure');
  });
});
