import { TradeError } from '../trade/fault.ts';
import { explainWorking, findWorking, runWorking, type WorkingField, workings } from '../trade/workings.ts';

/*
 * npm run working -- NAME '{json}'            runs one working, prints its result as one line of JSON
 * npm run working -- NAME '{json}' --explain  prints the formula with the numbers filled in
 * npm run working -- --list [--json]          prints every working with its inputs, outputs and units
 * Bad input: one line on standard error, exit 1.
 */

const usage = `usage: npm run working -- NAME '{json}' [--explain] | --list [--json]`;

function fieldText(field: WorkingField): string {
  const unit = field.unit === '' ? '' : ` [${field.unit}]`;
  const nested = field.fields ?? (field.kind === 'list' ? field.of?.fields : undefined);
  const inside = nested === undefined ? '' : `{${nested.map(fieldText).join(', ')}}`;
  const list = field.kind === 'list' ? '[]' : '';
  const choices = field.choices === undefined ? '' : ` (${field.choices.join(' | ')})`;
  return `${field.name}${field.optional === true ? '?' : ''}${inside}${list}${unit}${choices}`;
}

function listing(json: boolean): string {
  if (json) return JSON.stringify(workings().map(({ run: _, explain: __, ...about }) => about));
  return workings()
    .map(
      ({ name, title, inputs, outputs }) =>
        `${name}: ${title}\n  in   ${inputs.map(fieldText).join(', ')}\n  out  ${outputs.map(fieldText).join(', ')}`,
    )
    .join('\n');
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new SyntaxError(`The input is not JSON: write it as '{"name": value}' in single quotes.`);
  }
}

function main(given: readonly string[]): string {
  const flags = new Set(given.filter((word) => word.startsWith('--')));
  const [name, input, ...rest] = given.filter((word) => !word.startsWith('--'));
  const strange = [...flags].find((one) => !['--list', '--json', '--explain'].includes(one)) ?? rest[0];
  if (strange !== undefined) throw new SyntaxError(`"${strange}" is not understood; ${usage}`);
  if (flags.has('--list')) return listing(flags.has('--json'));
  if (name === undefined) throw new SyntaxError(usage);
  findWorking(name);
  if (input === undefined) throw new SyntaxError(`Give the input of ${name} as JSON; ${usage}`);
  const value = parse(input);
  return flags.has('--explain')
    ? explainWorking(name, value).join('\n')
    : JSON.stringify(runWorking(name, value));
}

try {
  process.stdout.write(`${main(process.argv.slice(2))}\n`);
} catch (error) {
  if (error instanceof TradeError) process.stderr.write(`${error.code}: ${error.message}\n`);
  else if (error instanceof SyntaxError) process.stderr.write(`not-understood: ${error.message}\n`);
  else throw error;
  process.exitCode = 1;
}
