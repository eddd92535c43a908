import { shortCode } from '../job/story.ts';
import type { Definition } from '../procedure/definition.ts';
import type { Certificate } from '../procedure/proof/certificate.ts';
import type { Digest } from './digest.ts';
import { nameOf } from './digest.ts';
import type { StationHistory } from './history.ts';
import { escaped, type Markup, page } from './markup.ts';
import { certificatePart } from './report-certificate.ts';
import {
  attachmentsPart,
  figuresPart,
  holdsPart,
  partsPart,
  refusedPart,
  timesPart,
  toolsPart,
  troublesPart,
} from './report-parts.ts';
import { reportCss } from './report-style.ts';
import { rootCode, type SeenRoot } from './seal-log.ts';
import { momentInWords, outcomeInWords, spanInWords } from './words.ts';

/** What a report shows besides the record itself. */
export interface ReportWith {
  readonly workshop: string;
  /** When the report was made, RFC 3339. */
  readonly madeAt: string;
  readonly history: ReadonlyMap<string, StationHistory>;
  /** Where the seal stands in the log, from 1, and the root of the log; null for a job without a seal, or from elsewhere. */
  readonly log: (SeenRoot & { readonly place: number }) | null;
  /** Photos at hand: SHA-256 -> data URL. */
  readonly photos: ReadonlyMap<string, string>;
  /** Proves the procedure, for its certificate. */
  readonly certify: (definition: Definition) => CertificateOf;
}

/** The certificate of the procedure of a job, or why there is none. */
export type CertificateOf =
  | { readonly certificate: Certificate; readonly why?: never }
  | { readonly certificate?: never; readonly why: string };

/** A report ready to be shown, printed, or kept as a page of its own. */
export interface Report {
  readonly title: string;
  /** For a style sheet; every rule is about `.report` or the printed page. */
  readonly css: string;
  readonly body: string;
}

const head = (digest: Digest, { workshop, madeAt }: ReportWith): Markup => {
  const { definition, machine, outcome, times, people, job, records, app } = digest;
  return page`<header class="head">
    <div>
      <h1>Job report: ${definition.meta.title}</h1>
      <p><b>${machine.says}</b> (${machine.id}) · ${workshop}</p>
    </div>
    <p class="outcome ${outcome}">${outcomeInWords(outcome).toUpperCase()}</p>
  </header>
  <dl>
    <dt>Job</dt><dd>${job}</dd>
    <dt>Procedure</dt><dd>${definition.meta.title}, revision ${definition.meta.revision}. ${definition.meta.covers}</dd>
    <dt>Opened</dt><dd>${momentInWords(digest.openedAt)} by ${nameOf(digest, digest.openedBy)}</dd>
    <dt>Last record</dt><dd>${momentInWords(digest.lastAt)}, ${spanInWords(times.elapsed)} after the opening, of it ${spanInWords(times.paused)} paused</dd>
    <dt>People</dt><dd>${people.map(({ name, role }, at) => page`${at > 0 ? ', ' : ''}${name} (${role})`)}</dd>
    <dt>Records</dt><dd>${records.length}, kept by Holdfast ${app}; report made ${momentInWords(madeAt)}</dd>
  </dl>
  <p class="note">All times are UTC. This report repeats what the sealed record says and does not replace it, nor the service manual, local rules or a licensed inspection.</p>`;
};

const signaturesPart = ({ signatures }: Digest): Markup => page`<h2>Signatures in the record</h2>
  <table>
    <thead><tr><th scope="col">Printed name</th><th scope="col">Date and time</th><th scope="col">Meaning</th><th scope="col">Identified by</th><th scope="col">Record</th></tr></thead>
    <tbody>${signatures.map(
      ({ person, at, meaning, identified, seq }) => page`<tr>
        <th scope="row" class="who">${person.name}<br>${person.role} · ${person.id}</th>
        <td class="time">${momentInWords(at)}</td><td>${meaning}</td><td class="who">${identified.split(', ').map((part, at) => page`${at > 0 ? page`<br>` : null}${part}`)}</td>
        <td class="number">${seq ?? 'seal'}</td></tr>`,
    )}</tbody>
  </table>`;

function sealPart(digest: Digest, { log }: ReportWith): Markup {
  const { sealed, head, records } = digest;
  if (!sealed)
    return page`<h2>Seal</h2><p class="bad">This record is not sealed: ${digest.outcome === 'open' ? 'the job is open.' : 'seal it before it is relied on.'}</p>`;
  const { payload, kid } = sealed;
  return page`<div class="keep"><h2>Seal</h2>
  <dl>
    <dt>Check code</dt><dd class="code">${shortCode(head)}</dd>
    <dt>Closed by</dt><dd>${nameOf(digest, payload.sealedBy)}, ${momentInWords(payload.sealedAt)}</dd>
    <dt>Records</dt><dd>${records.length}; last hash <span class="hash">${head}</span></dd>
    <dt>Key</dt><dd class="hash">${kid}</dd>
    ${log ? page`<dt>Log of seals</dt><dd>seal ${log.place}; root <span class="code">${rootCode(log)}</span></dd>` : null}
  </dl></div>`;
}

const ROWS_BY_HAND = ['Reviewed', 'Approved'];

const byHandPart = (): Markup => page`<div class="keep"><h2>Signed on paper</h2>
  <table class="by-hand">
    <thead><tr><th scope="col">Meaning</th><th scope="col">Printed name</th><th scope="col">Date and time</th><th scope="col">Signature</th></tr></thead>
    <tbody>${ROWS_BY_HAND.map((meaning) => page`<tr><th scope="row">${meaning}</th><td></td><td></td><td></td></tr>`)}</tbody>
  </table></div>`;

/** The report of a job. Pure: the same record and surroundings give the same page. */
export function reportOf(digest: Digest, around: ReportWith): Report {
  const { machine, definition, openedAt } = digest;
  const title = `Job report ${machine.id} ${openedAt.slice(0, 10)} ${definition.meta.title}`;
  const foot = `Job ${digest.job} · ${machine.id} · code ${shortCode(digest.head)}`;
  const body = page`<article class="report">
    ${head(digest, around)}
    ${holdsPart(digest)}
    ${figuresPart(digest)}
    ${troublesPart(digest)}
    ${toolsPart(digest)}
    ${partsPart(digest)}
    ${refusedPart(digest)}
    ${attachmentsPart(digest, around.photos)}
    ${timesPart(digest, around.history)}
    ${certificatePart(digest, around.certify(definition))}
    ${signaturesPart(digest)}
    ${sealPart(digest, around)}
    ${byHandPart()}
  </article>`;
  return { title, css: reportCss(foot), body: body.html };
}

/** A report as a page of its own, which loads nothing and runs nothing. */
export const reportPage = ({ title, css, body }: Report): string =>
  [
    '<!doctype html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escaped(title)}</title>`,
    `<style>body { margin: 6mm; background: #fff; } @media print { body { margin: 0; } }${css}</style>`,
    '</head>',
    `<body>${body}</body>`,
    '</html>',
    '',
  ].join('\n');
