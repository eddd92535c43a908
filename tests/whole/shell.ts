import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { parseSync } from 'vite';
import { ROOT } from './server.ts';

const DIST = join(ROOT, 'dist');

/** The app shell without fonts, pictures and the engine that hears: at most so many bytes, each file gzipped by itself. */
export const SHELL_BUDGET = 120_000;

export interface Sizes {
  /** File -> bytes after gzip: page, styles and scripts that the first screen needs. */
  readonly shell: Readonly<Record<string, number>>;
  /** Those that come after it: the service worker, and scripts that it fetches in the background for when they are wanted. */
  readonly later: Readonly<Record<string, number>>;
}

export const sum = (sizes: Readonly<Record<string, number>>): number =>
  Object.values(sizes).reduce((all, one) => all + one, 0);

const read = (file: string): string => readFileSync(join(DIST, file), 'utf8');
const gzipped = (file: string): number => gzipSync(read(file), { level: 9 }).length;

/** The scripts that a script cannot do without: its static imports, and theirs. */
function needed(file: string, met = new Set<string>()): Set<string> {
  if (met.has(file)) return met;
  met.add(file);
  const { module } = parseSync(file, read(file));
  const from = [
    ...module.staticImports.map(({ moduleRequest }) => moduleRequest.value),
    ...module.staticExports.flatMap(({ entries }) =>
      entries.flatMap(({ moduleRequest }) => moduleRequest?.value ?? []),
    ),
  ];
  for (const one of from) needed(join(file, '..', one), met);
  return met;
}

/** Sizes of the built app. @throws Error when it is not built */
export function sizesOfShell(): Sizes {
  if (!existsSync(join(DIST, 'index.html'))) throw new Error('The app is not built: npm run build.');
  const page = read('index.html');
  const named = [...page.matchAll(/(?:src|href)="\/([^"]+\.(?:js|css))"/g)].flatMap(([, file]) => file ?? []);
  const shell = new Set([
    'index.html',
    'manifest.webmanifest',
    ...named.filter((file) => file.endsWith('.css')),
  ]);
  for (const file of named.filter((one) => one.endsWith('.js')))
    for (const one of needed(file)) shell.add(one);
  const all = readdirSync(DIST, { recursive: true, encoding: 'utf8' }).map((file) =>
    file.replaceAll('\\', '/'),
  );
  const text = all.filter((file) => /\.(js|css|html|webmanifest)$/.test(file));
  const sized = (files: readonly string[]) => Object.fromEntries(files.map((file) => [file, gzipped(file)]));
  return { shell: sized([...shell]), later: sized(text.filter((file) => !shell.has(file))) };
}
