import { afterEach, expect, test } from 'vitest';
import { openBrowserRecogniser, probe, type SpeechApi } from '../../src/hear/browser-recogniser.dom.ts';
import type { Phrase } from '../../src/hear/ear.ts';
import type { Recogniser, RecogniserEvents } from '../../src/hear/recogniser.ts';

// The rules of the port against a small stand-in for the browser's interface, which cannot work without a network here.

class Fake extends EventTarget {
  static last: Fake;
  static available: (options: { langs: string[]; processLocally: boolean }) => Promise<string> = async () =>
    'available';
  lang = '';
  continuous = false;
  interimResults = true;
  maxAlternatives = 1;
  starts = 0;
  aborts = 0;
  #local = false;
  constructor() {
    super();
    Fake.last = this;
  }
  get processLocally(): boolean {
    return this.#local;
  }
  set processLocally(on: boolean) {
    this.#local = on;
  }
  start(): void {
    this.starts += 1;
    queueMicrotask(() => this.dispatchEvent(new Event('start')));
  }
  abort(): void {
    this.aborts += 1;
    queueMicrotask(() => this.dispatchEvent(new Event('end')));
  }
  writes(text: string, confidence = 0.9): void {
    const result = Object.assign([{ transcript: text, confidence }], { isFinal: true });
    this.dispatchEvent(Object.assign(new Event('result'), { resultIndex: 0, results: [result] }));
  }
}

const api = Fake as unknown as SpeechApi;
const live: Phrase[] = [
  { text: 'next step', kind: 'word' },
  { text: 'every line unbroken', kind: 'hold' },
];
let opened: Recogniser | null = null;
afterEach(() => {
  opened?.close();
  opened = null;
  Fake.available = async () => 'available';
});

const turn = (ms = 30) => new Promise((done) => setTimeout(done, ms));
const silence = async () => new AudioContext().createMediaStreamDestination().stream;

async function open(kind: 'device' | 'server' = 'device') {
  const told: string[] = [];
  const events: RecogniserEvents = {
    heard: ({ phrase }) => told.push(phrase),
    nearly: ({ refusal }) => told.push(refusal.code),
    level: () => undefined,
    lost: ({ code }) => told.push(code),
  };
  const engine = await openBrowserRecogniser(kind, events, api, silence);
  if ('code' in engine) throw new Error(engine.says);
  opened = engine;
  engine.listen(live);
  await turn();
  return { engine, told, fake: Fake.last };
}

test('an engine that hangs, fails or is not here is not available, in good time', async () => {
  Fake.available = () => new Promise(() => undefined);
  expect(await probe('device', api, 50)).toMatchObject({
    there: false,
    says: expect.stringMatching(/in time/),
  });
  Fake.available = () => Promise.reject(new Error('no'));
  expect((await probe('device', api)).there).toBe(false);
  Fake.available = async () => 'downloadable';
  expect(await probe('device', api)).toMatchObject({ says: expect.stringMatching(/install it/) });
  expect((await probe('device', null)).there).toBe(false);
});

test('a browser that cannot promise to stay on the device is never asked to listen there', async () => {
  class Old extends EventTarget {}
  expect((await probe('device', Old as unknown as SpeechApi)).there).toBe(false);
  const { fake } = await open('device');
  expect(fake.processLocally).toBe(true);
  opened?.close();
  expect((await open('server')).fake.processLocally).toBe(false);
});

test('this browser has nothing that works without a network', async () => {
  const began = performance.now();
  expect((await probe('device')).there).toBe(false);
  expect(performance.now() - began).toBeLessThan(3500);
});

test('what it writes counts by the rules of the bench; talk does not', async () => {
  const { fake, told } = await open();
  fake.writes('Next step');
  fake.writes('every line unbroken', 0.4);
  fake.writes('the next step is tea');
  fake.writes('every line unbroken');
  expect(told).toEqual(['next step', 'too-unsure', 'in-a-sentence', 'every line unbroken']);
});

test('it is shut while the app sounds, and listens again after', async () => {
  const { engine, fake, told } = await open();
  engine.deaf(true);
  fake.writes('next step');
  await turn();
  expect([fake.aborts, told]).toEqual([1, []]);
  engine.deaf(false);
  await turn();
  expect(fake.starts).toBe(2);
  fake.writes('next step');
  expect(told).toEqual(['next step']);
});

test('an end by itself is borne a few times; a failure is told once and ends it', async () => {
  const { fake, told } = await open();
  fake.dispatchEvent(new Event('end'));
  await turn(160);
  expect(fake.starts).toBe(2);
  fake.dispatchEvent(Object.assign(new Event('error'), { error: 'no-speech' }));
  expect(told).toEqual([]);
  fake.dispatchEvent(Object.assign(new Event('error'), { error: 'network' }));
  fake.dispatchEvent(Object.assign(new Event('error'), { error: 'network' }));
  fake.writes('next step');
  expect(told).toEqual(['engine-failed']);
});
