import { closeSync, fsyncSync, openSync } from 'node:fs';
import { open, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import { NodeFS } from '@electric-sql/pglite/nodefs';

/*
 * The embedded engine as it comes asks for no fsync (-F), and the file system under it has none: what it calls committed
 * lies in the system's cache. Here it runs with fsync on, on a file system that has it, so that PostgreSQL's own order of
 * writes holds: its log is on the disk before a commit is answered, its tables before the log is given up.
 */

/** WASI's number for an input or output error: PostgreSQL then stops and recovers from its log, as it must. */
const EIO = 29;

interface Stream {
  /** The file's descriptor here; a folder has none. */
  readonly nfd?: number;
  readonly node: object;
}

interface Mounted {
  readonly NODEFS: {
    readonly stream_ops: { fsync?: (stream: Stream) => number };
    realPath(node: object): string;
  };
}

function syncPath(path: string): void {
  const descriptor = openSync(path, 'r');
  try {
    fsyncSync(descriptor);
  } finally {
    closeSync(descriptor);
  }
}

/** A folder on this machine's disk, for the embedded database, with fsync. Counts how often it was asked for. */
export class SyncedFs extends NodeFS {
  syncs = 0;

  override async init(
    lite: Parameters<NodeFS['init']>[0],
    options: Parameters<NodeFS['init']>[1],
  ): ReturnType<NodeFS['init']> {
    const { emscriptenOpts } = await super.init(lite, options);
    const before = emscriptenOpts.preRun ?? [];
    const addSync = (module: unknown) => {
      const { NODEFS } = module as Mounted;
      NODEFS.stream_ops.fsync = ({ nfd, node }) => {
        this.syncs++;
        try {
          if (nfd === undefined) syncPath(NODEFS.realPath(node));
          else fsyncSync(nfd);
          return 0;
        } catch {
          return EIO;
        }
      };
    };
    return {
      emscriptenOpts: {
        ...emscriptenOpts,
        preRun: [...(Array.isArray(before) ? before : [before]), addSync],
      },
    };
  }
}

/** Start parameters that ask for fsync. The log must use `fsync`: the engine's build has nothing behind `fdatasync`. */
export const syncedParams = (): string[] => [
  ...PGlite.defaultStartParams.filter((one) => one !== '-F'),
  '-c',
  'wal_sync_method=fsync',
];

/** Brings a folder that was just made onto the disk, with everything in it. */
export async function syncTree(folder: string): Promise<void> {
  for (const entry of await readdir(folder, { withFileTypes: true, recursive: true })) {
    if (!entry.isFile() && !entry.isDirectory()) continue;
    const handle = await open(join(entry.path, entry.name), 'r');
    await handle.sync().finally(() => handle.close());
  }
  const handle = await open(folder, 'r');
  await handle.sync().finally(() => handle.close());
}
