import { JournalError } from '../journal/fault.ts';
import type { FromVerifier, Looked, ToVerifier } from './verify-talk.ts';

const verifier = (): Worker => new Worker(new URL('./verify.worker.ts', import.meta.url), { type: 'module' });

export interface Apart {
  /**
   * Rejects with JournalError `not-verified` when the worker could not do it to its end, `verify-stopped` after `stop`.
   * What is wrong with the file is no fault: it is in what was found.
   */
  readonly looked: Promise<Looked>;
  stop(): void;
}

/**
 * Verifies a file in a worker of its own, so that the page goes on. `progress` is told how many records of a bundle are
 * done. The worker ends with the answer.
 */
export function verifyApart(
  wanted: ToVerifier<Blob>,
  progress: (done: number, all: number) => void,
  make: () => Worker = verifier,
): Apart {
  const worker = make();
  let stop: () => void = () => undefined;
  const looked = new Promise<Looked>((resolve, reject) => {
    const fail = (why: string) => reject(new JournalError('not-verified', why));
    worker.onmessage = ({ data }: MessageEvent<FromVerifier>) => {
      if (data.kind === 'progress') progress(data.done, data.all);
      else if (data.kind === 'looked') resolve(data.looked);
      else fail(data.why);
    };
    // A script that is not there, or an exception that nobody caught.
    worker.onerror = (event) => {
      event.preventDefault();
      fail(event.message ?? 'The worker did not start.');
    };
    worker.onmessageerror = () => fail('The answer could not be read.');
    stop = () => reject(new JournalError('verify-stopped'));
    worker.postMessage(wanted);
  });
  return { looked: looked.finally(() => worker.terminate()), stop: () => stop() };
}
