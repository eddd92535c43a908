import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('../..', import.meta.url));

export interface Server {
  /** Where the app is served, without a slash at the end. */
  readonly origin: string;
  stop(): Promise<void>;
}

/** More for a command that builds what is older than its sources: nothing is built anew while all tests run. */
export const BUILT = process.env.HOLDFAST_BUILT ? ['--no-build'] : [];

/** The command behind `npm start`, on a port that is free: builds the app when it is older than its sources. */
export async function serve(): Promise<Server> {
  // The test runner's NODE_ENV would make it a build for developers.
  const { NODE_ENV: _, ...env } = process.env;
  const child = spawn(process.execPath, ['--import', 'tsx', 'src/cli/start.ts', ...BUILT], {
    cwd: ROOT,
    env: { ...env, PORT: '0' },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const gone = once(child, 'exit');
  const said = async () => {
    for await (const line of createInterface({ input: child.stdout })) {
      const origin = /http:\/\/\S+/.exec(line)?.[0];
      if (origin) return origin;
    }
    throw new Error('The server ended before it said where it serves.');
  };
  const origin = await said();
  child.stdout.resume();
  return {
    origin,
    async stop() {
      child.kill();
      await gone;
    },
  };
}
