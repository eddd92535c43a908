import { hashOf } from '../journal/hash.ts';
import { proofOf } from '../journal/proved.ts';
import type { Definition } from '../procedure/definition.ts';
import { certify } from '../procedure/proof/certificate.ts';
import { prove } from '../procedure/proof/prove.ts';
import type { CertificateOf } from './report.ts';

/** Proves procedures and remembers what came of it: the jobs of a book share a few. */
export function certificates(): (definition: Definition) => CertificateOf {
  const known = new Map<string, CertificateOf>();
  return (definition) => {
    const hash = hashOf(definition);
    const kept = known.get(hash);
    if (kept) return kept;
    const [found] = proofOf(definition);
    const made: CertificateOf = found
      ? { why: found.says }
      : { certificate: certify(definition, prove(definition)) };
    known.set(hash, made);
    return made;
  };
}
