import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { percentile } from '../../src/trade/percentile.ts';
import { RATE } from '../tools/clips.ts';
import { Bench } from '../whole/app.ts';
import { Mouth, type Spoken, timeline } from '../whole/mouth.ts';
import { ROOT, serve } from '../whole/server.ts';
import { startsListening, wordsFrom } from '../whole/spoken-job.ts';
import { type BenchRow, rowOf } from './row.ts';

/** What the page saw, ms on its own clock. */
interface Watched {
  /** Ends of sounds as they came into the page's audio graph. */
  readonly ends: number[];
  /** When the listening worker told the page of a phrase. */
  readonly heard: number[];
  /** When another screen had been painted. */
  readonly painted: number[];
}

/**
 * Runs in the page. An analyser beside the app's own capture sees the same microphone: every few ms it looks where in the
 * last 170 ms the sound ended; the worker's messages are overheard; a frame that shows something else is timed when it
 * has been rendered (the message posted in its callback is delivered after it).
 */
function watchVoice(): void {
  const watched: Watched = { ends: [], heard: [], painted: [] };
  Object.assign(globalThis, { watched });

  const Plain = Worker;
  globalThis.Worker = class extends Plain {
    constructor(...how: ConstructorParameters<typeof Worker>) {
      super(...how);
      this.addEventListener('message', ({ data }: MessageEvent<{ kind?: string }>) => {
        if (data.kind === 'heard') watched.heard.push(performance.now());
      });
    }
  };

  const LOUD = 0.01;
  const create = AudioContext.prototype.createMediaStreamSource;
  AudioContext.prototype.createMediaStreamSource = function (stream) {
    const source = create.call(this, stream);
    const analyser = new AnalyserNode(this, { fftSize: 8192 });
    source.connect(analyser);
    const samples = new Float32Array(analyser.fftSize);
    let sounded = false;
    setInterval(() => {
      const now = performance.now();
      analyser.getFloatTimeDomainData(samples);
      let quiet = 0;
      while (quiet < samples.length && Math.abs(samples[samples.length - 1 - quiet] ?? 0) < LOUD) quiet++;
      const ms = (1000 * quiet) / this.sampleRate;
      if (ms < 60) sounded = true;
      else if (sounded && ms > 130) {
        sounded = false;
        watched.ends.push(now - ms);
      }
    }, 4);
    return source;
  };

  const channel = new MessageChannel();
  channel.port1.onmessage = () => void watched.painted.push(performance.now());
  let last = '';
  const frame = () => {
    const station = document
      .querySelector('hf-app')
      ?.shadowRoot?.querySelector('hf-job')
      ?.shadowRoot?.querySelector<HTMLElement>('.station');
    const part = (name: string) => station?.querySelector(name)?.textContent ?? '';
    const now = [
      station?.dataset.station,
      part('.last.yes'),
      part('.last .no'),
      part('output'),
      part('.over h2'),
    ].join();
    if (now !== last) channel.port2.postMessage(null);
    last = now;
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
}

interface Answer {
  readonly text: string;
  readonly heardMs: number;
  readonly paintedMs: number;
}

const median = (numbers: readonly number[]) => percentile(numbers, 0.5);

/**
 * The file's clock on the page's: each word's end as the page's audio graph saw it less its place in the file; the median
 * over all words, so that a word whose end fades differently moves nothing.
 */
function startOf(said: readonly Spoken[], { ends }: Watched): { start: number; spread: number } {
  const endsInFile = said.map(({ at, sound }) => 1000 * (at + sound.length / RATE));
  const near = (start: number) =>
    endsInFile.flatMap((end) =>
      ends.filter((one) => Math.abs(one - end - start) < 150).map((one) => one - end),
    );
  const best = ends
    .flatMap((one) => endsInFile.slice(0, 3).map((end) => one - end))
    .map(near)
    .reduce((most, one) => (one.length > most.length ? one : most), []);
  if (best.length < 20) throw new Error(`Only ${best.length} words were found in the sound.`);
  return { start: median(best), spread: percentile(best, 0.95) - percentile(best, 0.05) };
}

function answers(said: readonly Spoken[], watched: Watched, start: number): Answer[] {
  return said.flatMap(({ text, at, sound }, n) => {
    const end = start + 1000 * (at + sound.length / RATE);
    const next = said[n + 1];
    const until = next ? start + 1000 * next.at : end + 2000;
    // A phrase may be sure a little before its last sound has faded.
    const within = (times: readonly number[], from: number) =>
      times.find((time) => time > from && time < until);
    const heard = within(watched.heard, end - 150);
    const painted = heard === undefined ? undefined : within(watched.painted, heard);
    return heard === undefined || painted === undefined
      ? []
      : [{ text, heardMs: heard - end, paintedMs: painted - end }];
  });
}

const FIGURE = /^(zero|one|two|three|four|five|six|seven|eight|nine)\b/;
const isHold = ({ text }: Answer) => text.split(' ').length > 2 && !FIGURE.test(text);

/** Size of the engine that listens, each file gzipped by itself, kB. */
function engineRow(): BenchRow {
  const folder = join(ROOT, 'dist', 'assets');
  const files = readdirSync(folder).filter((name) =>
    /^(ear|ear\.worker|capture\.worker|mic\.dom|words)-[^.]+\.(bin|js|json)$/.test(name),
  );
  const size = files.reduce(
    (all, name) => all + gzipSync(readFileSync(join(folder, name)), { level: 9 }).length,
    0,
  );
  const what = `the ear: network, worker, words (${files.length} files), gzip`;
  return { what, p50: size / 1000, p95: size / 1000, unit: 'kB' };
}

/** End of the spoken word to the next screen painted: a job of the demo by a sound file for a microphone. */
export async function rows(): Promise<BenchRow[]> {
  const server = await serve();
  const mouth = new Mouth();
  const words = wordsFrom('protect', null);
  const said = timeline(words);
  let watched: Watched = { ends: [], heard: [], painted: [] };
  const bench = await Bench.open(server.origin, { width: 1920, height: 1200, flags: mouth.flags });
  try {
    await bench.context.addInitScript(watchVoice);
    const hands = await bench.hands();
    await startsListening(hands);
    const ms = await mouth.speak(hands, words);
    await hands.page.waitForTimeout(ms);
    watched = await hands.page.evaluate(() => (globalThis as unknown as { watched: Watched }).watched);
  } finally {
    await bench.close();
    mouth.close();
    await server.stop();
  }
  const { start, spread } = startOf(said, watched);
  const all = answers(said, watched, start);
  const painted = (some: readonly Answer[]) => some.map(({ paintedMs }) => paintedMs);
  const row = (what: string, some: readonly Answer[]) =>
    rowOf(`… of them ${some.length} ${what}`, painted(some), 'ms');
  const figures = all.filter(({ text }) => FIGURE.test(text));
  const holds = all.filter(isHold);
  return [
    rowOf(
      `end of the spoken word to the next screen painted: ${all.length} of ${said.length} words, ±${Math.round(spread / 2)} ms`,
      painted(all),
      'ms',
    ),
    row(
      'words',
      all.filter((one) => !holds.includes(one) && !figures.includes(one)),
    ),
    row('hold phrases', holds),
    row('figures', figures),
    rowOf(
      '… of that, from the ear’s answer on',
      all.map(({ heardMs, paintedMs }) => paintedMs - heardMs),
      'ms',
    ),
    engineRow(),
  ];
}
