import { execFile } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Bench, jobOf, journalOf } from './app.ts';
import { Authenticator } from './authenticator.ts';
import { axeFinds } from './axe.ts';
import { type Hands, onShelf } from './hands.ts';
import { type Sight, until } from './screen.ts';
import { ROOT, type Server, serve } from './server.ts';

/* Passkeys in the built app, with an authenticator of the browser's own: real keys and signatures, no network needed. */

let server: Server;
let bench: Bench;
let hands: Hands;
let key: Authenticator;
beforeAll(async () => {
  server = await serve();
  bench = await Bench.open(server.origin);
  hands = await bench.hands();
  key = await Authenticator.plugIn(hands.page);
  await hands.loadDemo();
});
afterAll(async () => {
  await bench.close();
  await server.stop();
});

const sees = (what: RegExp): Promise<Sight> => until(hands.page, String(what), ({ text }) => what.test(text));
const atPin = () => until(hands.page, 'the PIN', ({ screen }) => screen === 'pin');

/** Out to the shelf, from wherever this is. */
async function toShelf(): Promise<void> {
  for (let n = 0; n < 6; n++) {
    if (onShelf(await hands.look())) return;
    await hands.tap('Escape');
    await hands.page.waitForTimeout(150);
  }
  await until(hands.page, 'the shelf', onShelf);
}

async function person(name: RegExp): Promise<void> {
  await toShelf();
  await hands.take(/^People/);
  await until(hands.page, 'the people', ({ heading }) => heading === 'People');
  await hands.take(name);
  await until(hands.page, 'the person', ({ heading }) => name.test(heading));
}

async function enrol(name: RegExp): Promise<void> {
  await person(name);
  await hands.take(/^Enrol a passkey/);
  await hands.givePin((await atPin()).text);
  await sees(/The passkey is enrolled/);
}

/** From the shelf to where this person is asked who they are. */
async function ordered(name: RegExp): Promise<Sight> {
  await toShelf();
  await hands.take(/^Start a job/);
  for (const answer of [/^Renew chain/, /School machine/, name]) await hands.take(answer);
  return atPin();
}

/** Asked for a passkey, the app says this, and the job does not begin. */
async function refused(says: RegExp): Promise<void> {
  await hands.tap();
  await sees(says);
  expect((await hands.look()).screen).toBe('pin');
}

const titled = (title: RegExp) =>
  until(hands.page, String(title), ({ job }) => title.test(job?.over?.title ?? ''));

async function answer(question: RegExp, wanted: RegExp): Promise<void> {
  const { job } = await titled(question);
  const at = (job?.over?.options ?? []).findIndex(({ text }) => wanted.test(text));
  await hands.tap(`Digit${at + 1}`);
}

/** Over a station: the PIN or passkey is asked for, and the passkey is shown. */
async function showsPasskey(): Promise<void> {
  await until(hands.page, 'the passkey', ({ job }) => /to show your passkey/.test(job?.over?.text ?? ''));
  await hands.tap();
}

const verify = (...args: string[]): Promise<{ code: number; out: string }> =>
  new Promise((resolve) => {
    execFile(
      process.execPath,
      ['--import', 'tsx', 'src/cli/verify.ts', ...args],
      { cwd: ROOT },
      (error, out) => resolve({ code: error === null ? 0 : Number(error.code), out }),
    );
  });

describe('a passkey that is enrolled', () => {
  test('is enrolled after the PIN and no other way; a wrong PIN enrols nothing', async () => {
    await person(/^Nora/);
    await hands.take(/^Enrol a passkey/);
    await atPin();
    await hands.type('0000');
    await hands.tap('Enter');
    await sees(/That PIN is not right/);
    expect(await key.credentials()).toEqual([]);
    await enrol(/^Nora/);
    await enrol(/^Ilse/);
    await enrol(/^Tomas/);
    const kept = await key.credentials();
    expect(kept).toHaveLength(3);
    expect(kept.every(({ rpId }) => rpId === 'localhost')).toBe(true);
    expect(await axeFinds(hands.page)).toEqual([]);
    // The same authenticator a second time for the same person.
    await hands.take(/^Enrol a passkey/);
    await hands.givePin((await atPin()).text);
    await sees(/is enrolled for this person already/);
  });

  test('signs on, decides and takes over without a network; the record says so and verifies', async () => {
    await bench.context.setOffline(true);
    const asked = await ordered(/^Tomas/);
    expect(asked.text).toContain('your PIN or passkey');
    expect(await axeFinds(hands.page)).toEqual([]);
    await hands.tap();
    await hands.atStation();
    for (let n = 0; n < 3; n++) await hands.doRight();

    await hands.tap('KeyT');
    await answer(/^What is wrong/, /^A part is damaged/);
    await answer(/What is decided/, /^Rework/);
    await titled(/^Back to where/);
    await hands.tap('Digit1');
    await answer(/^For what reason/, /^It is done again/);
    await answer(/^Who decides/, /Nora/);
    await showsPasskey();
    await until(hands.page, 'the station to do again', ({ job }) => job?.over === null);

    await hands.tap('KeyP');
    await titled(/^Paused/);
    await hands.tap('Digit1');
    await answer(/^Who goes on/, /Ilse/);
    await showsPasskey();
    await titled(/^Paused/);
    await hands.tap();
    await until(hands.page, 'the job again', ({ job }) => job?.over === null);

    const job = jobOf(hands.page);
    const records = await journalOf(hands.page, job);
    const signed = records.flatMap(({ event, by, outcome }) =>
      event.type === 'signOn' ? [[by, event.how, outcome]] : [],
    );
    expect(signed).toEqual([
      ['w-tomas', 'passkey', 'accepted'],
      ['w-nora', 'passkey', 'accepted'],
      ['w-ilse', 'passkey', 'accepted'],
    ]);
    await hands.tap('KeyS');
    await titled(/^Stop the job/);
    await hands.tap('Digit1');
    await until(hands.page, 'the seal', ({ end }) => (end?.code ?? '') !== '');
    await sees(/Log of seals: \d+ · [0-9a-f]{4} [0-9a-f]{4} [0-9a-f]{4}/);
    const [download] = await Promise.all([hands.page.waitForEvent('download'), hands.tap()]);
    const file = join(bench.profile, download.suggestedFilename());
    await download.saveAs(file);
    const { code, out } = await verify(file);
    expect([code, out]).toEqual([0, expect.stringContaining('holds (')]);
    await bench.context.setOffline(false);
  });

  test('seals a bundle, which verifies and says so', async () => {
    await toShelf();
    await hands.take(/^Open the record book/);
    const { page } = hands;
    await page.getByRole('button', { name: 'Bundle' }).click();
    await page.getByLabel('From').fill(new Date(Date.now() - 400 * 86_400_000).toISOString().slice(0, 10));
    expect(await axeFinds(page)).toEqual([]);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Seal it by passkey' }).click(),
    ]);
    const file = join(bench.profile, download.suggestedFilename());
    await download.saveAs(file);
    await page.getByRole('button', { name: 'Verify', exact: true }).click();
    await page.locator('hf-book-verify input[type=file]').setInputFiles(file);
    await page.getByText(/The bundle holds: \d+ records .* sealed by Nora/).waitFor({ timeout: 60_000 });
    const manifest = JSON.parse(
      strFromU8(unzipSync(readFileSync(file))['manifest.json'] ?? new Uint8Array()),
    );
    expect(manifest.signedBy).toEqual({
      id: 'w-nora',
      name: 'Nora Vance',
      role: 'supervisor',
      how: 'passkey',
    });
    await page.getByRole('button', { name: 'Close the book' }).click();
  });

  test('a hold point is witnessed by passkey', async () => {
    await ordered(/^Pia/);
    await hands.givePin((await hands.look()).text);
    for (let n = 0; n < 60; n++) {
      const sight = await hands.readAll();
      if (sight.witnesses.length > 0) break;
      await hands.doRight();
    }
    const sight = await hands.atStation();
    const at = sight.witnesses.findIndex((name) => /Ilse/.test(name));
    expect(at, sight.witnesses.join()).toBeGreaterThanOrEqual(0);
    await hands.tap(`Digit${at + 1}`);
    await showsPasskey();
    await until(hands.page, 'the hold again', ({ job }) => job?.over === null);
    await hands.readAll();
    await hands.hold();
    await until(hands.page, 'the next station', ({ job }) => (job?.witnesses.length ?? 0) === 0);
    const records = await journalOf(hands.page, jobOf(hands.page));
    const acts = records
      .filter(({ by }) => by === 'w-ilse')
      .map(({ event, outcome }) => [event.type, outcome]);
    expect(acts).toEqual([
      ['signOn', 'accepted'],
      ['witness', 'accepted'],
    ]);
  });
});

describe('what does not sign on', () => {
  test('a passkey that is not unlocked, or that was removed from its authenticator: nothing was shown', async () => {
    await ordered(/^Tomas/);
    await key.verifies(false);
    await refused(/No passkey was shown/);
    await key.verifies(true);
    const all = await key.credentials();
    for (const { credentialId } of all) await key.remove(credentialId);
    await refused(/No passkey was shown/);
    for (const credential of all) await key.add(credential);
    await hands.tap();
    await hands.atStation();
  });

  test('the passkey of somebody else, put in by a page that was meddled with', async () => {
    await ordered(/^Tomas/);
    const all = await key.credentials();
    const kept = await hands.page.evaluate(
      () =>
        new Promise<{ id: string; person: string }[]>((resolve) => {
          const opening = indexedDB.open('holdfast-passkeys');
          opening.onsuccess = () => {
            const reading = opening.result.transaction('keys').objectStore('keys').getAll();
            reading.onsuccess = () => {
              opening.result.close();
              resolve(reading.result.map(({ id, person: of }) => ({ id, person: of })));
            };
          };
        }),
    );
    const nora = kept.find((one) => one.person === 'w-nora')?.id ?? '';
    const others = all.filter(
      ({ credentialId }) => Buffer.from(credentialId, 'base64').toString('base64url') !== nora,
    );
    for (const { credentialId } of others) await key.remove(credentialId);
    // By itself the browser does not even offer it.
    await refused(/No passkey was shown/);
    await hands.page.evaluate(() => {
      const own = navigator.credentials.get.bind(navigator.credentials);
      Object.assign(globalThis, { ownGet: own });
      navigator.credentials.get = (options) => {
        delete options?.publicKey?.allowCredentials;
        return own(options);
      };
    });
    await refused(/not a passkey of the person who is asked for/);
    await hands.page.reload();
    await until(hands.page, 'the shelf', onShelf);
    for (const credential of others) await key.add(credential);
  });

  test('an answer to an earlier question, given again', async () => {
    await hands.page.evaluate(() => {
      const own = navigator.credentials.get.bind(navigator.credentials);
      let first: Promise<Credential | null> | null = null;
      navigator.credentials.get = (options) => {
        first ??= own(options);
        return first;
      };
    });
    await ordered(/^Tomas/);
    await hands.tap();
    await hands.atStation();
    await ordered(/^Tomas/);
    await refused(/belongs to an earlier question/);
    await hands.page.reload();
    await until(hands.page, 'the shelf', onShelf);
  });

  test('a passkey whose counter went back, then and from then on; it can be taken away', async () => {
    const all = await key.credentials();
    for (const { credentialId } of all) await key.remove(credentialId);
    for (const credential of all) await key.add({ ...credential, signCount: 0 });
    await ordered(/^Ilse/);
    await refused(/may have been copied, because its counter went back/);
    const now = await key.credentials();
    for (const { credentialId } of now) await key.remove(credentialId);
    for (const credential of now) await key.add({ ...credential, signCount: 500 });
    await refused(/may have been copied/);

    await person(/^Ilse/);
    await sees(/may be a copy: Take away/);
    await hands.take(/Take away the passkey/);
    await hands.givePin((await atPin()).text);
    await sees(/The passkey was taken away/);
    const asked = await ordered(/^Ilse/);
    expect(asked.text).not.toContain('passkey');
    await hands.tap();
    expect((await hands.look()).screen).toBe('pin');
  });

  test('too many wrong tries: the next ones do not count until some time has passed', async () => {
    await hands.page.evaluate(() => {
      const own = navigator.credentials.get.bind(navigator.credentials);
      const first = own({ publicKey: { challenge: new Uint8Array(32), userVerification: 'required' } });
      navigator.credentials.get = () => first;
    });
    // The credential that the browser finds by itself is one of these; whosever it is, its answer is stale or another's.
    await ordered(/^Tomas/);
    for (let n = 0; n < 2; n++) {
      await hands.tap();
      await sees(/earlier question|not a passkey of the person/);
      await hands.page.waitForTimeout(300);
    }
    await hands.tap();
    await hands.page.waitForTimeout(500);
    await refused(/Too many wrong tries: wait \d+ s/);
    // The PIN is another way, with a count of its own.
    await hands.givePin((await hands.look()).text);
    await hands.atStation();
    await hands.page.reload();
  });
});

test('without passkeys in the browser nothing of them is shown', async () => {
  await toShelf();
  const page = await bench.context.newPage();
  await page.addInitScript('delete globalThis.PublicKeyCredential');
  await page.goto(bench.origin);
  const there = await until(page, 'the shelf', onShelf);
  expect(there.text).not.toMatch(/People|passkey/);
  await page.close();
});

test('nothing was said on the console, and nothing asked of another host', () => {
  expect(bench.complaints).toEqual([]);
});
