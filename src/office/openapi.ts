import { OFFICE_CODES, type OfficeCode, sentenceOf, statusOf } from '../sync/fault.ts';
import { API, FILE_MEDIA, FILE_PART, MOST_RECORDS } from '../sync/wire.ts';
import type { Route } from './route.ts';

const ANY: readonly OfficeCode[] = ['bad-request', 'too-large', 'office-fault', 'database-away'];
const SIGNED: readonly OfficeCode[] = [
  ...(['not-signed', 'signature-wrong', 'clock-off', 'used-twice', 'other-office', 'too-many'] as const),
];
const ENROLLED: readonly OfficeCode[] = ['key-unknown', 'key-revoked', 'not-allowed'];

/** Every refusal that a question can meet. */
export function refusalsOf({ rights, refusals, body }: Route): OfficeCode[] {
  const signed = rights === 'anyone' ? [] : SIGNED;
  const enrolled = rights === 'anyone' || rights === 'enrolling' ? [] : ENROLLED;
  const withBody: OfficeCode[] =
    body === undefined ? [] : body === 'file' ? ['wrong-type'] : ['not-json', 'wrong-type'];
  const writing: OfficeCode[] = body === undefined ? [] : ['storage-full'];
  return [...new Set([...ANY, ...signed, ...enrolled, ...withBody, ...writing, ...refusals])];
}

function answersOf(route: Route) {
  const byStatus = new Map<number, OfficeCode[]>();
  for (const code of refusalsOf(route)) {
    const status = statusOf(code);
    byStatus.set(status, [...(byStatus.get(status) ?? []), code]);
  }
  const refusals = [...byStatus].map(([status, codes]) => [
    String(status),
    {
      description: codes.map((code) => `${code}: ${sentenceOf(code)}`).join(' '),
      content: { 'application/json': { schema: { $ref: '#/components/schemas/Refusal' } } },
    },
  ]);
  const { says, type = 'application/json' } = route.gives;
  const good = { description: says, content: { [type]: {} } };
  return { '200': good, ...Object.fromEntries(refusals) };
}

function parametersOf({ params, query }: Route) {
  const list = (place: 'path' | 'query', schema: Route['params']) =>
    schema?.type === 'object'
      ? Object.entries(schema.properties).map(([name, one]) => ({
          name,
          in: place,
          required: place === 'path' || (schema.required ?? []).includes(name),
          schema: one,
        }))
      : [];
  return [...list('path', params), ...list('query', query)];
}

function bodyOf({ body }: Route) {
  if (body === undefined) return {};
  if (body === 'file') {
    const schema = { type: 'string', format: 'binary', maxLength: FILE_PART };
    const description = `${FILE_PART} bytes of the file, fewer only in its last part; not compressed.`;
    const content = Object.fromEntries(FILE_MEDIA.map((media) => [media, { schema }]));
    return { requestBody: { required: true, description, content } };
  }
  const content =
    body === 'records'
      ? {
          'application/x-ndjson': {
            schema: { type: 'string', description: `At most ${MOST_RECORDS} lines.` },
          },
        }
      : { 'application/json': { schema: body } };
  return {
    requestBody: { required: true, description: 'May be compressed (Content-Encoding: gzip).', content },
  };
}

/** The description of the office in OpenAPI 3.1, made of the very routes that the server answers. */
export function openApi(routes: readonly Route[]) {
  const paths: Record<string, Record<string, unknown>> = {};
  for (const route of routes) {
    const path = `${API}${route.path}`;
    paths[path] = {
      ...paths[path],
      [route.method.toLowerCase()]: {
        operationId: `${route.method.toLowerCase()}${route.path.replaceAll(/[^0-9A-Za-z]+(\w?)/g, (_, next: string) => next.toUpperCase())}`,
        summary: route.summary,
        description: `For: ${route.rights}.`,
        parameters: parametersOf(route),
        ...bodyOf(route),
        responses: answersOf(route),
        security: route.rights === 'anyone' ? [] : [{ signed: [] }],
      },
    };
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'Holdfast office',
      version: '1',
      description:
        'Where the benches of a workshop bring their records together. Every request but the public ones is signed by the device’s ES256 key.',
    },
    paths,
    components: {
      securitySchemes: {
        signed: {
          type: 'apiKey',
          in: 'header',
          name: 'Authorization',
          description:
            '"Holdfast" and a compact JWS (RFC 7515, ES256; header alg, jwk, kid) over the RFC 8785 form of {at, body, method, nonce, office, path}: time, SHA-256 of the body as sent, a nonce, thumbprint of the office’s key, address with query.',
        },
      },
      schemas: {
        Refusal: {
          type: 'object',
          required: ['code', 'says'],
          properties: { code: { type: 'string', enum: OFFICE_CODES }, says: { type: 'string' } },
        },
      },
    },
  };
}
