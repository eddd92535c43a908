import { readFile, stat } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import type { JSONWebKeySet } from 'jose';
import { isZip, MAX_BUNDLE } from '../book/unpack.ts';
import { type BundleReport, verifyBundle } from '../book/verify-bundle.ts';
import { counted } from '../book/words.ts';
import { tame } from '../journal/finding.ts';
import { proofOf } from '../journal/proved.ts';
import type { Report } from '../journal/verify.ts';
import { verifyFile } from '../journal/verify.ts';
import { isKeySet } from '../journal/verify-seal.ts';

/*
 * npm run verify -- FILE … [--json] [--keys FILE]
 * Verifies record files, and bundles (.zip) of them. --keys: a JWK Set with the public keys of the workshop's devices. --json: one line of JSON.
 * Exit 0: every file holds. 1: something was found, one line each (FILE:LINE: code: sentence; for what lies in a bundle
 * FILE!NAME:LINE, without a line for what is no record). 2: it could not be looked at.
 */

const USAGE = 'usage: npm run verify -- FILE … [--json] [--keys FILE]';

/** Something about the call itself, not about a record. */
class CallError extends Error {}

async function contentOf(path: string): Promise<Uint8Array> {
  try {
    if ((await stat(path)).size > MAX_BUNDLE) throw new CallError(`${path} is far larger than any record.`);
    return await readFile(path);
  } catch (error) {
    if (error instanceof CallError) throw error;
    const { code } = error as NodeJS.ErrnoException;
    const why =
      code === 'ENOENT' ? 'there is no such file' : code === 'EISDIR' ? 'it is a folder' : String(code);
    throw new CallError(`${path} cannot be read: ${why}.`);
  }
}

async function keysFrom(path: string): Promise<JSONWebKeySet> {
  const bytes = await contentOf(path);
  let value: unknown = null;
  try {
    value = JSON.parse(Buffer.from(bytes).toString('utf8'));
  } catch {
    // Said below, with the same sentence.
  }
  if (isKeySet(value)) return value;
  throw new CallError(`${path} is not a JWK Set: give a JSON file of the form {"keys": [...]}.`);
}

/** What goes to standard output: one line a finding, or one line that says what holds. */
function lines(path: string, { holds, findings, record }: Report): string[] {
  if (!holds || !record) return findings.map(({ line, code, says }) => `${path}:${line}: ${code}: ${says}`);
  const { records, outcome, sealedBy, sealedAt } = record;
  const seal = `sealed by ${sealedBy?.name} (${sealedBy?.id}) at ${sealedAt}`;
  return [tame(`${path}: holds (${records} records, ${outcome}, ${seal})`)];
}

/** What lies in a bundle is named FILE!NAME. */
function bundleLines(path: string, { holds, findings, records, manifest }: BundleReport): string[] {
  const inside = (file: string) => (file === '' ? path : `${path}!${file}`);
  const found = [
    ...findings.map(({ file, code, says }) => `${inside(file)}: ${code}: ${says}`),
    ...records
      .filter(({ report }) => !report.holds)
      .flatMap(({ file, report }) => lines(inside(file), report)),
  ];
  if (!holds || !manifest) return found;
  const { signedBy, signedAt, from, to } = manifest;
  const seal = `sealed by ${signedBy.name} (${signedBy.id}) at ${signedAt}`;
  return [tame(`${path}: holds (bundle of ${counted(records.length, 'record')}, ${from} to ${to}, ${seal})`)];
}

type Verified = { file: string } & ({ report: Report } | { bundle: BundleReport });

const held = (one: Verified) => ('bundle' in one ? one.bundle.holds : one.report.holds);

function print(one: Verified): void {
  const { file } = one;
  console.log(('bundle' in one ? bundleLines(file, one.bundle) : lines(file, one.report)).join('\n'));
  // Notes are no findings: kept off standard output, which is for programs to read.
  if ('bundle' in one) for (const remark of one.bundle.remarks) console.error(`${file}: note: ${remark}`);
  const inside = 'bundle' in one ? one.bundle.records : [one];
  for (const { file: name, report } of inside) {
    const where = name === file ? file : `${file}!${name}`;
    for (const { line, code, says } of report.remarks)
      console.error(`${where}:${line}: note: ${code}: ${says}`);
  }
}

async function main(): Promise<number> {
  let call: ReturnType<typeof parse>;
  try {
    call = parse();
  } catch (error) {
    throw new CallError(`${error instanceof Error ? error.message : error}; ${USAGE}`);
  }
  const { values, positionals } = call;
  if (positionals.length === 0) throw new CallError(`Name at least one record file; ${USAGE}`);
  const options = {
    prove: proofOf,
    ...(values.keys === undefined ? {} : { keys: await keysFrom(values.keys) }),
  };

  const all: Verified[] = [];
  for (const file of positionals) {
    const content = await contentOf(file);
    if (isZip(content)) all.push({ file, bundle: await verifyBundle(content, options) });
    else all.push({ file, report: await verifyFile(content, options) });
  }
  if (values.json) {
    console.log(
      JSON.stringify(all.map((one) => ({ file: one.file, ...('bundle' in one ? one.bundle : one.report) }))),
    );
  } else all.forEach(print);
  return all.every(held) ? 0 : 1;
}

function parse() {
  return parseArgs({
    allowPositionals: true,
    options: { json: { type: 'boolean', default: false }, keys: { type: 'string' } },
  });
}

try {
  process.exitCode = await main();
} catch (error) {
  if (!(error instanceof CallError)) throw error;
  console.error(error.message);
  process.exitCode = 2;
}
