import type { Listed } from '../../procedures/index.ts';

/**
 * What a job may begin with: of each procedure the latest revision, in the order of those that come with the app, and
 * then what was loaded besides. A job that began with an earlier revision goes on with it: it carries its own.
 */
export function offered(own: readonly Listed[], kept: readonly Listed[]): readonly Listed[] {
  const ids = [...new Set([...own, ...kept].map(({ id }) => id))];
  return ids.flatMap((id) => {
    // Of the same revision here and there it is the same data; the app's own goes first.
    const [latest] = [...own, ...kept]
      .filter((one) => one.id === id)
      .toSorted((a, b) => b.revision - a.revision);
    return latest ? [latest] : [];
  });
}
