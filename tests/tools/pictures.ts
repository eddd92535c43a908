import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { Bench } from '../whole/app.ts';
import type { Hands } from '../whole/hands.ts';
import { type JobSight, until } from '../whole/screen.ts';
import { ROOT, serve } from '../whole/server.ts';

/*
 * npx tsx tests/tools/pictures.ts
 * Takes the README's pictures anew: a whole job in the built app, as a person does it by keys.
 */
const folder = join(ROOT, 'assets/pictures');
mkdirSync(folder, { recursive: true });

const server = await serve();
const bench = await Bench.open(server.origin);
const taken = new Set<string>();

async function take(hands: Hands, name: string): Promise<void> {
  if (taken.has(name)) return;
  taken.add(name);
  await hands.page.screenshot({ path: join(folder, `${name}.png`) });
  console.log(name);
}

/** The kind of picture that this station makes, or null when it is of no new kind. */
function kindOf(sight: JobSight): string | null {
  if (sight.over) return null;
  if (sight.witnesses.length > 0) return 'witness';
  if (sight.hold) return sight.asked ? 'figure-hold' : 'hold';
  const kinds: Readonly<Record<string, string>> = {
    step: sight.place.includes('Station 2 ') ? 'step' : '',
    kit: 'kit',
    fork: 'fork',
    round: 'round',
    working: 'working',
  };
  return kinds[sight.kind] || null;
}

async function extras(hands: Hands, kind: string): Promise<void> {
  if (kind === 'hold' && !taken.has('refused')) {
    await hands.readAll();
    await hands.tap();
    await until(hands.page, 'a refusal', ({ job }) => job?.refused !== '');
    await take(hands, 'refused');
    await hands.tap('KeyW');
    await until(hands.page, 'the reason', ({ job }) => job?.over !== null);
    await take(hands, 'why');
    await hands.tap('KeyW');
    await until(hands.page, 'the hold', ({ job }) => job?.over === null);
  }
  if (kind === 'fork' && !taken.has('pause')) {
    await hands.tap('KeyP');
    await until(hands.page, 'the pause', ({ job }) => job?.over?.title === 'Paused');
    await take(hands, 'pause');
    await hands.tap();
    await until(hands.page, 'the job', ({ job }) => job?.over === null);
  }
}

try {
  const hands = await bench.hands();
  await hands.loadDemo();
  await take(hands, 'shelf');
  await hands.take(/^Plan the gearing/);
  await hands.take(/Trail machine/);
  await until(hands.page, 'the planner', ({ text }) => text.includes('Gearing, Trail'));
  await hands.tap('Digit4');
  await hands.page.waitForTimeout(500);
  await take(hands, 'planner');
  await hands.tap('Escape');
  await hands.startJob(/^Renew chain/, /Trail machine/, /Ilse/);
  for (let n = 0; n < 400; n++) {
    const sight = await hands.look();
    if (sight.screen !== 'job' || !sight.job) break;
    const kind = kindOf(sight.job);
    if (kind) await take(hands, kind);
    if (kind) await extras(hands, kind);
    if (kind === 'figure-hold' && !taken.has('figure')) {
      await hands.readAll();
      await hands.type(hands.figureFor(await hands.atStation()));
      await hands.tap('Enter');
      await until(hands.page, 'the read-back', ({ job }) => job?.asked?.readBack === true);
      await take(hands, 'figure');
      await hands.tap('Enter');
      await until(hands.page, 'the next station', ({ job }) => job?.station !== sight.job?.station);
      continue;
    }
    await hands.doRight();
  }
  await hands.page.waitForTimeout(800);
  await take(hands, 'finish');
  if (bench.complaints.length > 0) console.error(bench.complaints.join('\n'));
} finally {
  await bench.close();
  await server.stop();
}
