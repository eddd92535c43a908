import type { JSONWebKeySet } from 'jose';
import type { Report } from '../journal/verify.ts';
import type { BundleReport } from './verify-bundle.ts';

/** What was found in a file that was brought along. */
export type Looked =
  | { readonly kind: 'record'; readonly report: Report }
  | { readonly kind: 'bundle'; readonly report: BundleReport };

/** To the worker that verifies: one file, and the public keys that count. */
export interface ToVerifier<File> {
  readonly file: File;
  readonly keys: JSONWebKeySet;
}

/** From the worker: how many records of how many are done, and at the end what was found. */
export type FromVerifier =
  | { readonly kind: 'progress'; readonly done: number; readonly all: number }
  | { readonly kind: 'looked'; readonly looked: Looked }
  /** It could not be done to its end; `why` is for the person who looks into it. */
  | { readonly kind: 'failed'; readonly why: string };
