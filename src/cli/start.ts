import { existsSync, readdirSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sirv from 'sirv';

// `npm start`: builds the app when it is missing or older than its sources, serves it, prints the address.
const root = fileURLToPath(new URL('../..', import.meta.url));
const dist = join(root, 'dist');

function newest(path: string): number {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return Math.max(stat.mtimeMs, ...readdirSync(path).map((name) => newest(join(path, name))));
}

const sources = ['src', 'procedures', 'seeds', 'assets', 'package.json'].map((name) => join(root, name));
const built = join(dist, 'index.html');
const stale = !existsSync(built) || Math.max(...sources.map(newest)) > statSync(built).mtimeMs;
if (stale && !process.argv.includes('--no-build')) {
  const { build } = await import('vite');
  await build({ configFile: join(root, 'src/vite.config.ts'), logLevel: 'warn' });
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

const files = sirv(dist, {
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

const port = Number(process.env.PORT ?? 4173);
const host = process.env.HOST ?? '127.0.0.1';
const server = createServer((request, response) => {
  files(request, response, () => {
    response.statusCode = 404;
    response.end('There is no such page: open the address without a path.');
  });
});
server.on('error', (error: NodeJS.ErrnoException) => {
  const taken = error.code === 'EADDRINUSE';
  console.error(taken ? `Port ${port} is taken: set PORT to another one and start again.` : error.message);
  process.exit(1);
});
server.listen(port, host, () => {
  const address = server.address();
  const open = typeof address === 'object' && address ? address.port : port;
  console.log(`Holdfast is served at http://${host === '127.0.0.1' ? 'localhost' : host}:${open}`);
});
