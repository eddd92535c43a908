import { afterAll, beforeAll, expect, test } from 'vitest';
import { Bench, jobOf, journalOf } from './app.ts';
import { type Hands, onShelf } from './hands.ts';
import { Mouth } from './mouth.ts';
import { until } from './screen.ts';
import { type Server, serve } from './server.ts';

// A person teaches the bench their own word for "next step", in another language, works with it, leaves a voice note
// without a hand, and is forgotten again; a sound file is the microphone.

let server: Server;
let mouth: Mouth;
let bench: Bench;
beforeAll(async () => {
  server = await serve();
  mouth = new Mouth();
  bench = await Bench.open(server.origin, { width: 1920, height: 1200, flags: mouth.flags });
});
afterAll(async () => {
  await bench.close();
  mouth.close();
  await server.stop();
});

const headed = (hands: Hands, heading: RegExp, ms?: number) =>
  until(hands.page, String(heading), (sight) => heading.test(sight.heading), ms);

/** From the shelf to the set-up of the voice: the fourth part of this bench. */
async function toVoice(hands: Hands): Promise<void> {
  await hands.take(/^This bench/);
  await headed(hands, /This bench/);
  await hands.tap('Digit4');
  await headed(hands, /^Voice$/);
}

async function toPerson(hands: Hands): Promise<void> {
  await hands.take(/Teach it a voice/);
  await headed(hands, /Whose voice/);
  await hands.take(/Tomas Reedle/);
  await headed(hands, /The voice of Tomas Reedle/);
}

async function toShelf(hands: Hands): Promise<void> {
  for (let n = 0; n < 6; n++) {
    // One look for both: the shelf may come between two of them, and from there Esc leads nowhere.
    const before = await hands.look();
    if (onShelf(before)) return;
    await hands.tap('Escape');
    await until(hands.page, 'the screen before', (sight) => sight.text !== before.text);
  }
}

test('a word is taught, used at work, and forgotten; a voice note needs no hand', {
  timeout: 120_000,
}, async () => {
  const hands = await bench.hands();
  const { page } = hands;
  await hands.loadDemo();
  await toVoice(hands);

  // What the browser has is asked with a time-out; here it has nothing that works without a network.
  await hands.take(/^Engine/);
  const { options } = await headed(hands, /Which engine/, 5000);
  expect(options[1]?.text).toMatch(/not available: .*on this device/);
  await hands.tap('Escape');
  await headed(hands, /^Voice$/);

  await toPerson(hands);
  await hands.take(/The command words 0 of 18/);
  await headed(hands, /The command words/);
  mouth.prepare(['own-word', 'own-word', 'own-word'], 0.7);
  const began = performance.now();
  await hands.take(/Teach them/);
  await until(page, 'the second word', ({ text }) => /word 2 of 18/.test(text), 25_000);
  // Three takes of one of the eighteen, the opening of the microphone and 2.5 s of quiet before it included.
  expect(performance.now() - began).toBeLessThan(20_000);
  await hands.tap('Escape');
  await headed(hands, /The voice of Tomas Reedle/);
  expect((await hands.look()).options[0]?.text).toMatch(/1 of 18 safe/);

  await toShelf(hands);
  await hands.take(/^Listen for spoken words/);
  await until(page, 'that it listens', (sight) =>
    sight.options.some(({ text }) => /Listening: switch/.test(text)),
  );
  await hands.startJob(/^Re-check chain/, /^School machine 1/, /Tomas Reedle/);
  while ((await hands.atStation()).station !== 'engineOff') await hands.doRight();
  const job = jobOf(page);

  // Own word; then a note, in which a command is no command. A busy machine may lose a word: then it is taken up there.
  const attached = async () => {
    const records = await journalOf(page, job);
    return records.find(({ event }) => event.type === 'attach');
  };
  const seen: string[] = [];
  for (let tries = 0; tries < 3 && !(await attached()); tries++) {
    const first = (await hands.atStation()).station === 'engineOff' ? ['own-word'] : [];
    const ms = await mouth.speak(hands, [...first, 'take note', 'next step', 'end of note']);
    for (
      const from = performance.now();
      performance.now() - from < ms + 1500;
      await page.waitForTimeout(150)
    ) {
      seen.push((await hands.look()).text);
      if (await attached()) break;
    }
  }
  expect(seen.some((text) => /Say what is to be noted/.test(text))).toBe(true);
  const note = await attached();
  expect(note).toMatchObject({
    outcome: 'accepted',
    via: 'voice',
    event: { type: 'attach', kind: 'voice', sha256: expect.stringMatching(/^[0-9a-f]{64}$/) },
  });
  const spoken = (await journalOf(page, job)).filter(({ via }) => via === 'voice');
  expect(spoken.map(({ event }) => event.type)).toEqual(['advance', 'attach']);
  expect((await hands.atStation()).station).toBe('engineCold');

  await hands.tap('Escape');
  await until(page, 'the shelf', onShelf);
  await toVoice(hands);
  await toPerson(hands);
  await hands.take(/Forget all of it/);
  await hands.take(/Forget it all/);
  await until(page, 'nothing taught', (sight) => /0 of 18 safe/.test(sight.options[0]?.text ?? ''));
  expect(bench.complaints).toEqual([]);
});
