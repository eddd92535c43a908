import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { noPostgres } from '../office/postgres.ts';

// Runs before `npm test`: the office is tried on a real PostgreSQL as well as on its embedded database. Where it
// cannot be installed the tests say that they left it out.
if (noPostgres !== null && process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
  console.log('PostgreSQL is missing: installing it from Debian.');
  spawnSync('apt-get', ['update', '-qq'], { stdio: 'inherit' });
  spawnSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'postgresql'], {
    stdio: 'inherit',
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  });
}
