import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import canonicalize from 'canonicalize';
import type { Definition } from '../definition.ts';
import type { Facts } from '../facts.ts';
import { agreeing } from './assigned.ts';
import { shortestPath } from './digraph.ts';
import { flowOf, successors } from './flow.ts';
import { graphOf, openUnder } from './graph.ts';
import { satisfiesPartly } from './partly.ts';
import type { Proof } from './prove.ts';
import { stationNames } from './rebuild.ts';

/**
 * What was proved of a hold point under one combination of facts. `must`: it applies (or does for some value of a
 * fact that the row leaves open), and the job cannot be finished without passing it. `anyway`: it does not apply, and yet every way leads through it. `free`: it does not apply and
 * can be left out.
 */
export type Cell = 'must' | 'anyway' | 'free';

export interface CertificateRow {
  /** Facts that matter; one that is not named can have any of its values. */
  readonly facts: Facts;
  /** In the order of the certificate's hold points. */
  readonly cells: readonly Cell[];
  /** A shortest way from the start to `complete` under these facts: it goes through every hold point that must be passed. */
  readonly path: readonly string[];
}

/** Shows for each combination of facts which hold points every finished job has passed. Plain JSON. */
export interface Certificate {
  readonly procedure: string;
  readonly title: string;
  readonly revision: number;
  /** Lower-case hex SHA-256 of the RFC 8785 form of the definition. */
  readonly hash: string;
  readonly stations: number;
  readonly holds: readonly string[];
  /** Hold points that a supervisor may open by a recorded concession instead of their evidence. */
  readonly concessions: readonly string[];
  /** Combinations gone through, added up over the sections of the procedure. */
  readonly combinations: number;
  readonly rows: readonly CertificateRow[];
  /** There are more rows than are worth printing: every one is proved, the first ones are shown. */
  readonly shortened: boolean;
}

/** Rows of a certificate, at most. */
export const ROW_LIMIT = 512;

/** How a revision is known: the hash that its jobs carry. */
export const revisionHash = (definition: Definition): string =>
  bytesToHex(sha256(utf8ToBytes(canonicalize(definition) ?? '')));

/** The certificate of a procedure that has no findings. The same definition always gives the same certificate. */
export function certify(definition: Definition, proof: Proof): Certificate {
  const holds = stationNames(definition).filter((name) => definition.states[name]?.meta?.kind === 'hold');
  const all = rowsOf(proof);
  const whole = flowOf(graphOf(definition));
  const rows = all.slice(0, ROW_LIMIT).map(({ facts, dominating }): CertificateRow => {
    const graph = successors(whole, ({ edge }) => edge === null || openUnder(edge, facts));
    const path = shortestPath(graph, whole.entry, whole.goal) ?? [];
    const names = path.map((node) => whole.names[node] ?? '');
    const cells = holds.map((hold) => cellOf(definition, hold, facts, dominating));
    return { facts, cells, path: names.filter((name, at) => name !== names[at - 1]) };
  });
  return {
    procedure: definition.id,
    title: definition.meta.title,
    revision: definition.meta.revision,
    hash: revisionHash(definition),
    stations: stationNames(definition).length,
    holds,
    concessions: holds.filter((name) => {
      const meta = definition.states[name]?.meta;
      return meta?.kind === 'hold' && meta.concession === true;
    }),
    combinations: proof.combinations,
    rows,
    shortened: all.length > ROW_LIMIT,
  };
}

function cellOf(definition: Definition, hold: string, facts: Facts, dominating: ReadonlySet<string>): Cell {
  const meta = definition.states[hold]?.meta;
  const applies = meta?.kind === 'hold' ? satisfiesPartly(meta.applies, facts, definition.meta.facts) : true;
  if (!dominating.has(hold)) return 'free';
  return applies === false ? 'anyway' : 'must';
}

interface Row {
  readonly facts: Facts;
  readonly dominating: ReadonlySet<string>;
}

/** The combinations of all sections put together where they agree, up to one more than the limit. */
function rowsOf({ sections }: Proof): Row[] {
  let rows: Row[] = [{ facts: {}, dominating: new Set() }];
  for (const { leaves } of sections) {
    rows = rows
      .flatMap((row) =>
        leaves.flatMap((leaf): Row[] => {
          const facts = agreeing(row.facts, leaf.facts);
          if (!facts) return [];
          const own = leaf.holds.filter(({ dominates }) => dominates).map(({ hold }) => hold);
          return [{ facts, dominating: new Set([...row.dominating, ...own]) }];
        }),
      )
      .slice(0, ROW_LIMIT + 1);
  }
  return rows;
}

/** A table of fixed width, for a printer or a terminal. */
export function certificateText(certificate: Certificate): string {
  const { title, procedure, revision, hash, stations, holds, concessions, combinations, rows, shortened } =
    certificate;
  const facts = [...new Set(rows.flatMap((row) => Object.keys(row.facts)))];
  const marks = { must: '●', anyway: '○', free: '·' } as const;
  const said = (value: unknown) => (value === true ? 'yes' : value === false ? 'no' : String(value ?? 'any'));
  const head = [...facts, ...holds.map((_, at) => String(at + 1)), 'stations'];
  const body = rows.map((row) => [
    ...facts.map((fact) => said(row.facts[fact])),
    ...row.cells.map((cell) => marks[cell]),
    String(row.path.length - 1),
  ]);
  const widths = head.map((name, column) =>
    Math.max(...[head, ...body].map((line) => [...(line[column] ?? name)].length)),
  );
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd();
  return [
    `Certificate of hold points: ${title} (${procedure}, revision ${revision})`,
    `SHA-256 ${hash}`,
    `${stations} stations, ${holds.length} hold points, ${combinations} combinations of facts proved`,
    '',
    ...holds.map((hold, at) => {
      const conceded = concessions.includes(hold) ? ' (or a concession by a supervisor)' : '';
      return `${String(at + 1).padStart(3)}  ${hold}${conceded}`;
    }),
    '',
    '●  must be passed: with its pass taken out there is no way to complete',
    '○  does not apply, but every way leads through it     ·  does not apply',
    'stations: length of a shortest way through, which passes every ● and ○',
    '',
    line(head),
    ...body.map(line),
    ...(shortened ? [`(the first ${rows.length} rows of more; all are proved)`] : []),
  ].join('\n');
}
