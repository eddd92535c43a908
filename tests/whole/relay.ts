import { createServer, type IncomingMessage, request, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';

/** What stands between the browser and the server: the network, which can fail, and the release of a newer version. */
export interface Relay {
  readonly origin: string;
  /** A later version of the app is served from now on: its page bears this mark. */
  release(mark: string): void;
  /** The network is gone: nothing listens any more, and what was open is cut. */
  cut(): Promise<void>;
}

const PAGE_REVISION = /(url:"index\.html",revision:")[^"]*"/;

/** The page of the later version, and the worker whose list of files has that page. */
function later(path: string, body: string, mark: string): string {
  if (path === '/' || path === '/index.html')
    return body.replace('<head>', `<head><meta name="version" content="${mark}">`);
  if (path !== '/sw.js') return body;
  if (!PAGE_REVISION.test(body)) throw new Error('The worker does not list the page: has its build changed?');
  return body.replace(PAGE_REVISION, `$1${mark}"`);
}

/** Relays to the real server, byte for byte until a later version is released. */
export async function relay(to: string): Promise<Relay> {
  let mark: string | null = null;

  const pass = (incoming: IncomingMessage, outgoing: ServerResponse) => {
    const path = incoming.url ?? '/';
    const headers = { ...incoming.headers };
    // Unchanged files may be answered from the browser's cache; ours are changed on the way.
    if (mark !== null) for (const name of ['if-none-match', 'if-modified-since']) delete headers[name];
    const asked = request(`${to}${path}`, { method: incoming.method, headers }, (answer) => {
      const parts: Buffer[] = [];
      answer.on('data', (part: Buffer) => parts.push(part));
      answer.on('end', () => {
        const body = Buffer.concat(parts);
        const changed =
          mark === null ? body : Buffer.from(later(path, body.toString('latin1'), mark), 'latin1');
        const sent = { ...answer.headers, 'content-length': String(changed.length) };
        if (answer.statusCode === 304) delete (sent as Record<string, unknown>)['content-length'];
        outgoing.writeHead(answer.statusCode ?? 502, sent);
        outgoing.end(changed);
      });
    });
    asked.on('error', () => outgoing.destroy());
    asked.end();
  };

  const server = createServer(pass);
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  return {
    origin: `http://localhost:${(server.address() as AddressInfo).port}`,
    release(version) {
      mark = version;
    },
    cut: () =>
      new Promise((closed) => {
        server.close(() => closed());
        server.closeAllConnections();
      }),
  };
}
