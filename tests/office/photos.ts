import { createHash } from 'node:crypto';
import type { JournalRecord } from '../../src/journal/record.ts';
import type { Attachment } from '../../src/procedure/events.ts';
import { play } from '../journal/play.ts';
import { drawFrom } from '../journal/random-jobs.ts';

/** Bytes that cannot be packed any smaller, as a photo's: the same seed gives the same. */
export function noise(seed: number, length: number): Uint8Array<ArrayBuffer> {
  const draw = drawFrom(seed);
  return Uint8Array.from({ length }, () => draw(256));
}

export interface Photo extends Attachment {
  readonly content: Uint8Array<ArrayBuffer>;
  readonly blob: Blob;
}

export function photoOf(content: Uint8Array<ArrayBuffer>, media = 'image/jpeg'): Photo {
  const sha256 = createHash('sha256').update(content).digest('hex');
  const blob = new Blob([content], { type: media });
  return {
    kind: media.startsWith('audio') ? 'voice' : 'photo',
    sha256,
    bytes: content.length,
    media,
    content,
    blob,
  };
}

/** A job in which something is wrong, with photos of it; open, or stopped. */
export function jobWith(job: string, photos: readonly Photo[], stopped = false): JournalRecord[] {
  const attached = photos.map(({ kind, sha256, bytes, media }) => ({
    type: 'attach' as const,
    kind,
    sha256,
    bytes,
    media,
  }));
  const end = stopped ? [{ type: 'stop' as const, says: 'Sent to the machinist.' }] : [];
  return play([{ type: 'trouble', says: 'The thread is damaged.' }, ...attached, ...end], { job });
}
