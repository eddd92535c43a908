import { readdir, readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Advice } from '../procedure/proof/advice.ts';
import { certificateText, certify } from '../procedure/proof/certificate.ts';
import { craftAdvice } from '../procedure/proof/craft.ts';
import type { Checked, CheckOptions } from '../procedure/proof/findings.ts';
import { checkProcedure } from '../procedure/proof/findings.ts';
import { loadProcedure, Unreadable } from './load-procedure.ts';
import { phraseRules } from './phrase-rules.ts';

/*
 * npm run check -- [FILE …] [--json] [--certificate]
 * Proves procedures: TypeScript modules (default export) or JSON; without a FILE every procedures/NAME/index.ts.
 * Prints one line a finding, or one line that says what was proved. Exit 1 on any finding, 2 when a file cannot be read.
 * A line that begins with "warning:" says where a proved procedure departs from good writing; it never fails the check.
 */

const usage = 'usage: npm run check -- [FILE …] [--json] [--certificate]';
const root = fileURLToPath(new URL('../..', import.meta.url));

interface Result extends Checked {
  readonly file: string;
  /** Milliseconds that the check took. */
  readonly took: number;
  readonly warnings: readonly Advice[];
}

async function filesIn(folder: string): Promise<readonly string[]> {
  return readdir(resolve(root, folder)).catch(() => []);
}

async function shipped(): Promise<string[]> {
  const found = (await filesIn('procedures')).toSorted();
  const files = found.map((name) => `procedures/${name}/index.ts`);
  const there = await Promise.all(
    files.map((file) =>
      readFile(resolve(root, file)).then(
        () => true,
        () => false,
      ),
    ),
  );
  return files.filter((_, at) => there[at]);
}

async function check(file: string, options: CheckOptions): Promise<Result> {
  const value = await loadProcedure(file);
  const began = performance.now();
  const checked = checkProcedure(value, options);
  const took = performance.now() - began;
  const warnings = checked.definition ? craftAdvice(checked.definition) : [];
  return { file, ...checked, took, warnings };
}

const plain = (line: string): string => line.replace(/[^\P{C}]/gu, '?');

function lines(
  { file, findings, definition, proof, took, warnings }: Result,
  certificate: boolean,
): string[] {
  if (findings.length > 0 || !definition || !proof) {
    return findings.map(({ station, says }) =>
      plain(`${file}: ${station ?? 'the whole procedure'}: ${says}`),
    );
  }
  const stations = Object.values(definition.states).filter(({ meta }) => meta !== undefined);
  const holds = stations.filter(({ meta }) => meta?.kind === 'hold').length;
  const proved = `${file}: proved: ${stations.length} stations, ${holds} hold points, ${proof.combinations} combinations of facts, ${took.toFixed(0)} ms`;
  const advised = warnings.map(({ station, says }) =>
    plain(`warning: ${file}: ${station ?? 'the whole procedure'}: ${says}`),
  );
  return [proved, ...advised, ...(certificate ? [certificateText(certify(definition, proof))] : [])];
}

const asJson = ({ file, findings, definition, proof, took, warnings }: Result) => ({
  file,
  proved: findings.length === 0,
  findings,
  warnings,
  took,
  certificate: findings.length === 0 && definition && proof ? certify(definition, proof) : null,
});

async function main(given: readonly string[]): Promise<number> {
  const flags = new Set(given.filter((word) => word.startsWith('--')));
  const strange = [...flags].find((flag) => !['--json', '--certificate'].includes(flag));
  if (strange !== undefined) {
    process.stderr.write(`"${strange}" is not understood; ${usage}\n`);
    return 2;
  }
  const named = given.filter((word) => !word.startsWith('--'));
  const inRoot = named.length === 0 ? await shipped() : [];
  if (named.length === 0) process.chdir(root);
  const drawings = new Set(await filesIn('assets/drawings'));
  const procedures = new Set(await filesIn('procedures'));
  const results: Result[] = [];
  let unreadable = 0;
  for (const file of [...named, ...inRoot]) {
    try {
      results.push(await check(file, { drawings, procedures, phrases: phraseRules }));
    } catch (error) {
      if (!(error instanceof Unreadable)) throw error;
      unreadable++;
      process.stderr.write(`${plain(`${file}: ${error.message}`)}\n`);
    }
  }
  if (flags.has('--json')) process.stdout.write(`${JSON.stringify(results.map(asJson), null, 2)}\n`);
  else
    for (const result of results)
      for (const line of lines(result, flags.has('--certificate'))) process.stdout.write(`${line}\n`);
  if (unreadable > 0) return 2;
  return results.some(({ findings }) => findings.length > 0) ? 1 : 0;
}

process.exitCode = await main(process.argv.slice(2));
