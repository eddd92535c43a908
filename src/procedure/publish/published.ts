import { canonicalEqual } from '../canonical-equal.ts';
import type { Definition } from '../definition.ts';
import { type Certificate, certify, revisionHash } from '../proof/certificate.ts';
import type { Finding } from '../proof/finding.ts';
import { type CheckOptions, checkProcedure } from '../proof/findings.ts';
import { readDefinition } from '../proof/structure.ts';
import { record, text } from '../proof/wanted.ts';
import { stationOrder } from './order.ts';

/** A revision that is fit to be published: proved, with its hash and the certificate that goes with it. */
export interface Revision {
  readonly definition: Definition;
  /** Lower-case hex SHA-256 of the RFC 8785 form of the definition: what the first record of a job names. */
  readonly hash: string;
  readonly certificate: Certificate;
}

/** The content of a file NAME.procedure.json. */
export interface PublishedFile extends Revision {
  /** Compact JWS of the author over `PublishedSeal`. */
  readonly seal: string;
}

/** What the author's seal says. */
export interface PublishedSeal {
  readonly procedure: string;
  readonly revision: number;
  readonly hash: string;
  /** RFC 3339, UTC, milliseconds. */
  readonly publishedAt: string;
  /** Name of the author. */
  readonly publishedBy: string;
}

export const PUBLISHED_END = '.procedure.json';

/** `final-drive-r2.procedure.json` */
export const publishedName = ({ id, meta }: Definition): string => `${id}-r${meta.revision}${PUBLISHED_END}`;

/**
 * Why a file is not taken: a closed list of codes, each with one plain sentence that says what to do.
 */
const sentences = {
  'not-published': (d: Details) =>
    `This is no published procedure (${d.why}): choose a file whose name ends in ${PUBLISHED_END}.`,
  unsigned: () => 'Nobody has signed this procedure: ask its author to publish it.',
  'seal-broken': (d: Details) =>
    `The author's seal does not hold (${d.why}): ask the author for the file again.`,
  tampered: (d: Details) =>
    `The file was changed after it was published (${d.what}): ask the author for it again.`,
  unproved: (d: Details) => `The procedure cannot be proved: ${d.where}: ${d.says}`,
  'drawing-unknown': (d: Details) =>
    `This app has no drawing “${d.name}”, which the station “${d.where}” shows: bring the app up to date, or ask the author for a revision without it.`,
  'author-unknown': (d: Details) =>
    `The key of “${d.who}” is not enrolled on this bench: a supervisor has to enrol it first.`,
  'revision-taken': (d: Details) =>
    `Another ${d.id}, revision ${d.revision} is here already, and a published revision never changes: publish it as revision ${d.next}.`,
} satisfies Record<string, (details: Details) => string>;

type Details = Readonly<Record<string, string | number>>;

export type PublishCode = keyof typeof sentences;

export interface PublishRefusal {
  readonly code: PublishCode;
  readonly sentence: string;
}

export const refusePublished = (code: PublishCode, details: Details = {}): PublishRefusal => ({
  code,
  sentence: sentences[code](details),
});

/** The stations in the order of the job: what the certificate lists does not hang on the order of keys in a file. */
export function inOrder(definition: Definition): Definition {
  const order = [...stationOrder(definition), ...Object.keys(definition.states)];
  const names = [...new Set(order)];
  const by = <T>(table: Readonly<Record<string, T>>): Record<string, T> =>
    Object.fromEntries(Object.entries(table).toSorted(([a], [b]) => (a < b ? -1 : 1)));
  const { meta } = definition;
  return {
    ...definition,
    meta: { ...meta, facts: by(meta.facts), figures: by(meta.figures), tools: by(meta.tools) },
    states: Object.fromEntries(
      names.flatMap((name) => {
        const state = definition.states[name];
        return state ? [[name, state] as const] : [];
      }),
    ),
  };
}

export type Proved =
  | { readonly revision: Revision; readonly findings?: never }
  | { readonly revision?: never; readonly findings: readonly Finding[] };

/** Proves a definition and makes what is published of it. The same data give the same certificate, whatever the order of keys. */
export function revisionOf(value: unknown, options: CheckOptions = {}): Proved {
  const read = readDefinition(value);
  if ('findings' in read) return { findings: read.findings };
  const definition = inOrder(read.definition);
  const { findings, proof } = checkProcedure(definition, options);
  if (findings.length > 0 || !proof) return { findings };
  return {
    revision: { definition, hash: revisionHash(definition), certificate: certify(definition, proof) },
  };
}

const table = (value: unknown) =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
    ? null
    : { where: '', wanted: 'a table' };

const fileShape = record(
  { definition: table, hash: text, certificate: table },
  { seal: (value) => (typeof value === 'string' ? null : { where: 'seal', wanted: 'text' }) },
);

/** Unknown JSON as the content of a published file, before anything in it is believed. */
export function readPublishedFile(
  value: unknown,
): { readonly file: PublishedFile } | { readonly refused: PublishRefusal } {
  const misfit = fileShape(value, '');
  if (misfit) {
    const why = `${misfit.where || 'the file'} must be ${misfit.wanted}`;
    return { refused: refusePublished('not-published', { why }) };
  }
  const file = value as PublishedFile;
  if (!file.seal) return { refused: refusePublished('unsigned') };
  return { file };
}

export type Weighed =
  | { readonly revision: Revision; readonly refused?: never }
  | { readonly revision?: never; readonly refused: PublishRefusal };

/** The first station that shows a drawing which is not there; null when all are, or when it is not known which there are. */
function withoutDrawing({ states }: Definition, drawings: ReadonlySet<string> | undefined) {
  for (const [where, { meta }] of Object.entries(states)) {
    const name = meta?.drawing;
    if (drawings && name !== undefined && !drawings.has(name))
      return refusePublished('drawing-unknown', { name, where });
  }
  return null;
}

/**
 * Holds a file against what its author sealed, and proves it again: hash, identity, proof, whether the certificate in it
 * is the one that the proof gives, and last whether every drawing that it names is there.
 */
export function weighPublished(
  file: PublishedFile,
  sealed: PublishedSeal,
  { drawings, ...options }: CheckOptions = {},
): Weighed {
  const tampered = (what: string): Weighed => ({ refused: refusePublished('tampered', { what }) });
  if (revisionHash(file.definition) !== sealed.hash)
    return tampered('the procedure is not the one that was sealed');
  if (file.hash !== sealed.hash) return tampered('its hash is another than the sealed one');
  const { revision, findings } = revisionOf(file.definition, options);
  if (!revision) {
    const [first] = findings;
    const where = first?.station ?? 'the whole procedure';
    return { refused: refusePublished('unproved', { where, says: first?.says ?? '' }) };
  }
  const { id, meta } = revision.definition;
  if (id !== sealed.procedure || meta.revision !== sealed.revision) {
    return tampered('it is sealed as another procedure or revision');
  }
  if (!canonicalEqual(file.certificate, revision.certificate)) {
    return tampered('its certificate is not the one that its proof gives');
  }
  const lacking = withoutDrawing(revision.definition, drawings);
  return lacking ? { refused: lacking } : { revision };
}

/** A published revision never changes: the same id and revision with another hash is refused. */
export function takenBy(
  { definition, hash }: Revision,
  known: readonly { readonly id: string; readonly revision: number; readonly hash: string }[],
): PublishRefusal | null {
  const { id, meta } = definition;
  const mine = known.filter((one) => one.id === id);
  if (!mine.some((one) => one.revision === meta.revision && one.hash !== hash)) return null;
  const next = Math.max(meta.revision, ...mine.map((one) => one.revision)) + 1;
  return refusePublished('revision-taken', { id, revision: meta.revision, next });
}
