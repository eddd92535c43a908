import type { Revision } from '../procedure/publish/published.ts';
import { refusePublished, revisionOf } from '../procedure/publish/published.ts';
import type { PublishedProcedure } from './wire.ts';

/**
 * A procedure that the office sent, held against what its signed settings say of it and proved anew: nothing is believed
 * because it came by the office's line. The sentence says why it is not taken.
 */
export function weighSent(
  value: unknown,
  named: PublishedProcedure,
): { readonly revision: Revision } | { readonly refused: string } {
  const { revision, findings } = revisionOf(value);
  if (!revision) {
    const [first] = findings;
    const where = first?.station ?? 'the whole procedure';
    return { refused: refusePublished('unproved', { where, says: first?.says ?? '' }).sentence };
  }
  const { id, meta } = revision.definition;
  if (revision.hash !== named.hash || id !== named.id || meta.revision !== named.revision) {
    const what = 'it is not the one that the office signed for';
    return { refused: refusePublished('tampered', { what }).sentence };
  }
  return { revision };
}
