import type { Workshop } from '../job/workshop.ts';
import type { Confirmed, Included, MyHead, Offered, OfficeHead } from './wire.ts';

/** What a bench asks its office. Every call throws OfficeError for a refusal and another error when there is no answer. */
export interface OfficeCalls {
  heads(mine: readonly MyHead[]): Promise<{ jobs: readonly OfficeHead[]; settings: number }>;
  /** JSON lines of records `from` … */
  push(job: string, from: number, fence: number, lines: string): Promise<Confirmed>;
  /** JSON lines from record `from` on. */
  pull(job: string, from: number): Promise<string>;
  seal(job: string, seal: string): Promise<void>;
  offered(): Promise<readonly Offered[]>;
  take(job: string, fence: number): Promise<Confirmed>;
  settings(): Promise<{ version: number; jws: string | null }>;
  procedure(hash: string): Promise<unknown>;
  root(): Promise<string>;
  inclusion(job: string, size: number): Promise<Included>;
  consistency(from: number, size: number): Promise<readonly string[]>;
}

/** Where a bench keeps what came down. */
export interface TakesSettings {
  keepWorkshop(workshop: Workshop): Promise<void>;
}
