import { bytesToHex } from '@noble/hashes/utils.js';
import { base64url } from 'jose';
import type { CheckOptions } from '../procedure/proof/findings.ts';
import { record } from '../procedure/proof/wanted.ts';
import type {
  PublishedFile,
  PublishedSeal,
  PublishRefusal,
  Revision,
} from '../procedure/publish/published.ts';
import { readPublishedFile, refusePublished, weighPublished } from '../procedure/publish/published.ts';
import { canonicalText } from './canonical.ts';
import { JournalError } from './fault.ts';
import { toMoment } from './moment.ts';
import type { SigningKey } from './seal.ts';
import { openData, signData } from './seal.ts';
import { HEX_64, matches, moment, plain, whole } from './shape.ts';

const sealShape = record({
  procedure: plain,
  revision: whole,
  hash: matches(HEX_64, '64 hex digits'),
  publishedAt: moment,
  publishedBy: plain,
});

/** Seals a proved revision: `at` in ms since 1970. Returns the file's text, RFC 8785, so that it has one spelling only. */
export async function publish(revision: Revision, by: string, at: number, key: SigningKey): Promise<string> {
  const { definition, hash } = revision;
  const payload: PublishedSeal = {
    procedure: definition.id,
    revision: definition.meta.revision,
    hash,
    publishedAt: toMoment(at),
    publishedBy: by,
  };
  const file: PublishedFile = { ...revision, seal: await signData(payload, key) };
  return `${canonicalText(file)}\n`;
}

/** The author of a published file, as the seal shows them: a name that counts for nothing, and a key that does. */
export interface Author {
  readonly name: string;
  /** RFC 7638 thumbprint. */
  readonly kid: string;
}

export type Loaded =
  | {
      readonly revision: Revision;
      readonly author: Author;
      readonly publishedAt: string;
      readonly refused?: never;
    }
  /** `author` where the seal itself holds, so that their key could be enrolled. */
  | { readonly revision?: never; readonly refused: PublishRefusal; readonly author: Author | null };

/** Files of more bytes than this are not looked at: the longest procedure that is allowed needs about a fifth. */
export const MOST_BYTES = 16_000_000;

/**
 * Reads a published file from outside: its form, its seal, whether it is what was sealed, its proof, and last whether
 * its author's key (by thumbprint) is enrolled. Never throws for a bad file.
 */
export async function loadPublished(
  content: string,
  enrolled: ReadonlySet<string>,
  options: CheckOptions = {},
): Promise<Loaded> {
  const refused = (refusal: PublishRefusal): Loaded => ({ refused: refusal, author: null });
  const unreadable = (why: string) => refused(refusePublished('not-published', { why }));
  if (content.length > MOST_BYTES) return unreadable('it is too long');
  let value: unknown;
  try {
    value = JSON.parse(content);
    // Depth and signs that the rest must not meet: the same rules as for a record.
    canonicalText(value);
  } catch (error) {
    return unreadable(error instanceof JournalError ? (error.detail ?? error.message) : 'it is not JSON');
  }
  const read = readPublishedFile(value);
  if ('refused' in read) return refused(read.refused);
  const opening = await openData<PublishedSeal>(read.file.seal, sealShape);
  if (!opening.opened) return refused(refusePublished('seal-broken', { why: opening.says }));
  const { payload, kid } = opening.opened;
  const weighed = weighPublished(read.file, payload, options);
  if (weighed.refused) return refused(weighed.refused);
  const author: Author = { name: payload.publishedBy, kid };
  if (!enrolled.has(kid)) {
    return { refused: refusePublished('author-unknown', { who: author.name }), author };
  }
  return { revision: weighed.revision, author, publishedAt: payload.publishedAt };
}

/** First 80 bits of a key's thumbprint in groups of four hex digits: what author and supervisor hold against each other. */
export function keyCode(kid: string): string {
  const hex = bytesToHex(base64url.decode(kid));
  return (hex.slice(0, 20).match(/.{4}/g) ?? []).join(' ');
}
