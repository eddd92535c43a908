import { existsSync } from 'node:fs';

/** Flags under which Debian's Chromium runs here: headless, no GPU, and no call to the outside. */
export const chromiumArgs = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

const places = [
  process.env.CHROMIUM ?? '',
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
];

/** Path of the Chromium that the browser tests use; set CHROMIUM to name another. */
export function chromiumPath(): string {
  return places.find((path) => path !== '' && existsSync(path)) ?? '/usr/bin/chromium';
}
