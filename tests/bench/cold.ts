import type { Page } from 'playwright-core';
import { percentile } from '../../src/trade/percentile.ts';
import { Bench, jobOf } from '../whole/app.ts';
import { onShelf } from '../whole/hands.ts';
import { relay } from '../whole/relay.ts';
import { until } from '../whole/screen.ts';
import { serve } from '../whole/server.ts';

export interface Row {
  readonly what: string;
  readonly p50: number;
  readonly p95: number;
  readonly unit: string;
  readonly budget?: string;
}

const RUNS = 15;

/** Runs in the page: notes when the screen first had something to read, painted and followed by another frame. */
function watchFirst(): void {
  const frame = () => {
    const shown = document.querySelector('hf-app')?.shadowRoot?.firstElementChild?.shadowRoot;
    const text = shown?.querySelector('.say, h1')?.textContent?.trim() ?? '';
    if (text === '') return requestAnimationFrame(frame);
    return requestAnimationFrame(() => Object.assign(globalThis, { readableAt: performance.now() }));
  };
  requestAnimationFrame(frame);
}

/** From the start of the navigation to a readable screen, ms. */
async function timed(page: Page): Promise<number> {
  await page.reload({ waitUntil: 'commit' });
  const at = await page.waitForFunction(() => (globalThis as { readableAt?: number }).readableAt ?? null);
  return (await at.jsonValue()) ?? Number.NaN;
}

async function row(what: string, page: Page): Promise<Row> {
  const times: number[] = [];
  for (let n = 0; n <= RUNS; n++) times.push(await timed(page));
  // The first one after the network went pays for what the browser finds out then.
  const [, ...rest] = times;
  return { what, p50: percentile(rest, 0.5), p95: percentile(rest, 0.95), unit: 'ms', budget: '≤ 1000 ms' };
}

/** Starting without any network: the built app from its own store on a profile on disk, to a screen that can be read. */
export async function rows(): Promise<Row[]> {
  const server = await serve();
  const network = await relay(server.origin);
  const bench = await Bench.open(network.origin);
  try {
    await bench.context.addInitScript(watchFirst);
    const hands = await bench.hands();
    await hands.page.evaluate(async () => void (await navigator.serviceWorker.ready));
    await hands.loadDemo();
    await hands.startJob(/^Renew chain and sprockets/, /^Trail machine 4/, /Tomas Reedle/);
    const job = jobOf(hands.page);
    await network.cut();
    await bench.context.setOffline(true);
    const toJob = await row('reload without a network to the station of a job', hands.page);
    await hands.tap('Escape');
    await until(hands.page, 'the shelf', onShelf);
    const toShelf = await row('reload without a network to the shelf of the demo workshop', hands.page);
    if (job === '') throw new Error('No job.');
    return [toJob, toShelf];
  } finally {
    await bench.close();
    await network.cut();
    await server.stop();
  }
}
