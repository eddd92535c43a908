import { readdirSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { fileURLToPath } from 'node:url';
import { type BenchRow, keeps } from './row.ts';

/*
 * npm run bench [-- NAME …]      measures, prints a table, writes bench-results.json; NAME: only those files of tests/bench
 *
 * Every file beside this one that exports rows() has a part in it. Nothing fails here: figures depend on the machine,
 * and a busy one makes them worse. What is over its budget is marked.
 */

const HERE = fileURLToPath(new URL('.', import.meta.url));
const RESULTS = fileURLToPath(new URL('../../bench-results.json', import.meta.url));
const NOT_MEASURED = ['run.ts', 'row.ts'];

interface Measuring {
  rows?: () => Promise<BenchRow[]>;
}

const digits = (value: number): string =>
  value >= 1000 ? Math.round(value).toLocaleString('en') : Number(value.toPrecision(3)).toString();

/** The table as text, columns as wide as what stands in them. */
function table(rows: readonly BenchRow[]): string {
  const marks = { true: '', false: '  over', null: '' };
  const cells = [
    ['what', 'p50', 'p95', 'unit', 'budget'],
    ...rows.map((row) => [
      row.what,
      digits(row.p50),
      digits(row.p95),
      row.unit,
      `${row.budget ?? ''}${marks[`${keeps(row)}`]}`,
    ]),
  ];
  const widths = [0, 1, 2, 3, 4].map((column) => Math.max(...cells.map((line) => line[column]?.length ?? 0)));
  return cells
    .map((line) =>
      line
        .map((cell, column) =>
          column === 1 || column === 2
            ? cell.padStart(widths[column] ?? 0)
            : cell.padEnd(widths[column] ?? 0),
        )
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

const asked = process.argv.slice(2);
const names = readdirSync(HERE)
  .filter((name) => name.endsWith('.ts') && !NOT_MEASURED.includes(name))
  .map((name) => name.slice(0, -'.ts'.length))
  .filter((name) => asked.length === 0 || asked.includes(name))
  .sort();
const unknown = asked.filter((name) => !names.includes(name));
if (unknown.length > 0) {
  console.error(`Nothing is measured by the name of ${unknown.join(', ')}: look into tests/bench.`);
  process.exit(2);
}

const rows: BenchRow[] = [];
const failed: string[] = [];
for (const name of names) {
  console.error(`measuring: ${name}`);
  try {
    const measuring = (await import(`./${name}.ts`)) as Measuring;
    rows.push(...((await measuring.rows?.()) ?? []));
  } catch (error) {
    failed.push(`${name}: ${error instanceof Error ? error.message : String(error)}`);
  }
}

const [cpu] = cpus();
const machine = {
  node: process.version,
  cpu: cpu?.model.trim() ?? '',
  cores: cpus().length,
  load: loadavg()[0],
};
console.log(
  `${table(rows)}\n\n${machine.cores} cores, ${machine.cpu}, Node ${machine.node}, load ${machine.load}`,
);
const results = {
  at: new Date().toISOString(),
  machine,
  rows: rows.map((row) => ({ ...row, within: keeps(row) })),
};
writeFileSync(RESULTS, `${JSON.stringify(results, null, 2)}\n`);
for (const line of failed) console.error(`not measured: ${line}`);
process.exit(failed.length > 0 ? 1 : 0);
