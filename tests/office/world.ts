import type { FastifyInstance } from 'fastify';
import type { Workshop } from '../../src/job/workshop.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { type SigningKey, sealPayload, signSeal } from '../../src/journal/seal.ts';
import type { Database } from '../../src/office/db/engine.ts';
import { makeOffice, type Office } from '../../src/office/office.ts';
import { officeServer, type ServerOptions } from '../../src/office/server.ts';
import type { Revision } from '../../src/procedure/publish/published.ts';
import { Courier, json } from '../../src/sync/courier.dom.ts';
import { officeCalls } from '../../src/sync/office-calls.dom.ts';
import type { OfficeCalls } from '../../src/sync/office-calls.ts';
import { type RoundPorts, syncRound } from '../../src/sync/round.ts';
import { joined, type SyncState } from '../../src/sync/state.ts';
import type { DeviceKind, Enrolled } from '../../src/sync/wire.ts';
import { MemoryStore } from '../journal/memory-store.ts';
import { makeKey } from '../journal/play.ts';
import type { Engine } from './engines.ts';

/** Noon of the day on which these tests play. */
export const TODAY = Date.parse('2026-11-20T12:00:00.000Z');

export interface World {
  readonly office: Office;
  readonly server: FastifyInstance;
  readonly origin: string;
  readonly log: string[];
  /** ms since 1970; tests move it. */
  clock: { now: number };
  close(): Promise<void>;
}

/** An office that listens, on a database that is given. */
export async function openWorld(database: Database, options: ServerOptions = {}): Promise<World> {
  const clock = { now: TODAY };
  const log: string[] = [];
  const office = makeOffice(database, await makeKey(), () => clock.now);
  const server = officeServer(office, {
    log: (line) => log.push(line),
    rate: { burst: 100_000, perSecond: 10_000 },
    strangers: { burst: 100_000, perSecond: 10_000 },
    ...options,
  });
  const origin = await server.listen({ port: 0, host: '127.0.0.1' });
  return {
    office,
    server,
    origin,
    log,
    clock,
    async close() {
      await server.close();
      await database.close();
    },
  };
}

/** The same on an empty database of this engine, which goes when the world is closed. */
export async function worldOn(engine: Engine, options: ServerOptions = {}): Promise<World> {
  const { database, remove } = await engine.fresh();
  const world = await openWorld(database, options);
  return {
    ...world,
    async close() {
      await world.close();
      await remove();
    },
  };
}

/** A device that is enrolled with the office. */
export interface Member {
  readonly key: SigningKey;
  readonly courier: Courier;
  readonly calls: OfficeCalls;
  readonly kid: string;
  readonly name: string;
}

export type Fetch = (url: string, init: RequestInit) => Promise<Response>;

export const courierFor = (
  { origin, office, clock }: Pick<World, 'origin' | 'office' | 'clock'>,
  key: SigningKey,
  fetching: Fetch = (url, init) => fetch(url, init),
  known = office.key.kid,
): Courier =>
  new Courier({ origin, office: known, key: async () => key, now: () => clock.now, fetch: fetching });

export async function enrol(world: World, kind: DeviceKind, name: string, fetching?: Fetch): Promise<Member> {
  const key = await makeKey();
  const { code } = await world.office.devices.makeCode(kind);
  await courierFor(world, key, undefined, '').ask<Enrolled>('POST', '/enrol', json({ code, name }));
  const courier = courierFor(world, key, fetching);
  return { key, courier, calls: officeCalls(courier), kid: key.kid, name };
}

/** A bench in this process: an enrolled device, a store of journals, what it remembers of the office. */
export class TestBench {
  readonly member: Member;
  readonly store: MemoryStore;
  readonly ports: RoundPorts;
  state: SyncState;
  workshop: Workshop | null = null;
  pins: object = {};
  readonly files = new Map<string, Blob>();
  readonly shelf = new Map<string, Revision>();

  static async join(world: World, name: string, fetching?: Fetch): Promise<TestBench> {
    return new TestBench(world, await enrol(world, 'bench', name, fetching));
  }

  constructor(world: World, member: Member, store = new MemoryStore(), state?: SyncState) {
    this.member = member;
    this.store = store;
    this.state = state ?? joined(world.office.key.kid, member.name);
    this.ports = {
      store,
      calls: member.calls,
      now: () => world.clock.now,
      save: async (next) => {
        this.state = next;
      },
      files: { read: async (sha256) => this.files.get(sha256) },
      bench: member.kid,
      keepWorkshop: async (workshop, pins) => {
        this.workshop = workshop;
        this.pins = pins;
      },
      shelf: {
        has: async ({ hash }) => this.shelf.has(hash),
        keep: async (revision) => {
          this.shelf.set(revision.hash, revision);
          return null;
        },
      },
    };
  }

  async write(records: readonly JournalRecord[]): Promise<void> {
    for (const record of records) await this.store.append(record);
  }

  async seal(records: readonly JournalRecord[]): Promise<string> {
    const seal = await sealFor(records, this.member.key);
    await this.store.putSeal(records[0]?.job ?? '', seal);
    return seal;
  }

  async round(): Promise<SyncState> {
    this.state = await syncRound(this.ports, this.state);
    return this.state;
  }
}

export function sealFor(records: readonly JournalRecord[], key: SigningKey): Promise<string> {
  const opened = records[0]?.event;
  const by = opened?.type === 'job.opened' ? (opened.people[0]?.id ?? '') : '';
  const last = Date.parse(records[records.length - 1]?.at ?? '');
  return signSeal(sealPayload(records, last + 60_000, by), key);
}
