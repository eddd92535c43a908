import { checkChain } from '../../src/journal/chain.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { replay } from '../../src/journal/replay.ts';
import { Bench, jobOf, journalOf } from './app.ts';
import { breakWrites, catchEars, type How, unbreak } from './fault-inject.ts';
import type { AtJob, Fault } from './fault-table.ts';
import { Hands } from './hands.ts';
import { until } from './screen.ts';

/** What came of one fault. */
export interface Outcome {
  /** What the screen said; empty where the job just went on. */
  readonly said: string;
  /** What the app said of it elsewhere. */
  readonly told: string;
  readonly taken: boolean;
  /** Everything that is not as it must be; empty: nothing was lost, nothing taken twice, the journal is whole. */
  readonly wrong: readonly string[];
}

// These say nothing of the work itself.
const ASIDE = ['pause', 'resume', 'note', 'signOn'];
const work = (records: readonly JournalRecord[]): JournalRecord[] =>
  records.filter(({ outcome, event }) => outcome === 'accepted' && !ASIDE.includes(event.type));

interface Deed {
  readonly taken: boolean;
  readonly said: string;
}

/** Presses until the screen shows that the next piece of work was taken, or says why it was not. */
export async function deed(
  at: AtJob,
  write: string | null,
  how: How = 'stored',
  closes = false,
): Promise<Deed> {
  const { hands } = at;
  if (write) await breakWrites(hands.page, how, write, closes);
  const before = await hands.atStation();
  let now = before;
  let said = '';
  // A press turns a page, reads a sentence on, wakes a paused job, or does the work: six are plenty.
  for (let press = 0; press < 6; press++) {
    const sight = await hands.doRight();
    now = sight.job ?? now;
    if (now.over?.title === 'Paused') said = now.over.text;
    // A sentence that stood there before is only read on.
    if (now.fault !== '' && now.fault !== before.fault) return { taken: false, said: now.fault };
    // Only work moves on; a pause or its end, which may be the last thing told of by then, stays where it is.
    const told = now.accepted !== before.accepted && !/paused|resumed/.test(now.accepted);
    if (now.over === null && (now.station !== before.station || told)) {
      if (write) await unbreak(hands.page);
      return { taken: true, said };
    }
  }
  return { taken: false, said: now.fault };
}

/** A bench with the demo workshop. */
export async function openBench(origin: string): Promise<Bench> {
  // Chromium's own made-up microphone: the streams, tracks and workers behind it are real.
  const flags = ['--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream'];
  const bench = await Bench.open(origin, { flags });
  await bench.context.addInitScript(catchEars);
  const hands = await bench.hands();
  await hands.page.evaluate(async () => void (await navigator.serviceWorker.ready));
  await hands.loadDemo();
  return bench;
}

/** A new job in a window of its own, a few records on. The other windows are closed. */
export async function openJob(bench: Bench): Promise<AtJob> {
  const old = bench.context.pages();
  const page = await bench.context.newPage();
  await page.goto(`${bench.origin}/`);
  for (const one of old) await one.close();
  const hands = new Hands(page);
  await hands.startJob(/^Renew chain and sprockets/, /^Trail machine 4/, /Tomas Reedle/);
  const at: AtJob = { bench, hands, job: jobOf(page) };
  for (let n = 0; n < 3; n++) await deed(at, null);
  return at;
}

/** Injects one fault into the job, presses on through it, mends it, presses again, and looks at what was kept. */
export async function tryFault(at: AtJob, fault: Fault, how: How): Promise<Outcome> {
  const wrong: string[] = [];
  const read = () => journalOf(at.hands.page, at.job);
  const before = await read();
  const stood = await at.hands.atStation();
  await fault.break?.(at, how);

  const pressed = await deed(at, fault.write, how, fault.closes === true);
  const shown = await at.hands.atStation();
  await unbreak(at.hands.page);
  const expected = how === 'stored' && !fault.refusedAnyway;
  if (pressed.taken !== expected) wrong.push(`${pressed.taken ? 'taken' : 'not taken'}: ${pressed.said}`);
  if (!pressed.taken && !fault.says.test(pressed.said)) wrong.push(`said: ${pressed.said}`);
  if (!pressed.taken && fault.brings === undefined && shown.station !== stood.station)
    wrong.push(`moved on to ${shown.station} without being taken`);

  const told = (await fault.tells?.(at)) ?? '';
  await fault.mend?.(at);
  const again = await deed(at, null);
  if (!again.taken) wrong.push(`mended, it is still not taken: ${again.said}`);

  const after = await read();
  const done = work(after).length - work(before).length;
  const should = (fault.brings ?? 0) + (pressed.taken ? 1 : 0) + 1;
  if (done !== should) wrong.push(`${done} pieces of work in the journal, ${should} were shown as taken`);
  if (JSON.stringify(after.slice(0, before.length)) !== JSON.stringify(before))
    wrong.push('earlier records changed');
  for (const { says } of [...checkChain(after), ...replay(after).findings]) wrong.push(says);
  const times = after.map(({ at: moment }) => moment);
  if (times.some((moment, n) => n > 0 && moment < (times[n - 1] ?? '')))
    wrong.push('time went back in the journal');

  // And after a restart it stands where it stood.
  const { station } = await at.hands.atStation();
  await at.hands.page.reload();
  const { job } = await until(at.hands.page, 'the job again', (sight) => sight.screen === 'job');
  if (job?.station !== station)
    wrong.push(`after a restart it stands at ${job?.station} and not at ${station}`);
  return { said: pressed.said, told, taken: pressed.taken, wrong };
}
