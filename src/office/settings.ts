import type { Workshop } from '../job/workshop.ts';
import { toMoment } from '../journal/moment.ts';
import { loadPublished } from '../journal/published.ts';
import { type SigningKey, signData } from '../journal/seal.ts';
import { misfitIn } from '../journal/shape.ts';
import { checkProcedure } from '../procedure/proof/findings.ts';
import { OfficeError } from '../sync/fault.ts';
import { workshopShape } from '../sync/trust.ts';
import type { PublishedProcedure, Settings } from '../sync/wire.ts';
import type { Db } from './db/engine.ts';
import { type Definitions, usable } from './definitions.ts';
import type { Devices } from './devices.ts';
import { pinsSet, shutOutPeople } from './people.ts';

export interface SettingsPorts {
  readonly db: Db;
  readonly definitions: Definitions;
  readonly devices: Devices;
  readonly key: SigningKey;
  now(): number;
}

/** The settings in force, as they were signed; null before anything was published. */
export async function settingsInForce(db: Db): Promise<{ version: number; jws: string } | null> {
  const row = await db
    .selectFrom('settings')
    .select(['version', 'jws'])
    .orderBy('version', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row ?? null;
}

/** Publishes a workshop: machines, people with their roles, tools with their calibration. The supervisor's desk does it. */
export async function publishWorkshop(ports: SettingsPorts, by: number, value: unknown): Promise<number> {
  const misfit = misfitIn(workshopShape, value);
  if (misfit) throw new OfficeError('settings-wrong', { what: misfit });
  return newVersion(ports, by, value as Workshop);
}

/** Publishes a procedure, when it holds its proof. A published revision never changes. */
export async function publishProcedure(ports: SettingsPorts, by: number, value: unknown): Promise<number> {
  const known = usable(await definitionIn(value));
  // All that a bench will hold it against: how well its phrases tell apart, too.
  const findings = checkProcedure(known.definition).findings.map(({ says }) => says);
  if (findings.length > 0) throw new OfficeError('procedure-not-proved', { findings: findings.slice(0, 20) });
  await ports.definitions.keep(known);
  const { id, meta } = known.definition;
  await ports.db.transaction().execute(async (db) => {
    const other = await db
      .selectFrom('definition')
      .select('hash')
      .where('id', '=', id)
      .where('revision', '=', meta.revision)
      .where('published_at', 'is not', null)
      .executeTakeFirst();
    if (other && other.hash !== known.hash)
      throw new OfficeError('revision-taken', { published: other.hash });
    if (!other)
      await db
        .updateTable('definition')
        .set({ published_at: ports.now() })
        .where('hash', '=', known.hash)
        .execute();
  });
  return newVersion(ports, by, null);
}

/** The procedure in what the desk sent: itself, or a file as its author sealed it, whose seal must hold. */
async function definitionIn(value: unknown): Promise<unknown> {
  if (typeof value !== 'object' || value === null || !('seal' in value)) return value;
  const text = JSON.stringify(value);
  const { author } = await loadPublished(text, new Set());
  const loaded = await loadPublished(text, new Set(author ? [author.kid] : []));
  if (loaded.refused) throw new OfficeError('procedure-not-proved', { findings: [loaded.refused.sentence] });
  return loaded.revision.definition;
}

/** Signs the settings anew, after something in them changed. Before a workshop was published there is nothing to sign. */
export const renewSettings = (ports: SettingsPorts, by: number): Promise<number> =>
  newVersion(ports, by, null);

async function newVersion(ports: SettingsPorts, by: number, workshop: Workshop | null): Promise<number> {
  const revoked = await ports.devices.revokedKeys();
  const at = ports.now();
  return ports.db.transaction().execute(async (db) => {
    // Whoever publishes at the same time waits here, so that versions follow one another.
    await db.selectFrom('seal_head').select('id').where('id', '=', 1).forUpdate().execute();
    const before = await db
      .selectFrom('settings')
      .select(['version', 'body'])
      .orderBy('version', 'desc')
      .limit(1)
      .executeTakeFirst();
    const inForce = before ? (JSON.parse(before.body) as Settings) : null;
    if (!workshop && !inForce) return 0;
    const version = (before?.version ?? 0) + 1;
    const settings: Settings = {
      version,
      at: toMoment(at),
      workshop: workshop?.name ?? inForce?.workshop ?? '',
      machines: workshop?.machines ?? inForce?.machines ?? [],
      people: workshop?.people ?? inForce?.people ?? [],
      tools: workshop?.tools ?? inForce?.tools ?? [],
      ...((workshop ?? inForce)?.parts ? { parts: (workshop ?? inForce)?.parts ?? [] } : {}),
      badges: workshop ? (workshop.badges ?? {}) : (inForce?.badges ?? {}),
      procedures: await published(db),
      revoked,
      shutOut: await shutOutPeople(db),
      pins: await pinsSet(db),
    };
    const jws = await signData(settings, ports.key);
    await db
      .insertInto('settings')
      .values({ version, body: JSON.stringify(settings), jws, at, by })
      .execute();
    return version;
  });
}

/** The published procedures, of each the latest revision. */
async function published(db: Db): Promise<PublishedProcedure[]> {
  const rows = await db
    .selectFrom('definition')
    .select(['id', 'title', 'revision', 'hash', 'published_at'])
    .where('published_at', 'is not', null)
    .orderBy('id')
    .orderBy('revision', 'desc')
    .execute();
  return rows
    .filter(({ id }, index) => rows[index - 1]?.id !== id)
    .map(({ published_at, ...row }) => ({ ...row, publishedAt: toMoment(published_at ?? 0) }));
}
