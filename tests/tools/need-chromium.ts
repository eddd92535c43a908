import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chromiumPath } from './chromium.ts';

// Runs before `npm test`: the browser tests need a real Chromium, which npm does not bring.
if (!existsSync(chromiumPath())) {
  const root = process.getuid?.() === 0;
  const apt = existsSync('/usr/bin/apt-get');
  if (root && apt) {
    console.log('Chromium is missing: installing it from Debian.');
    spawnSync('apt-get', ['update', '-qq'], { stdio: 'inherit' });
    spawnSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], {
      stdio: 'inherit',
    });
  }
}
if (!existsSync(chromiumPath())) {
  console.error(
    'The browser tests need Chromium: install it (Debian: apt-get install chromium) or set CHROMIUM to its path, then run npm test again.',
  );
  process.exit(1);
}
