import type { Page } from 'playwright-core';
import { type Hands, onShelf } from './hands.ts';
import { until } from './screen.ts';

/** A screen of the app with what it is called, and from how far it is meant to be read. */
export interface Met {
  readonly name: string;
  /** `far`: from where the work is. `near`: worked with a hand on it. `desk`: a page at a desk, with type of a desk's size. */
  readonly read: 'far' | 'near' | 'desk';
}

const met = (name: string, read: Met['read'] = 'far'): Met => ({ name, read });

const heading = (page: Page, wanted: RegExp) =>
  until(page, `${wanted}`, ({ heading: said, text }) => wanted.test(said) || wanted.test(text));

/** Back to the shelf, however many screens lie over it. */
async function home(hands: Hands): Promise<void> {
  for (let n = 0; n < 6 && !onShelf(await hands.look()); n++) {
    await hands.tap('Escape');
    await hands.page.waitForTimeout(150);
  }
  await until(hands.page, 'the shelf', onShelf);
}

/** Works on, doing everything right, until `wanted` holds of the station that is shown. */
async function workTo(
  hands: Hands,
  wanted: (sight: Awaited<ReturnType<Hands['atStation']>>) => boolean,
): Promise<void> {
  for (let turn = 0; turn < 90; turn++) {
    const sight = await hands.atStation();
    if (!sight.over && wanted(sight)) return;
    await hands.doRight();
  }
  throw new Error('No such station was met.');
}

async function* book({ page }: Hands): AsyncGenerator<Met> {
  const click = async (name: string | RegExp) => {
    await page.getByRole('button', { name }).first().click();
    await page.waitForTimeout(400);
  };
  yield met('book jobs', 'desk');
  await page.locator('hf-book-jobs tbody button').first().click();
  await page.waitForTimeout(1200);
  yield met('book record', 'desk');
  await click(/^Story/);
  yield met('book story', 'desk');
  for (const [name, chapter] of [
    ['book rates', 'Hold points'],
    ['book bundle', 'Bundle'],
    ['book log', 'Log of seals'],
    ['book verify', 'Verify'],
  ] as const) {
    await click(chapter);
    yield met(name, 'desk');
  }
}

async function* procedures(hands: Hands): AsyncGenerator<Met> {
  const { page } = hands;
  await hands.take(/^Procedures/);
  // This list lies inside the place where a file can be dropped.
  await page.locator('hf-choose li', { hasText: 'Re-check' }).waitFor();
  yield met('procedures');
  await hands.tap('Digit2');
  await heading(page, /Hold points and their proof/);
  yield met('procedure');
  for (const [line, name] of [
    [/^Hold points and their proof/, 'certificate'],
    [/^Chart and outline/, 'chart'],
    [/^Practise it/, 'practice set-up'],
  ] as const) {
    await hands.take(line);
    await page.waitForTimeout(900);
    yield met(name, name === 'practice set-up' ? 'far' : 'desk');
    await hands.tap('Escape');
    await heading(page, /Chart and outline/);
  }
}

async function* overStation(hands: Hands): AsyncGenerator<Met> {
  const { page } = hands;
  const shows = (title: RegExp) => until(page, `${title}`, ({ job }) => title.test(job?.over?.title ?? ''));
  for (const [key, title, name] of [
    ['?', /What can be done/, 'words'],
    ['w', /Why/, 'why'],
    ['s', /Stop the job/, 'stop'],
    ['n', /Note/, 'note'],
    ['p', /Paused/, 'paused'],
  ] as const) {
    await page.keyboard.press(key);
    await shows(title);
    yield met(name);
    await (name === 'paused' ? hands.tap() : page.keyboard.press('Escape'));
    await until(page, 'the station', ({ job }) => job?.over === null);
  }
  await page.keyboard.press('t');
  await shows(/What is wrong/);
  yield met('trouble');
  await hands.tap('Digit1');
  await shows(/What is decided/);
  yield met('decision');
  await hands.tap('Digit1');
  await shows(/Back to where/);
  await hands.tap('Digit1');
  await shows(/For what reason/);
  await hands.tap('Digit1');
  await shows(/Who decides|Sign on/);
  const { job } = await hands.look();
  if (/Who decides/.test(job?.over?.title ?? '')) {
    yield met('who decides');
    await hands.tap('Digit1');
    await page.waitForTimeout(200);
  }
  const asked = (await hands.look()).job?.over;
  if (asked && /Sign on/.test(asked.title)) {
    yield met('sign on at the bench');
    await hands.givePin(asked.text);
  }
  await until(page, 'the station again', (now) => now.job !== null && now.job.over === null);
}

async function* wholeJob(hands: Hands): AsyncGenerator<Met> {
  const { page } = hands;
  const met_ = new Set<string>();
  for (let turn = 0; turn < 200; turn++) {
    const sight = await hands.look();
    if (sight.screen !== 'job' || !sight.job) break;
    const kind = sight.job.over ? 'over' : sight.job.hold ? 'hold' : sight.job.kind;
    if (!met_.has(kind) && kind !== 'over') {
      met_.add(kind);
      yield met(`station ${kind}`);
      if (kind === 'kit' && sight.job.more) {
        await hands.tap();
        await page.waitForTimeout(200);
        yield met('station kit, last page');
      }
      if (kind === 'hold') {
        await hands.readAll();
        await hands.tap();
        await until(page, 'the refusal', (now) => now.job?.refused !== '');
        yield met('refused');
        yield* overStation(hands);
        continue;
      }
    }
    await hands.doRight();
  }
  await page.waitForTimeout(600);
  yield met('finish');
  await hands.tap('Escape');
  await until(page, 'the shelf', onShelf);
}

/** Walks the whole app as a newcomer does, by keys, from the first start to a sealed record and the book. */
export async function* allScreens(hands: Hands): AsyncGenerator<Met> {
  const { page } = hands;
  await until(page, 'the first start', ({ options }) => options.length > 0);
  yield met('welcome');
  await hands.loadDemo();
  yield met('shelf');
  await hands.take(/^This bench/);
  await heading(page, /^This bench/);
  await page.waitForTimeout(500);
  yield met('bench', 'near');
  await home(hands);
  await hands.take(/^Set up the pedal/);
  await page.waitForTimeout(300);
  yield met('pedal', 'near');
  await home(hands);
  await hands.take(/^Set the reading distance/);
  await heading(page, /outline as wide/);
  yield met('card', 'near');
  await hands.tap('Enter');
  await heading(page, /From how far/);
  yield met('distance');
  await home(hands);
  await hands.take(/^Plan the gearing/);
  yield met('which machine');
  await hands.take(/^Trail machine/);
  await heading(page, /^Gearing/);
  await hands.tap('Digit4');
  await page.waitForTimeout(500);
  yield met('planner', 'near');
  await home(hands);
  yield* procedures(hands);
  await home(hands);
  await hands.take(/^Open the record book/);
  await page.waitForTimeout(1500);
  yield* book(hands);
  await page.getByRole('button', { name: 'Close the book' }).click();
  await until(page, 'the shelf', onShelf);
  await hands.take(/^Start a job/);
  yield met('which job');
  await hands.take(/^Renew chain/);
  await hands.take(/^School machine 1/);
  yield met('who');
  await hands.take(/^Tomas/);
  const { text } = await until(page, 'the PIN', ({ screen }) => screen === 'pin');
  yield met('PIN', 'near');
  await hands.givePin(text);
  await workTo(hands, ({ kind, say }) => kind === 'kit' && /out/.test(say));
  yield* wholeJob(hands);
}
