import type { OfficeCode } from '../sync/fault.ts';
import type { Device } from './devices.ts';
import type { Signer } from './guard.ts';
import type { Office } from './office.ts';
import type { JSONSchemaType } from './schema.ts';

/** Who may ask: anybody; a key that is about to be enrolled; an enrolled bench; the supervisor's desk; either. */
export type Rights = 'anyone' | 'enrolling' | 'bench' | 'desk' | 'enrolled';

export interface Question {
  readonly office: Office;
  /** Only where the rights ask for one. */
  readonly device: Device;
  readonly signer: Signer;
  readonly params: Readonly<Record<string, string>>;
  readonly query: Readonly<Record<string, string | number | boolean | undefined>>;
  /** JSON that fits the route's schema, the text of record lines, or the bytes of a file. */
  readonly body: unknown;
  /** Media type of the body, small letters, without parameters. */
  readonly media: string;
}

/** An answer that is not one JSON value. */
export class Streamed {
  readonly type: string;
  readonly name: string | null;
  readonly parts: AsyncIterable<string | Uint8Array>;
  constructor(type: string, parts: AsyncIterable<string | Uint8Array>, name: string | null = null) {
    this.type = type;
    this.parts = parts;
    this.name = name;
  }
}

/** One question that the office answers. The server and the OpenAPI description are both made of these. */
export interface Route {
  readonly method: 'GET' | 'POST' | 'PUT';
  /** Below the API's address, parameters as `{job}`. */
  readonly path: string;
  readonly summary: string;
  readonly rights: Rights;
  readonly params?: JSONSchemaType;
  readonly query?: JSONSchemaType;
  /** `records`: JSON lines as in a record file; `file`: a part of a photo or voice note, as it is. */
  readonly body?: JSONSchemaType | 'records' | 'file';
  /** What a good answer is, in words, and its media type where that is not JSON. */
  readonly gives: { readonly says: string; readonly type?: string };
  /** Refusals that this question can meet, besides those that any can. */
  readonly refusals: readonly OfficeCode[];
  run(question: Question): Promise<unknown>;
}
