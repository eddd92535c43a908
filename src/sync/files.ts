import { sha256Hex } from '../journal/hash.ts';
import type { JournalRecord } from '../journal/record.ts';
import type { Attachment } from '../procedure/events.ts';
import { OfficeError } from './fault.ts';
import type { OfficeCalls } from './office-calls.ts';
import { FILE_PART } from './wire.ts';

/** The photos and voice notes that these records name, each once. */
export function namedIn(records: readonly JournalRecord[]): Attachment[] {
  const named = new Map<string, Attachment>();
  for (const { event, outcome } of records)
    if (event.type === 'attach' && outcome === 'accepted') named.set(event.sha256, event);
  return [...named.values()];
}

/** Where a bench keeps photos and voice notes: by the SHA-256 of their bytes, lower-case hex. */
export interface ReadsFiles {
  read(sha256: string): Promise<{ arrayBuffer(): Promise<ArrayBuffer> } | undefined>;
}

/**
 * What came of bringing one file: `missing`: it is not on this bench; `altered`: what is here is not what the record names;
 * `refused`: the office will not have it; `later`: the office does not know the record yet.
 */
export type Brought = 'whole' | 'missing' | 'altered' | 'refused' | 'later';

/** A cut line goes on where it was: a file needs no more turns than it has parts, and a few for parts that came twice. */
const MORE_TURNS = 4;

/**
 * Brings a file part after part, from byte `have` on. What the office confirmed is not sent again. Throws when the office
 * is away or wants it later.
 */
export async function bringFile(
  { calls, files }: { readonly calls: Pick<OfficeCalls, 'putPart'>; readonly files: ReadsFiles },
  named: Attachment,
  have: number,
): Promise<Brought> {
  const blob = await files.read(named.sha256);
  if (!blob) return 'missing';
  const bytes = new Uint8Array(await blob.arrayBuffer());
  if (bytes.length !== named.bytes || sha256Hex(bytes) !== named.sha256) return 'altered';
  let from = have;
  for (let turns = Math.ceil(bytes.length / FILE_PART) + MORE_TURNS; turns > 0; turns--) {
    try {
      const kept = await calls.putPart(named, from, bytes.subarray(from, from + FILE_PART));
      if (kept.whole) return 'whole';
      from = kept.have;
    } catch (error) {
      if (!(error instanceof OfficeError)) throw error;
      switch (error.code) {
        case 'file-gap':
          from = Number(error.detail.have ?? 0);
          break;
        case 'file-differs':
          // Somebody else brought parts of something else; what is here stood its hash just now.
          from = 0;
          break;
        case 'file-not-named':
          return 'later';
        case 'file-kind':
        case 'too-large':
          return 'refused';
        default:
          throw error;
      }
    }
  }
  return 'refused';
}
