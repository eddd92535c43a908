import { readdir, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { keyCode, publish } from '../journal/published.ts';
import type { Definition } from '../procedure/definition.ts';
import { revisionHash } from '../procedure/proof/certificate.ts';
import { checkProcedure } from '../procedure/proof/findings.ts';
import { differences, GROUPS } from '../procedure/publish/diff.ts';
import { PUBLISHED_END, publishedName, revisionOf, takenBy } from '../procedure/publish/published.ts';
import { toScxml } from '../procedure/publish/scxml.ts';
import { makeKeyFile, readKeyFile } from './key-file.ts';
import { loadProcedure, Unreadable } from './load-procedure.ts';

/*
 * npm run publish -- FILE --key KEY.jwk [--by NAME] [--to FOLDER] [--scxml]
 * npm run publish -- --new-key KEY.jwk --by NAME
 * Proves a procedure, seals it with its author's key and writes ID-rREVISION.procedure.json. A revision that was
 * published before (in FOLDER, or with the app) is never changed. Exit 1 when it is refused, 2 when a file cannot be read.
 */

const usage = `usage: npm run publish -- FILE --key KEY.jwk [--by NAME] [--to FOLDER] [--scxml]
       npm run publish -- --new-key KEY.jwk --by NAME`;
const root = fileURLToPath(new URL('../..', import.meta.url));

const say = (line: string) => process.stdout.write(`${line.replace(/[^\P{C}\n]/gu, '?')}\n`);
const complain = (line: string) => process.stderr.write(`${line.replace(/[^\P{C}\n]/gu, '?')}\n`);

const filesIn = (folder: string): Promise<readonly string[]> => readdir(folder).catch(() => []);

interface Known {
  readonly from: string;
  readonly definition: Definition;
}

/** Revisions that are out already: those in the folder written to, and those that come with the app. */
async function knownRevisions(folder: string, besides: string): Promise<Known[]> {
  const published = (await filesIn(folder)).filter((name) => name.endsWith(PUBLISHED_END));
  const own = await filesIn(join(root, 'procedures'));
  const files = [
    ...published.map((name) => join(folder, name)),
    ...own.filter((name) => !name.includes('.')).map((name) => join(root, 'procedures', name, 'index.ts')),
  ].filter((file) => resolve(file) !== resolve(besides));
  const all = await Promise.all(
    files.map(async (from): Promise<Known[]> => {
      const value = await loadProcedure(from).catch(() => null);
      const inner = from.endsWith(PUBLISHED_END)
        ? (value as { definition?: unknown } | null)?.definition
        : value;
      const { definition } = checkProcedure(inner);
      return definition ? [{ from, definition }] : [];
    }),
  );
  return all.flat();
}

function tellDifferences(before: Definition, after: Definition): void {
  const found = differences(before, after);
  say(`Since revision ${before.meta.revision}:`);
  for (const { key, heading } of GROUPS) {
    const lines = found.filter(({ group }) => group === key);
    if (lines.length > 0) say([`  ${heading}`, ...lines.map(({ says }) => `    ${says}`)].join('\n'));
  }
}

async function publishFile(
  file: string,
  keyFile: string,
  by: string | undefined,
  folder: string,
  scxml: boolean,
) {
  const value = await loadProcedure(file);
  const { key, name } = await readKeyFile(keyFile);
  const author = by ?? name;
  if (!author) throw new Unreadable('the key does not say whose it is: give --by NAME.');
  const { revision, findings } = revisionOf(value, {
    drawings: new Set(await filesIn(join(root, 'assets/drawings'))),
  });
  if (!revision) {
    for (const { station, says } of findings)
      complain(`${file}: ${station ?? 'the whole procedure'}: ${says}`);
    complain(`${file}: Not published: a procedure is proved first. Put right what is said above.`);
    return 1;
  }
  const { definition, hash } = revision;
  const known = await knownRevisions(folder, file);
  const refusal = takenBy(
    revision,
    known.map((one) => ({
      id: one.definition.id,
      revision: one.definition.meta.revision,
      hash: revisionHash(one.definition),
    })),
  );
  if (refusal) {
    complain(`${file}: ${refusal.sentence}`);
    return 1;
  }
  const target = join(folder, publishedName(definition));
  await writeFile(target, await publish(revision, author, Date.now(), key));
  say(`Written: ${target}`);
  if (scxml) {
    const chart = target.replace(PUBLISHED_END, '.scxml');
    await writeFile(chart, toScxml(definition));
    say(`Written: ${chart}`);
  }
  say(`${definition.meta.title}, revision ${definition.meta.revision}, by ${author}`);
  say(`SHA-256 ${hash}`);
  say(
    `Key of the author: ${keyCode(key.kid)} (the supervisor of a bench that does not know it asks for this code)`,
  );
  const earlier = known
    .map((one) => one.definition)
    .filter(({ id, meta }) => id === definition.id && meta.revision < definition.meta.revision)
    .toSorted((a, b) => b.meta.revision - a.meta.revision)[0];
  if (earlier) tellDifferences(earlier, definition);
  return 0;
}

async function main(args: readonly string[]): Promise<number> {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      key: { type: 'string' },
      by: { type: 'string' },
      to: { type: 'string', default: '.' },
      'new-key': { type: 'string' },
      scxml: { type: 'boolean', default: false },
    },
  });
  const made = values['new-key'];
  if (made !== undefined) {
    if (!values.by?.trim()) throw new Unreadable('say whose key it is: give --by NAME.');
    const kid = await makeKeyFile(made, values.by.trim());
    say(`Written: ${made}. Keep it to yourself: whoever has it can publish in your name.`);
    say(`Code of the key: ${keyCode(kid)}`);
    return 0;
  }
  const [file, ...more] = positionals;
  if (file === undefined || more.length > 0 || values.key === undefined) throw new Unreadable(usage);
  return publishFile(file, values.key, values.by?.trim(), values.to, values.scxml);
}

process.exitCode = await main(process.argv.slice(2)).catch((error: unknown) => {
  if (error instanceof Unreadable) complain(error.message);
  else if (error instanceof TypeError && 'code' in error)
    complain(`${error.message.split('.')[0]}.\n${usage}`);
  else throw error;
  return 2;
});
