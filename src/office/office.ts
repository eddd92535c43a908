import type { SigningKey } from '../journal/seal.ts';
import type { Database, Db } from './db/engine.ts';
import { Definitions } from './definitions.ts';
import { Devices } from './devices.ts';
import { Following } from './follow.ts';

/** Everything that the office's answers are made from, put together once. */
export interface Office {
  readonly db: Db;
  readonly engine: Database['engine'];
  readonly definitions: Definitions;
  readonly following: Following;
  readonly devices: Devices;
  readonly key: SigningKey;
  /** Wall clock, ms since 1970. */
  now(): number;
}

export function makeOffice({ db, engine }: Database, key: SigningKey, now: () => number): Office {
  return {
    db,
    engine,
    key,
    now,
    definitions: new Definitions(db),
    following: new Following(),
    devices: new Devices(db, now),
  };
}
