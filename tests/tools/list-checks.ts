import { readFileSync, writeFileSync } from 'node:fs';
import { begin, checksSummary, checksTable, end, withTable } from './checks-table.ts';

/*
 * npx tsx tests/tools/list-checks.ts                   prints the table of outside checks
 * npx tsx tests/tools/list-checks.ts --write FILE      replaces the generated block in a Markdown file
 */

const [flag, file] = process.argv.slice(2);
if (flag === '--write' && file !== undefined) {
  const text = withTable(readFileSync(file, 'utf8'));
  if (text === null) {
    console.error(
      `${file} has no block to fill: put these two lines where the table goes:\n${begin}\n${end}`,
    );
    process.exitCode = 1;
  } else {
    writeFileSync(file, text);
  }
} else {
  console.log(`${checksSummary()}\n\n${checksTable()}`);
}
