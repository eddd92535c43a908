import { access, mkdir, writeFile } from 'node:fs/promises';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { refusedId, refusedTitle, skeleton } from './skeleton.ts';

/*
 * npm run new-procedure -- ID "Title" [--in FOLDER]
 * Begins a procedure: procedures/ID with one file for each part of the work, proved as it stands, and its test. Says what
 * to do next. Exit 1 when the id or the title cannot be used, 2 when it is called otherwise.
 */

const usage = 'usage: npm run new-procedure -- ID "Title"';

const exists = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );

async function main(args: readonly string[]): Promise<number> {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { in: { type: 'string', default: fileURLToPath(new URL('../..', import.meta.url)) } },
  });
  const [id, title, ...more] = positionals;
  if (id === undefined || title === undefined || more.length > 0) {
    process.stderr.write(`${usage}\n`);
    return 2;
  }
  const there = await exists(join(values.in, 'procedures', id));
  const refused =
    refusedId(id) ??
    refusedTitle(title) ??
    (there ? `There is a procedure "${id}" already: open procedures/${id}, or choose another id.` : null);
  if (refused !== null) {
    process.stderr.write(`${refused}\n`);
    return 1;
  }
  for (const { path, text } of skeleton(id, title.trim())) {
    const target = join(values.in, path);
    await mkdir(join(target, '..'), { recursive: true });
    await writeFile(target, text, { flag: 'wx' });
    process.stdout.write(`written: ${relative(values.in, target)}\n`);
  }
  process.stdout.write(`
Next:
  1  Write the work in procedures/${id}/task.ts: one act a station. How to: procedures/WRITING.md
  2  npm run check -- procedures/${id}/index.ts        proves it, or says what is missing
  3  Put it on the list in procedures/index.ts:
       {
         id: '${id}',
         title: ${JSON.stringify(title.trim())},
         revision: 1,
         load: () => import('./${id}/index.ts').then(from),
       },
  4  npm run dev, then Procedures: look at its chart and practise it; it follows what you save
  5  npx vitest run --config tests/vitest.config.ts --project pure tests/procedures/${id}
  6  npm run publish -- procedures/${id}/index.ts --key KEY.jwk        seals the revision
`);
  return 0;
}

process.exitCode = await main(process.argv.slice(2)).catch((error: unknown) => {
  if (!(error instanceof TypeError && 'code' in error)) throw error;
  process.stderr.write(`${usage}\n`);
  return 2;
});
