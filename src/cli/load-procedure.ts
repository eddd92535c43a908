import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

/** A file that cannot be used at all; the message is one sentence that says what to do. */
export class Unreadable extends Error {}

/** What a TypeScript module exports by default, or the content of a JSON file: nothing of it is checked yet. */
export async function loadProcedure(file: string): Promise<unknown> {
  const path = resolve(file);
  if (!/\.(?:json|[mc]?[jt]s)$/.test(file)) {
    throw new Unreadable('it is neither a TypeScript module nor JSON: name a .ts or .json file.');
  }
  if (file.endsWith('.json')) {
    const text = await readFile(path, 'utf8').catch(() => {
      throw new Unreadable('it cannot be read: check its name.');
    });
    try {
      return JSON.parse(text);
    } catch {
      throw new Unreadable('it is not JSON: export the procedure again.');
    }
  }
  const module: { readonly default?: unknown } = await import(pathToFileURL(path).href).catch(
    (error: unknown) => {
      const [line] = (error instanceof Error ? error.message : String(error)).split('\n');
      throw new Unreadable(`it cannot be loaded: ${line}`);
    },
  );
  if (module.default === undefined) {
    throw new Unreadable('it has no default export: write "export default procedure({ … })".');
  }
  return module.default;
}
