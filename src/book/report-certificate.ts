import type { Certificate, CertificateRow } from '../procedure/proof/certificate.ts';
import type { Digest } from './digest.ts';
import { sayOf } from './digest.ts';
import { type Markup, page } from './markup.ts';
import type { CertificateOf } from './report.ts';
import { factInWords } from './words.ts';

/** The rows of the certificate that these facts fall under: one, where all facts that matter are known. */
export const rowsFor = (
  { rows }: Certificate,
  facts: Readonly<Record<string, string | boolean>>,
): CertificateRow[] =>
  rows.filter((row) =>
    Object.entries(row.facts).every(([fact, value]) => facts[fact] === undefined || facts[fact] === value),
  );

const CELLS = {
  must: 'must be passed',
  anyway: 'does not apply, passed on every way',
  free: 'does not apply',
} as const;

/** What was proved of the procedure, for the facts of this job. */
export function certificatePart(digest: Digest, { certificate, why }: CertificateOf): Markup {
  if (!certificate)
    return page`<h2>Certificate of the procedure</h2><p class="bad">There is none: ${why}</p>`;
  const { revision, hash, stations, holds, combinations } = certificate;
  const mine = rowsFor(certificate, digest.facts);
  const same = hash === digest.procedureHash;
  const [row] = mine;
  const facts = row ? Object.entries(row.facts) : [];
  return page`<h2>Certificate of the procedure</h2>
  <p>Proved for ${combinations} combinations of facts: a job cannot be finished without each hold point that applies.
    ${stations} stations, ${holds.length} hold points, revision ${revision}.
    ${same ? null : page`<b class="bad">This is not the procedure of the record.</b>`}
    SHA-256 <span class="hash">${hash}</span></p>
  ${
    row && mine.length === 1
      ? page`<p>Under the facts of this job${facts.map(([fact, value], at) => page`${at === 0 ? ' (' : ', '}${digest.definition.meta.facts[fact]?.says ?? fact}: ${factInWords(value)}`)}${facts.length > 0 ? ')' : ''}:</p>
      <table><tbody>${holds.map(
        (hold, at) =>
          page`<tr><th scope="row">${sayOf(digest, hold)}</th><td>${CELLS[row.cells[at] ?? 'free']}</td></tr>`,
      )}</tbody></table>`
      : page`<p>${mine.length} rows of the certificate agree with the facts of this job; they stand in the certificate itself.</p>`
  }`;
}
