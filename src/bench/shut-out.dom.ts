import { jobFrom, Runner } from '../job/runner.ts';
import { writerFor } from '../job/writer.dom.ts';
import type { Desk } from './desk.dom.ts';
import { pauseFor } from './shut-out.ts';
import { workerOf } from './whereabouts.ts';

/**
 * Pauses every open job of people who were shut out, so that another person, or another bench, can go on with it. A job
 * that is on the screen of some window pauses itself there.
 */
export async function pauseShutOut(desk: Desk): Promise<void> {
  const { shutOut, office } = desk;
  if (!shutOut) return;
  for (const { job } of await desk.store.heads()) {
    // Whoever goes on with it elsewhere is written down there.
    if (office?.link?.isElsewhere(job)) continue;
    const writer = await writerFor(job);
    try {
      // A journal that cannot be read is shown on the shelf; here it stops nothing.
      const state = writer.writes ? await desk.store.read(job).then(jobFrom, () => null) : null;
      const pause = state && pauseFor(state, shutOut);
      if (!state || !pause) continue;
      const runner = new Runner(state, { store: desk.store, now: () => desk.now() });
      await runner.dispatch(pause, { by: workerOf(state), via: 'clock' });
    } finally {
      writer.release();
    }
  }
}
