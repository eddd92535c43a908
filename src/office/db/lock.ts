import { readFile, rm, writeFile } from 'node:fs/promises';

export interface FolderLock {
  release(): Promise<void>;
}

const alive = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
};

/**
 * One office at a time may have a data folder open: two would destroy it. Beside the folder lies a file with the number of
 * the process; one that a killed office left behind is taken over. Throws when another office is running.
 */
export async function lockFolder(folder: string): Promise<FolderLock> {
  const path = `${folder.replace(/\/+$/, '')}.lock`;
  for (let tries = 0; tries < 3; tries++) {
    try {
      await writeFile(path, String(process.pid), { flag: 'wx' });
      return { release: () => rm(path, { force: true }) };
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
    const holder = Number(await readFile(path, 'utf8').catch(() => ''));
    if (holder > 0 && holder !== process.pid && alive(holder)) {
      throw new Error(
        `Another office (process ${holder}) has this data folder open: stop it first, or set DATABASE_URL to share a PostgreSQL.`,
      );
    }
    if (holder === process.pid) throw new Error('This office has the data folder open already.');
    await rm(path, { force: true });
  }
  throw new Error('The data folder could not be locked: start again.');
}
