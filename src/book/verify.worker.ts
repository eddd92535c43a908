import { proofOf } from '../journal/proved.ts';
import { verifyFile } from '../journal/verify.ts';
import { isZip } from './unpack.ts';
import { verifyBundle } from './verify-bundle.ts';
import type { FromVerifier, Looked, ToVerifier } from './verify-talk.ts';

/*
 * Verifies one file away from the page: a bundle of a year is many seconds of hashing and replaying, during which the
 * page must go on being drawn and hear its keys.
 */

/** News at most so often, ms: a line that is read aloud must not chatter. */
const NEWS_MS = 400;

const tell = (news: FromVerifier) => postMessage(news);

async function look({ file, keys }: ToVerifier<Blob>): Promise<Looked> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const options = { keys, prove: proofOf };
  if (!isZip(bytes)) return { kind: 'record', report: await verifyFile(bytes, options) };
  let said = 0;
  const progress = (done: number, all: number) => {
    if (done > 0 && performance.now() - said < NEWS_MS) return;
    said = performance.now();
    tell({ kind: 'progress', done, all });
  };
  return { kind: 'bundle', report: await verifyBundle(bytes, options, progress) };
}

addEventListener('message', ({ data }: MessageEvent<ToVerifier<Blob>>) => {
  look(data).then(
    (looked) => tell({ kind: 'looked', looked }),
    (error: unknown) => tell({ kind: 'failed', why: String(error) }),
  );
});
