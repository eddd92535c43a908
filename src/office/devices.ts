import { randomInt } from 'node:crypto';
import type { PublicJwk } from '../journal/seal.ts';
import { OfficeError } from '../sync/fault.ts';
import type { DeviceKind } from '../sync/wire.ts';
import type { Db } from './db/engine.ts';
import { isDuplicate } from './db/faults.ts';
import { sha256 } from './hash.ts';

export interface Device {
  readonly id: number;
  readonly kid: string;
  readonly kind: DeviceKind;
  readonly name: string;
  readonly revokedAt: number | null;
  readonly revokedWhy: string | null;
}

/** How long an enrolment code is good for, ms. */
export const CODE_LIFE_MS = 30 * 60_000;
/** How long another office's change may go unnoticed here, ms; this office's own is seen at once. */
const HELD_MS = 2_000;

/** No letters that are taken for each other: 32 signs, five bits each; twelve of them cannot be guessed in half an hour. */
const SIGNS = '23456789ABCDEFGHJKLMNPQRSTUVWXYZ';

const newCode = (): string => Array.from({ length: 12 }, () => SIGNS[randomInt(SIGNS.length)] ?? '').join('');

/** A code as people write it: small letters, blanks and dashes do not matter. */
const spelt = (code: string): string => code.toUpperCase().replaceAll(/[^0-9A-Z]/g, '');

/** The devices that the office listens to, and the codes by which new ones come in. */
export class Devices {
  readonly #db: Db;
  readonly #now: () => number;
  readonly #held = new Map<string, { readonly device: Device | null; readonly at: number }>();

  constructor(db: Db, now: () => number) {
    this.#db = db;
    this.#now = now;
  }

  /** The enrolled device with this key, shut out or not; null when there is none. */
  async byKey(kid: string): Promise<Device | null> {
    const held = this.#held.get(kid);
    if (held && this.#now() - held.at < HELD_MS) return held.device;
    const row = await this.#db.selectFrom('device').selectAll().where('kid', '=', kid).executeTakeFirst();
    const device = row
      ? {
          id: row.id,
          kid,
          kind: row.kind,
          name: row.name,
          revokedAt: row.revoked_at,
          revokedWhy: row.revoked_why,
        }
      : null;
    // Strangers are not remembered: they could be any number.
    if (device) this.#held.set(kid, { device, at: this.#now() });
    return device;
  }

  /** When a key was shut out; null when it never was; undefined when it was never enrolled. */
  async revokedAt(kid: string): Promise<number | null | undefined> {
    return (await this.byKey(kid))?.revokedAt;
  }

  async seen(device: Device): Promise<void> {
    await this.#db.updateTable('device').set({ seen_at: this.#now() }).where('id', '=', device.id).execute();
  }

  /** A code for one new device. It is shown once: only its hash is kept. */
  async makeCode(kind: DeviceKind): Promise<{ code: string; expiresAt: number }> {
    const code = newCode();
    const now = this.#now();
    const expiresAt = now + CODE_LIFE_MS;
    await this.#db
      .insertInto('code')
      .values({ hash: sha256(code), kind, made_at: now, expires_at: expiresAt, used_by: null })
      .execute();
    return { code: code.replace(/(.{4})(.{4})(.{4})/, '$1-$2-$3'), expiresAt };
  }

  /** Enrols a key by a code that nobody has used. The same key with the same code again is the same as once. */
  async enrol(code: string, name: string, kid: string, jwk: PublicJwk): Promise<Device> {
    const hash = sha256(spelt(code));
    const now = this.#now();
    try {
      const device = await this.#db.transaction().execute(async (db): Promise<Device> => {
        const row = await db
          .selectFrom('code')
          .selectAll()
          .where('hash', '=', hash)
          .forUpdate()
          .executeTakeFirst();
        if (!row || row.expires_at < now) throw new OfficeError('code-wrong');
        if (row.used_by !== null) {
          const before = await db
            .selectFrom('device')
            .selectAll()
            .where('id', '=', row.used_by)
            .executeTakeFirst();
          if (before?.kid !== kid || before.revoked_at !== null) throw new OfficeError('code-wrong');
          return {
            id: before.id,
            kid,
            kind: before.kind,
            name: before.name,
            revokedAt: null,
            revokedWhy: null,
          };
        }
        const { id } = await db
          .insertInto('device')
          .values({
            kid,
            kind: row.kind,
            name,
            x: jwk.x,
            y: jwk.y,
            enrolled_at: now,
            seen_at: now,
            revoked_at: null,
            revoked_why: null,
          })
          .returning('id')
          .executeTakeFirstOrThrow();
        await db.updateTable('code').set({ used_by: id }).where('hash', '=', hash).execute();
        return { id, kid, kind: row.kind, name, revokedAt: null, revokedWhy: null };
      });
      this.#held.delete(kid);
      return device;
    } catch (error) {
      if (!isDuplicate(error)) throw error;
      // A key that was enrolled before, or was shut out, does not come back by a new code: it needs a new key.
      throw new OfficeError((await this.byKey(kid)) ? 'key-revoked' : 'name-taken');
    }
  }

  async list() {
    return this.#db
      .selectFrom('device')
      .select(['kid', 'kind', 'name', 'enrolled_at', 'seen_at', 'revoked_at', 'revoked_why'])
      .orderBy('id')
      .execute();
  }

  /** Shuts a device out, from now on. What it sealed before stays good. Its jobs are free for others. */
  async revoke(kid: string, why: string): Promise<void> {
    await this.#db.transaction().execute(async (db) => {
      const row = await db
        .selectFrom('device')
        .select(['id', 'revoked_at'])
        .where('kid', '=', kid)
        .executeTakeFirst();
      if (!row) throw new OfficeError('key-unknown');
      if (row.revoked_at !== null) return;
      await db
        .updateTable('device')
        .set({ revoked_at: this.#now(), revoked_why: why })
        .where('id', '=', row.id)
        .execute();
      await db
        .updateTable('job')
        .set({ holder: null })
        .where('holder', '=', row.id)
        .where('outcome', '=', 'open')
        .execute();
    });
    this.#held.delete(kid);
  }

  async anyDesk(): Promise<boolean> {
    const row = await this.#db
      .selectFrom('device')
      .select('id')
      .where('kind', '=', 'desk')
      .where('revoked_at', 'is', null)
      .executeTakeFirst();
    return row !== undefined;
  }

  async revokedKeys(): Promise<string[]> {
    const rows = await this.#db
      .selectFrom('device')
      .select('kid')
      .where('revoked_at', 'is not', null)
      .execute();
    return rows.map(({ kid }) => kid);
  }
}
