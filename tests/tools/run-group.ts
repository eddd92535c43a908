import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** Tests that run in a process of their own. */
export interface Group {
  readonly name: string;
  /** Projects of tests/vitest.config.ts. */
  readonly projects: readonly string[];
  /** These of their files only; all files but these. */
  readonly only?: readonly string[];
  readonly without?: readonly string[];
  /** Leaves the processor to the others. */
  readonly yields?: true;
  /** Files at once; vitest's own default when not given. */
  readonly workers?: number;
}

export interface GroupResult {
  readonly name: string;
  readonly passed: number;
  readonly failed: number;
  readonly skipped: number;
  /** Files that were run, with their paths. */
  readonly files: readonly string[];
  /** Everything that it printed. */
  readonly output: string;
  readonly seconds: number;
  /** What went wrong, in a few words; null where all passed. */
  readonly wrong: string | null;
}

/** The part of vitest's JSON report that is read here. */
interface Report {
  readonly numPassedTests: number;
  readonly numFailedTests: number;
  readonly numPendingTests: number;
  readonly testResults: readonly { readonly name: string }[];
}

/** Far below what presses keys and listens; still above nothing, where the machine has other work as well. */
const LOW = '10';

/** Linux shares the processors out to sessions first, and only within a session by the priority of processes. */
function yieldAsSession(pid: number | undefined): void {
  try {
    writeFileSync(`/proc/${pid}/autogroup`, LOW);
  } catch {
    // A system without them goes by the priority of processes alone.
  }
}

const running = new Set<number>();
process.on('exit', () => {
  for (const pid of running) {
    try {
      process.kill(-pid, 'SIGTERM');
    } catch {
      // It has ended by itself.
    }
  }
});
process.on('SIGINT', () => process.exit(130));
process.on('SIGTERM', () => process.exit(143));

/** Runs a group to its end. */
export async function runGroup(root: string, group: Group): Promise<GroupResult> {
  const { name, projects, only = [], without = [], yields, workers } = group;
  const report = join(root, '.cache', `tests-${name.replace(/\W+/g, '-')}.json`);
  rmSync(report, { force: true });
  const command = [
    ...(yields && process.platform !== 'win32' ? ['nice', '-n', LOW] : []),
    process.execPath,
    join(root, 'node_modules/vitest/vitest.mjs'),
    ...['run', '--config', 'tests/vitest.config.ts'],
    ...projects.flatMap((project) => ['--project', project]),
    ...only,
    ...without.flatMap((file) => ['--exclude', file]),
    ...(workers === undefined ? [] : [`--maxWorkers=${workers}`]),
    ...['--reporter=default', '--reporter=json', `--outputFile.json=${report}`],
  ];
  const began = performance.now();
  const [program = '', ...given] = command;
  const child = spawn(program, given, {
    cwd: root,
    // What serves the app finds it built: see run-tests.ts.
    env: { ...process.env, HOLDFAST_BUILT: '1' },
    stdio: ['ignore', 'pipe', 'pipe'],
    // A session, and so a process group, of its own.
    detached: true,
  });
  if (child.pid !== undefined) running.add(child.pid);
  if (yields) yieldAsSession(child.pid);
  let output = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.setEncoding('utf8');
    stream.on('data', (piece: string) => {
      output += piece;
    });
  }
  const ending = await once(child, 'close').catch((error: Error) => [error.message, null]);
  if (child.pid !== undefined) running.delete(child.pid);
  const seconds = (performance.now() - began) / 1000;
  let read: Report | null = null;
  try {
    read = JSON.parse(readFileSync(report, 'utf8')) as Report;
  } catch {
    // Said below.
  }
  const failed = read?.numFailedTests ?? 0;
  const ended = read === null ? 'did not run to its end' : `${failed} failed`;
  return {
    name,
    passed: read?.numPassedTests ?? 0,
    failed,
    skipped: read?.numPendingTests ?? 0,
    files: read?.testResults.map((result) => result.name) ?? [],
    output,
    seconds,
    wrong:
      ending[0] === 0 && read !== null ? null : `${ended} (ended with ${ending.find((one) => one !== null)})`,
  };
}
