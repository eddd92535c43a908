import type { Page } from 'playwright-core';
import type { Gesture } from '../../src/press/gesture.ts';
import { Bench } from '../whole/app.ts';
import { Hands, onShelf } from '../whole/hands.ts';
import { until } from '../whole/screen.ts';
import { serve } from '../whole/server.ts';

export interface Row {
  readonly what: string;
  readonly p50: number;
  readonly p95: number;
  readonly unit: string;
  readonly budget?: string;
}

/** Jobs of one shift of eight hours: a chain takes some forty minutes. Common practice, no source. */
const JOBS = 12;

const press = { key: 'go', via: 'pedal', downAt: 0 } as const;
const GESTURES: Readonly<Record<string, Gesture>> = {
  PageDown: { kind: 'tap', ...press },
  Enter: { kind: 'enter' },
  Escape: { kind: 'escape' },
  Period: { kind: 'decimal' },
};

/** Hands that give gestures instead of keys: eight hours pass in a minute, everything behind the keys is the real app. */
class QuickHands extends Hands {
  #give(gesture: Gesture): Promise<void> {
    return this.page.evaluate(async (given) => {
      const app = document.querySelector('hf-app') as unknown as {
        idle: Promise<unknown>;
        pressed(gesture: unknown): void;
      };
      app.pressed(given);
      // Until it is written and drawn, as a person would wait.
      await app.idle;
      for (let n = 0; n < 3; n++) await new Promise((done) => requestAnimationFrame(done));
    }, gesture);
  }
  override tap(key = 'PageDown'): Promise<void> {
    const digit = /^Digit(\d)$/.exec(key)?.[1];
    const gesture: Gesture | undefined = digit === undefined ? GESTURES[key] : { kind: 'digit', digit };
    if (!gesture) throw new Error(`No gesture for ${key}`);
    return this.#give(gesture);
  }
  override hold(): Promise<void> {
    return this.#give({ kind: 'long', ...press, heldMs: 1300 });
  }
}

interface Sample {
  readonly heap: number;
  readonly nodes: number;
  readonly listeners: number;
}

/** What is alive after everything that could be collected was. Bytes of JavaScript heap, nodes, listeners. */
async function sample(page: Page): Promise<Sample> {
  const session = await page.context().newCDPSession(page);
  await session.send('HeapProfiler.enable');
  for (let n = 0; n < 3; n++) await session.send('HeapProfiler.collectGarbage');
  const { usedSize } = await session.send('Runtime.getHeapUsage');
  const { nodes, jsEventListeners } = await session.send('Memory.getDOMCounters');
  await session.detach();
  return { heap: usedSize, nodes, listeners: jsEventListeners };
}

async function oneJob(hands: QuickHands): Promise<void> {
  await hands.startJob(/^Renew chain and sprockets/, /^Trail machine 4/, /Tomas Reedle/);
  for (let step = 0; step < 400; step++) {
    const { screen } = await hands.doRight();
    if (screen !== 'end') continue;
    await until(hands.page, 'the seal', (sight) => (sight.end?.code ?? '') !== '');
    await hands.tap('Escape');
    await until(hands.page, 'the shelf', onShelf);
    return;
  }
  throw new Error('The job does not end.');
}

/** Memory over a shift: every job done to its seal in the built app, in one window that is never reloaded. */
export async function rows(): Promise<Row[]> {
  const server = await serve();
  const bench = await Bench.open(server.origin);
  try {
    const page = await bench.window();
    const hands = new QuickHands(page);
    await hands.loadDemo();
    const samples: Sample[] = [];
    for (let job = 0; job < JOBS; job++) {
      await oneJob(hands);
      samples.push(await sample(page));
    }
    if (bench.complaints.length > 0) throw new Error(bench.complaints.join('\n'));
    const [first, last] = [samples[0], samples[samples.length - 1]];
    if (!first || !last) throw new Error('No samples.');
    const one = (what: string, value: number, unit: string, budget?: string): Row => ({
      what,
      p50: value,
      p95: value,
      unit,
      ...(budget === undefined ? {} : { budget }),
    });
    const mb = (bytes: number) => Math.round(bytes / 10_000) / 100;
    return [
      one('JavaScript heap after the first job of a shift', mb(first.heap), 'MB'),
      one(`JavaScript heap after ${JOBS} jobs, eight hours`, mb(last.heap), 'MB'),
      one('growth of the heap over the shift', mb(last.heap - first.heap), 'MB', '≤ 10 MB'),
      one('growth of the document over the shift', last.nodes - first.nodes, 'nodes', '≤ 1000'),
      one('growth of event listeners over the shift', last.listeners - first.listeners, 'listeners', '≤ 100'),
    ];
  } finally {
    await bench.close();
    await server.stop();
  }
}
