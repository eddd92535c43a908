import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sirv from 'sirv';

const root = fileURLToPath(new URL('../..', import.meta.url));
const dist = join(root, 'dist');
const page = join(root, '.cache/office-page');

function newest(path: string): number {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return Math.max(stat.mtimeMs, ...readdirSync(path).map((name) => newest(join(path, name))));
}

const stale = (built: string, sources: readonly string[]): boolean =>
  !existsSync(built) ||
  Math.max(...sources.map((name) => newest(join(root, name)))) > statSync(built).mtimeMs;

async function build(config: string): Promise<void> {
  const { build: run } = await import('vite');
  await run({ configFile: join(root, config), logLevel: 'warn' });
}

/** Builds the app when it is missing or older than its sources. */
export async function buildApp(): Promise<void> {
  const sources = ['src', 'procedures', 'seeds', 'assets', 'package.json'];
  if (stale(join(dist, 'index.html'), sources)) await build('src/vite.config.ts');
}

/** Builds the supervisor's page when it is missing or older than its sources. */
export async function buildPage(): Promise<void> {
  if (stale(join(page, 'index.html'), ['src', 'package.json'])) await build('src/office/page/vite.config.ts');
}

/** Nothing but the app itself: no other host, no inline script or style, no frame, no plug-in. */
export const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "media-src 'self' blob:",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

type Serve = ReturnType<typeof sirv>;

const served = (folder: string): Serve =>
  sirv(folder, {
    // Looks each file up anew, so that a build made while it is served is served whole.
    dev: true,
    etag: true,
    setHeaders: (response, path) => {
      response.setHeader('Content-Security-Policy', CONTENT_SECURITY_POLICY);
      response.setHeader('X-Content-Type-Options', 'nosniff');
      response.setHeader('Referrer-Policy', 'no-referrer');
      response.setHeader('Permissions-Policy', 'microphone=(self), camera=(self), geolocation=()');
      const hashed = path.startsWith('/assets/');
      response.setHeader('Cache-Control', hashed ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });

/** The built app. */
export const appFiles = (): Serve => served(dist);

/** Where the supervisor's page is. */
export const PAGE = '/office';

/** The built app, and the supervisor's page under its own address. */
export function officeFiles(): Serve {
  const app = appFiles();
  const pages = served(page);
  return (request, response, next) => {
    const url = request.url ?? '/';
    if (url === PAGE || (url.startsWith(PAGE) && /^[?#]/.test(url.slice(PAGE.length)))) {
      response.writeHead(308, { Location: `${PAGE}/` }).end();
    } else if (url.startsWith(`${PAGE}/`)) {
      request.url = url.slice(PAGE.length);
      pages(request, response, next);
    } else app(request, response, next);
  };
}
