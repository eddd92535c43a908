import type { IncomingMessage, ServerResponse } from 'node:http';
import { Readable } from 'node:stream';
import { gunzipSync } from 'node:zlib';
import fastify, { type FastifyInstance, type FastifyReply, type FastifyRequest } from 'fastify';
import { tame } from '../journal/finding.ts';
import { toMoment } from '../journal/moment.ts';
import { signData } from '../journal/seal.ts';
import { OfficeError, statusOf } from '../sync/fault.ts';
import { API, MOST_BYTES, MOST_SENT, type ShutOut } from '../sync/wire.ts';
import { databaseFault } from './db/faults.ts';
import type { Device } from './devices.ts';
import { Guard, type Rate, Rates, type Signer } from './guard.ts';
import type { Office } from './office.ts';
import { type Route, Streamed } from './route.ts';
import { routes } from './routes.ts';

export interface ServerOptions {
  /** How often a device may ask, and how often somebody who is not enrolled. */
  readonly rate?: Rate;
  readonly strangers?: Rate;
  /** How many bytes of photos and voice notes a device may bring. */
  readonly fileBytes?: Rate;
  /** One line for each answer: never a header, a body, a question or a code. */
  readonly log?: (line: string) => void;
  /** Serves the app's files for whatever is not the API. */
  readonly files?: (request: IncomingMessage, response: ServerResponse, next: () => void) => void;
  readonly tls?: { readonly key: Buffer; readonly cert: Buffer };
}

const NOBODY: Device = { id: 0, kid: '', kind: 'bench', name: '', revokedAt: null, revokedWhy: null };
const NO_SIGNER: Signer = { kid: '', jwk: { kty: 'EC', crv: 'P-256', x: '', y: '' } };
const EMPTY = new Uint8Array();

const named = Symbol('device');
type Named = FastifyRequest & { [named]?: string };

/** The office's web server. Not listening yet. */
export function officeServer(office: Office, options: ServerOptions = {}): FastifyInstance {
  const { rate = { burst: 200, perSecond: 50 }, strangers = { burst: 30, perSecond: 0.5 } } = options;
  const { fileBytes = { burst: 64 * 1024 * 1024, perSecond: 8 * 1024 * 1024 } } = options;
  const guard = new Guard(office.key.kid, office.now);
  const devices = new Rates(rate, office.now);
  const unknown = new Rates(strangers, office.now);
  const brought = new Rates(fileBytes, office.now);
  const server: FastifyInstance = fastify({
    logger: false,
    bodyLimit: MOST_SENT,
    // Longer than any stream of a slow desk needs between two pieces, shorter than a connection that hangs for ever.
    connectionTimeout: 120_000,
    requestTimeout: 60_000,
    routerOptions: { maxParamLength: 128 },
    ajv: { customOptions: { removeAdditional: false, coerceTypes: true } },
    ...(options.tls ? { https: options.tls } : {}),
  } as object);

  // Bodies stay bytes: what was signed are the bytes that travelled.
  server.removeAllContentTypeParsers();
  server.addContentTypeParser('*', { parseAs: 'buffer' }, (_, body, done) => done(null, body));

  async function deviceOf(
    route: Route,
    request: FastifyRequest,
  ): Promise<{ device: Device; signer: Signer }> {
    if (route.rights === 'anyone') return { device: NOBODY, signer: NO_SIGNER };
    try {
      if (route.rights === 'enrolling') unknown.take(request.ip);
      const signer = await guard.signer(
        {
          method: request.method,
          path: request.raw.url ?? '',
          authorization: request.headers.authorization,
          body: bytesOf(request),
        },
        route.rights === 'enrolling',
      );
      if (route.rights === 'enrolling') return { device: NOBODY, signer };
      const device = await office.devices.byKey(signer.kid);
      if (!device) throw new OfficeError('key-unknown');
      (request as Named)[named] = device.name;
      if (device.revokedAt !== null) throw await shutOutOf(device);
      if (route.rights !== 'enrolled' && route.rights !== device.kind) throw new OfficeError('not-allowed');
      devices.take(device.kid);
      return { device, signer };
    } catch (error) {
      // Who is turned away too often is not looked at any more.
      const status = error instanceof OfficeError ? statusOf(error.code) : 500;
      if ((status === 401 || status === 403) && route.rights !== 'enrolling') unknown.take(request.ip);
      throw error;
    }
  }

  /** Signed, so that a bench believes it of its own office only. */
  async function shutOutOf({ kid, revokedAt, revokedWhy }: Device): Promise<OfficeError> {
    const said: ShutOut = { bench: kid, why: revokedWhy ?? '', at: toMoment(revokedAt ?? 0) };
    return new OfficeError('key-revoked', { jws: await signData(said, office.key) });
  }

  for (const route of routes) {
    server.route({
      method: route.method,
      url: `${API}${route.path.replaceAll(/\{(\w+)\}/g, ':$1')}`,
      // HEAD would answer what GET answers, without its rights having been thought of.
      exposeHeadRoute: false,
      schema: {
        ...(route.params ? { params: route.params } : {}),
        ...(route.query ? { querystring: route.query } : {}),
      },
      async handler(request, reply) {
        const { device, signer } = await deviceOf(route, request);
        const body = readBody(route, request);
        if (route.body === 'file') brought.take(device.kid, bytesOf(request).length);
        if (typeof route.body === 'object' && !request.validateInput(body, route.body)) {
          throw new OfficeError('bad-request', { what: 'the body has not the fields that belong there' });
        }
        const params = request.params as Record<string, string>;
        const query = request.query as Record<string, string>;
        const media = mediaOf(request);
        const answer = await route.run({ office, device, signer, params, query, body, media });
        if (!(answer instanceof Streamed)) return reply.type('application/json').send(JSON.stringify(answer));
        if (answer.name) reply.header('Content-Disposition', `attachment; filename="${answer.name}"`);
        return reply.type(answer.type).send(Readable.from(answer.parts, { objectMode: false }));
      },
    });
  }

  server.addHook('onSend', async (request, reply) => {
    reply.header('X-Content-Type-Options', 'nosniff').header('Referrer-Policy', 'no-referrer');
    if (request.url.startsWith(API)) reply.header('Cache-Control', 'no-store');
  });
  server.addHook('onResponse', async (request, reply) => {
    const { log } = options;
    if (!log || !request.url.startsWith(API)) return;
    const path = request.routeOptions.url ?? 'unknown address';
    const who = (request as Named)[named];
    log(
      `${request.method} ${path} ${reply.statusCode} ${reply.elapsedTime.toFixed(0)} ms${who ? ` ${tame(who)}` : ''}`,
    );
  });

  server.setErrorHandler((error, _, reply) => refuse(reply, asOffice(error), options.log));
  server.setNotFoundHandler((request, reply) => {
    const path = request.url.split('?')[0] ?? '';
    if (path === API || path.startsWith(`${API}/`)) return refuse(reply, notThere(path));
    if (!options.files) return refuse(reply, new OfficeError('no-such-path'));
    reply.hijack();
    options.files(request.raw, reply.raw, () => {
      reply.raw.statusCode = 404;
      reply.raw.end('There is no such page: open the address without a path.');
    });
    return reply;
  });
  return server;
}

const bytesOf = (request: FastifyRequest): Uint8Array =>
  request.body instanceof Uint8Array ? request.body : EMPTY;

const mediaOf = ({ headers }: FastifyRequest): string =>
  (headers['content-type'] ?? '').split(';')[0]?.trim().toLowerCase() ?? '';

function readBody(route: Route, request: FastifyRequest): unknown {
  if (route.body === undefined) return null;
  if (route.body === 'file') {
    // Photos and sound are packed already.
    if (request.headers['content-encoding'] !== undefined)
      throw new OfficeError('wrong-type', { what: 'a file is sent as it is' });
    return bytesOf(request);
  }
  if (mediaOf(request) !== (route.body === 'records' ? 'application/x-ndjson' : 'application/json'))
    throw new OfficeError('wrong-type');
  const text = unpacked(bytesOf(request), request.headers['content-encoding']);
  if (route.body === 'records') return text;
  try {
    return JSON.parse(text);
  } catch {
    throw new OfficeError('not-json');
  }
}

const utf8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });

function unpacked(bytes: Uint8Array, encoding: string | undefined): string {
  try {
    const plain = encoding === undefined ? bytes : unzipped(bytes, encoding);
    return utf8.decode(plain);
  } catch (error) {
    if (error instanceof OfficeError) throw error;
    throw new OfficeError('bad-request', { what: 'the body is not UTF-8' });
  }
}

function unzipped(bytes: Uint8Array, encoding: string): Uint8Array {
  if (encoding !== 'gzip') throw new OfficeError('wrong-type', { what: 'only gzip is taken' });
  try {
    // A small body that unpacks to more than any batch is an attack, not a batch.
    return gunzipSync(bytes, { maxOutputLength: MOST_BYTES });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ERR_BUFFER_TOO_LARGE') throw new OfficeError('too-large');
    throw new OfficeError('bad-request', { what: 'the body cannot be unpacked' });
  }
}

/** An address of the API that is none, or takes another method. */
function notThere(path: string): OfficeError {
  const pattern = (route: Route) =>
    new RegExp(`^${API}${route.path.replaceAll('.', '\\.').replaceAll(/\{\w+\}/g, '[^/]+')}$`);
  const other = routes.filter((route) => pattern(route).test(path)).map(({ method }) => method);
  return other.length > 0
    ? new OfficeError('wrong-method', { takes: other })
    : new OfficeError('no-such-path');
}

function asOffice(error: unknown): OfficeError {
  if (error instanceof OfficeError) return error;
  const {
    code = '',
    statusCode = 500,
    message = '',
  } = error as {
    code?: string;
    statusCode?: number;
    message?: string;
  };
  if (code === 'FST_ERR_CTP_BODY_TOO_LARGE') return new OfficeError('too-large');
  if (code === 'FST_ERR_VALIDATION') return new OfficeError('bad-request', { what: tame(message) });
  if (code === 'FST_ERR_CTP_INVALID_MEDIA_TYPE') return new OfficeError('wrong-type');
  if (statusCode >= 400 && statusCode < 500)
    return new OfficeError('bad-request', { what: tame(message) }, error);
  return databaseFault(error);
}

function refuse(reply: FastifyReply, error: OfficeError, log?: (line: string) => void): FastifyReply {
  const status = statusOf(error.code);
  const { seconds } = error.detail;
  if (typeof seconds === 'number') reply.header('Retry-After', String(seconds));
  else if (status === 503 || status === 507) reply.header('Retry-After', status === 507 ? '60' : '5');
  if (status >= 500 && log) {
    const { cause } = error;
    log(
      `fault ${error.code}: ${tame(cause instanceof Error ? `${cause.name}: ${cause.message}` : 'no more is known')}`,
    );
  }
  return reply
    .code(status)
    .type('application/json')
    .send(JSON.stringify({ code: error.code, says: error.message, ...error.detail }));
}
