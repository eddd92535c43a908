import type { Attachment } from '../procedure/events.ts';
import type { Confirmed, Included, KeptFile, LackingFile, MyHead, Offered, OfficeHead } from './wire.ts';

/** What a bench asks its office. Every call throws OfficeError for a refusal and another error when there is no answer. */
export interface OfficeCalls {
  heads(mine: readonly MyHead[]): Promise<{ jobs: readonly OfficeHead[]; settings: number }>;
  /** JSON lines of records `from` … */
  push(job: string, from: number, fence: number, lines: string): Promise<Confirmed>;
  /** JSON lines from record `from` on. */
  pull(job: string, from: number): Promise<string>;
  /** Which of these files are named by records there and not whole, and how many bytes of each are there. */
  lacking(files: readonly string[]): Promise<readonly LackingFile[]>;
  /** A part of a photo or voice note from byte `from` on. */
  putPart(file: Attachment, from: number, bytes: Uint8Array): Promise<KeptFile>;
  seal(job: string, seal: string): Promise<void>;
  offered(): Promise<readonly Offered[]>;
  take(job: string, fence: number): Promise<Confirmed>;
  settings(): Promise<{ version: number; jws: string | null }>;
  procedure(hash: string): Promise<unknown>;
  root(): Promise<string>;
  inclusion(job: string, size: number): Promise<Included>;
  consistency(from: number, size: number): Promise<readonly string[]>;
}
