import { takenBy } from '../procedure/publish/published.ts';
import type { TakesProcedures } from '../sync/round.ts';
import type { Desk } from './desk.dom.ts';
import { knownProcedures } from './scenes/procedure-known.ts';

/**
 * Puts what the office published beside what was loaded from files: it is offered for new jobs, and a job that is open
 * carries its own revision. The same id and revision with other content is refused, from the office as from a file.
 */
export const officeShelf = (desk: Desk): TakesProcedures => ({
  async has({ hash }) {
    await desk.published.look();
    return desk.published.kept.some((one) => one.hash === hash);
  },
  async keep(revision, author, publishedAt) {
    const known = await knownProcedures(desk);
    const taken = takenBy(
      revision,
      known.map(({ definition: { id, meta }, hash }) => ({ id, revision: meta.revision, hash })),
    );
    if (taken) return taken.sentence;
    await desk.published.keep(revision, author, publishedAt);
    return null;
  },
});
