import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { noPostgres } from '../office/postgres.ts';
import { chromiumPath } from './chromium.ts';

// Runs before `npm test`: the browser tests need a real Chromium, which npm does not bring, and the office is tried on a
// real PostgreSQL as well as on its embedded database. Where PostgreSQL cannot be installed the tests say that they left
// it out.
const missing = [
  ...(existsSync(chromiumPath()) ? [] : ['chromium']),
  ...(noPostgres === null ? [] : ['postgresql']),
];
const apt = (...given: string[]) =>
  spawnSync('apt-get', given, {
    stdio: 'inherit',
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  });
if (missing.length > 0 && process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
  console.log(`Installing from Debian what is missing: ${missing.join(', ')}.`);
  apt('update', '-qq');
  // Each by itself: one that cannot be had does not keep the other out.
  for (const name of missing) apt('install', '-y', '-qq', '--no-install-recommends', name);
}
if (!existsSync(chromiumPath())) {
  console.error(
    'The browser tests need Chromium: install it (Debian: apt-get install chromium) or set CHROMIUM to its path, then run npm test again.',
  );
  process.exit(1);
}
