/** The right to write to one job: only one window has it at a time. */
export interface Writer {
  readonly writes: boolean;
  /** Called when another window took the right over. */
  onLost: () => void;
  release(): void;
}

const nameOf = (job: string) => `holdfast-job-${job}`;

/**
 * Asks for the right to write to a job. `steal` takes it from a window that has it: for a window that froze. (Two
 * windows that both believed to have it would still not both write: the store compares heads.)
 */
export async function writerFor(job: string, steal = false): Promise<Writer> {
  let release: () => void = () => undefined;
  const writer = { writes: false, onLost: () => undefined, release: () => release() };
  await new Promise<void>((settled) => {
    const options = steal ? { steal: true } : { ifAvailable: true };
    navigator.locks
      .request(nameOf(job), options, (lock) => {
        writer.writes = lock !== null;
        settled();
        return lock === null ? undefined : new Promise<void>((done) => (release = done));
      })
      .catch(() => {
        // The lock was stolen while we held it.
        writer.writes = false;
        writer.onLost();
      })
      .finally(() => settled());
  });
  return writer;
}

/** Tells other windows that a job was written to, and hears it from them. */
export function jobNews(heard: (job: string) => void): { tell(job: string): void; close(): void } {
  const channel = new BroadcastChannel('holdfast-news');
  channel.onmessage = (message: MessageEvent<unknown>) => {
    if (typeof message.data === 'string') heard(message.data);
  };
  return { tell: (job) => channel.postMessage(job), close: () => channel.close() };
}
