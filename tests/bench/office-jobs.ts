import { createHash } from 'node:crypto';
import finalDrive from '../../procedures/final-drive/index.ts';
import recheck from '../../procedures/final-drive-recheck/index.ts';
import { canonicalText } from '../../src/journal/canonical.ts';
import { FIRST_PREV } from '../../src/journal/record.ts';
import { randomJob } from '../journal/random-jobs.ts';
import { sample } from '../procedure/sample.ts';

const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');

/** A record as it is written, in pieces between which stand its moment, its own hash, its job and the hash before. */
interface Template {
  readonly at: number;
  readonly head: string;
  readonly middle: string;
  readonly tail: string;
}

export interface GeneratedJob {
  readonly job: string;
  readonly lines: readonly string[];
  readonly head: string;
  readonly outcome: 'complete' | 'stopped';
  readonly by: string;
  /** ms since 1970. */
  readonly lastAt: number;
}

interface Played {
  readonly templates: readonly Template[];
  readonly outcome: 'complete' | 'stopped';
  readonly by: string;
}

function played(seed: number): Played {
  const definition = [sample, recheck, finalDrive][seed % 3] ?? sample;
  const records = randomJob(seed, [definition]);
  const opened = records[0]?.event;
  const templates = records.map((record): Template => {
    const text = canonicalText(record);
    const at = `{"at":"${record.at}"`;
    const hash = `"hash":"${record.hash}","job":"${record.job}"`;
    const prev = `"prev":"${record.prev}"`;
    const from = text.lastIndexOf(hash);
    const to = text.lastIndexOf(prev);
    return {
      at: Date.parse(record.at),
      head: text.slice(at.length, from),
      middle: text.slice(from + hash.length, to),
      tail: text.slice(to + prev.length),
    };
  });
  const outcome = records.at(-1)?.station === 'stopped' ? 'stopped' : 'complete';
  return { templates, outcome, by: opened?.type === 'job.opened' ? (opened.people[0]?.id ?? '') : '' };
}

/**
 * Makes any number of valid jobs: a few were really run, and each made job is one of them with a name and times of its own,
 * chained anew. Only the hashing is done for each, so that the maker keeps ahead of what is measured.
 */
export function jobMaker(
  kinds = 24,
  from = Date.parse('2025-09-01T07:00:00.000Z'),
): (n: number) => GeneratedJob {
  const jobs = Array.from({ length: kinds }, (_, seed) => played(seed + 1));
  return (n) => {
    const one = jobs[n % jobs.length] as Played;
    const job = `aaaaaaaa-0000-4000-8000-${n.toString(16).padStart(12, '0')}`;
    const shift = from + n * 3_600_000 - (one.templates[0]?.at ?? 0);
    let prev = FIRST_PREV;
    let lastAt = 0;
    const lines = one.templates.map(({ at, head, middle, tail }) => {
      lastAt = at + shift;
      const begin = `{"at":"${new Date(lastAt).toISOString()}"${head}`;
      const end = `"job":"${job}"${middle}"prev":"${prev}"${tail}`;
      prev = sha256(begin + end);
      return `${begin}"hash":"${prev}",${end}\n`;
    });
    return { job, lines, head: prev, outcome: one.outcome, by: one.by, lastAt };
  };
}
