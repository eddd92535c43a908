import { canonicalText } from '../journal/canonical.ts';
import { restless } from '../journal/restless.ts';
import type { Definition } from '../procedure/definition.ts';
import { type Machine, machineFor } from '../procedure/machine.ts';
import { readDefinition } from '../procedure/proof/structure.ts';
import { OfficeError } from '../sync/fault.ts';
import type { Db } from './db/engine.ts';
import { sha256 } from './hash.ts';

/** A procedure as the office keeps it: once, however many jobs carry it. */
export interface KnownDefinition {
  readonly hash: string;
  /** RFC 8785 form. */
  readonly text: string;
  readonly definition: Definition;
  readonly machine: Machine;
}

/** Most procedures held ready in memory; the others are read again when a job needs them. */
const HELD = 200;

/** A procedure that can be run, or a refusal that says why not. Anything at all may be given. */
export function usable(value: unknown): KnownDefinition {
  const read = readDefinition(value);
  if ('findings' in read) {
    const what = read.findings[0]?.says ?? 'it is no procedure';
    throw new OfficeError('procedure-unusable', { what });
  }
  const ring = restless(read.definition);
  if (ring !== null)
    throw new OfficeError('procedure-unusable', { what: `it never comes to rest after "${ring}"` });
  const text = canonicalText(read.definition);
  return { hash: sha256(text), text, definition: read.definition, machine: machineFor(read.definition) };
}

/** The procedures that jobs carry, each kept once under its hash. */
export class Definitions {
  readonly #db: Db;
  readonly #held = new Map<string, KnownDefinition>();

  constructor(db: Db) {
    this.#db = db;
  }

  /** One that was kept before, or null. Inside a transaction its own connection must be given: there may be only one. */
  async known(hash: string, db: Db = this.#db): Promise<KnownDefinition | null> {
    const held = this.#held.get(hash);
    if (held) return held;
    const row = await db.selectFrom('definition').select('body').where('hash', '=', hash).executeTakeFirst();
    return row ? this.#hold(usable(JSON.parse(row.body))) : null;
  }

  /** Keeps a procedure that was checked. */
  async keep(known: KnownDefinition): Promise<void> {
    if (this.#held.has(known.hash)) return;
    const { id, meta } = known.definition;
    await this.#db
      .insertInto('definition')
      .values({
        hash: known.hash,
        id,
        title: meta.title,
        revision: meta.revision,
        body: known.text,
        published_at: null,
      })
      .onConflict((conflict) => conflict.column('hash').doNothing())
      .execute();
    this.#hold(known);
  }

  #hold(known: KnownDefinition): KnownDefinition {
    if (this.#held.size >= HELD) {
      const [oldest] = this.#held.keys();
      if (oldest !== undefined) this.#held.delete(oldest);
    }
    this.#held.set(known.hash, known);
    return known;
  }
}
