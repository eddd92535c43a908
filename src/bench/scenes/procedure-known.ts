import { procedures as own } from '../../../procedures/index.ts';
import type { Definition } from '../../procedure/definition.ts';
import { revisionHash } from '../../procedure/proof/certificate.ts';
import type { Desk } from '../desk.dom.ts';

/** A procedure that can be looked at on this bench. */
export interface KnownProcedure {
  readonly definition: Definition;
  readonly hash: string;
  /** Where it comes from, in words. */
  readonly from: string;
  /** New jobs begin with it; an earlier revision is only looked at. */
  readonly latest: boolean;
}

/** Every procedure of the app and every one that was loaded; what cannot be read is left out and does not hide the rest. */
export async function knownProcedures(desk: Desk): Promise<readonly KnownProcedure[]> {
  const all = [
    ...own.map((listed) => ({ listed, from: 'with the app' })),
    ...desk.published.kept.map((listed) => ({ listed, from: `by ${listed.author.name}` })),
  ];
  const read = await Promise.all(
    all.map(async ({ listed, from }) => {
      const definition = await listed.load().catch(() => null);
      return definition ? [{ definition, hash: revisionHash(definition), from }] : [];
    }),
  );
  const seen = new Set<string>();
  const known = read.flat().filter(({ hash }) => !seen.has(hash) && seen.add(hash));
  const ids = [...new Set(known.map(({ definition }) => definition.id))];
  const newest = (id: string) =>
    Math.max(
      ...known
        .filter(({ definition }) => definition.id === id)
        .map(({ definition }) => definition.meta.revision),
    );
  return known
    .map((one) => ({ ...one, latest: one.definition.meta.revision === newest(one.definition.id) }))
    .toSorted(
      (a, b) =>
        Number(b.latest) - Number(a.latest) || ids.indexOf(a.definition.id) - ids.indexOf(b.definition.id),
    );
}
