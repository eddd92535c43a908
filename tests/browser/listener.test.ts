import { afterEach, beforeEach, expect, test } from 'vitest';
import { GOES_AWAY } from '../../src/bench/ear-state.ts';
import { Listening } from '../../src/bench/listening.dom.ts';
import { Voices } from '../../src/bench/voices.dom.ts';
import { outputOf } from '../../src/hear/phones.ts';
import type { Take } from '../../src/hear/taker.ts';

// The listening bench with our own engine, weights and worker; only the microphone is a silent stream of the browser's own,
// and the browser's recogniser a stand-in that fails, as it does without a network.

const turn = async (wanted: () => boolean, ms = 15_000) => {
  for (const from = performance.now(); !wanted(); ) {
    if (performance.now() - from > ms) throw new Error('It did not come to that.');
    await new Promise((done) => setTimeout(done, 20));
  }
};

class Failing extends EventTarget {
  static last: Failing;
  constructor() {
    super();
    Failing.last = this;
  }
  start(): void {
    queueMicrotask(() => this.dispatchEvent(new Event('start')));
  }
  abort(): void {
    queueMicrotask(() => this.dispatchEvent(new Event('end')));
  }
  fail(): void {
    this.dispatchEvent(Object.assign(new Event('error'), { error: 'network' }));
  }
}

const real = navigator.mediaDevices.getUserMedia;
const speech = globalThis as { SpeechRecognition?: unknown };
const before = speech.SpeechRecognition;
let streams: MediaStream[] = [];
let listening: Listening;
let said: string[] = [];
beforeEach(() => {
  streams = [];
  said = [];
  navigator.mediaDevices.getUserMedia = async () => {
    const audio = new AudioContext();
    const out = audio.createMediaStreamDestination();
    audio.createConstantSource().connect(out);
    streams.push(out.stream);
    return out.stream;
  };
  speech.SpeechRecognition = Failing;
  listening = new Listening();
  listening.onFault = (says) => said.push(says);
});
afterEach(() => {
  listening.stop();
  navigator.mediaDevices.getUserMedia = real;
  speech.SpeechRecognition = before;
});

test('an engine that sends sound away says so as long as it listens; when it fails, ours takes over, and that is said', async () => {
  await listening.use({ engine: 'server', callWord: 'attention bench' });
  await listening.start();
  expect(listening.state).toMatchObject({
    on: true,
    engine: 'server',
    notice: GOES_AWAY,
    call: { word: 'attention bench', open: false },
  });
  Failing.last.fail();
  await turn(() => listening.state.engine === 'own' && listening.state.on);
  expect(listening.state.notice).toMatch(/failed \(network\)\. The engine of this app listens instead/);
  expect(said).toEqual([expect.stringMatching(/listens instead/)]);
});

test('a microphone that is lost is told and said; when one is plugged in, the bench listens again', async () => {
  await listening.start();
  expect(listening.state).toMatchObject({ on: true, engine: 'own', notice: null, fault: null });
  streams.at(-1)?.getAudioTracks()[0]?.dispatchEvent(new Event('ended'));
  expect(listening.state).toMatchObject({ on: false, fault: expect.stringMatching(/microphone is gone/) });
  expect(said).toHaveLength(1);
  navigator.mediaDevices.dispatchEvent(new Event('devicechange'));
  await turn(() => listening.state.on);
  expect(listening.state.fault).toBeNull();
});

test('a bench that listened with another engine does so again after teaching; one that did not is shut again', async () => {
  await listening.use({ engine: 'server', callWord: null });
  await listening.start();
  await listening.teach(true);
  expect(listening.state.engine).toBe('own');
  await listening.teach(false);
  await turn(() => listening.state.engine === 'server' && listening.state.on);
  listening.stop();
  await listening.teach(true);
  expect(listening.state.on).toBe(true);
  await listening.teach(false);
  expect(listening.state.on).toBe(false);
});

const out = (phones: string) => phones.split(' ').map((p) => outputOf(p) ?? 0);
const take = (phones: number[]): Take => ({
  phones,
  samples: Float32Array.from({ length: 800 }, (_, i) => Math.sin(i / 9) / 2),
  ms: 500,
  peak: 0.5,
  clipped: 0,
  speechToNoise: 30,
});
const WORDS = { keep: 'K IY P', reading: 'R IY D IH NG', next: 'N EH K S T', step: 'S T EH P' };

test('takes are kept under their person, outlive the model that heard them, and are forgotten in one act', async () => {
  const name = `test-${crypto.randomUUID()}`;
  const voices = new Voices(WORDS, 'first', name);
  const phrase = { text: 'keep reading', kind: 'word' } as const;
  for (const phones of [
    'K IY P R IY D IH NG',
    'K IH P R IY D IH NG',
    'K IY P R EH D IH NG',
    'K IY P R IY D IH NG',
  ])
    await voices.keep('ada', phrase, take(out(phones)), 1);
  await voices.keep('ben', phrase, take(out('K IY P R IY D IY N')), 1);
  expect((await voices.takes('ada')).get('keep reading')).toHaveLength(3);
  const never = () => Promise.reject(new Error('Nothing has changed.'));
  expect((await voices.ways('ada', never)).get('keep reading')).toHaveLength(3);

  const lengths: number[] = [];
  const reads = async (samples: Float32Array) => {
    lengths.push(samples.length);
    return out('K EY P R IY D IH NG');
  };
  const later = new Voices(WORDS, 'second', name);
  expect((await later.ways('ada', reads)).get('keep reading')).toEqual([
    [out('K EY P'), out('R IY D IH NG')],
  ]);
  expect(lengths).toEqual([800, 800, 800]);
  await later.ways('ada', never);

  await later.forget('ada');
  expect([(await later.takes('ada')).size, (await later.takes('ben')).size]).toEqual([0, 1]);
  indexedDB.deleteDatabase(`${name}-voices`);
});
