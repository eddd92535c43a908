import { Bench } from '../whole/app.ts';
import { serve } from '../whole/server.ts';
import { type BenchRow, rowOf } from './row.ts';

/** What was measured of one press. Times in ms on the clock of `KeyboardEvent.timeStamp`. */
interface Press {
  readonly kind: 'tap' | 'figure' | 'long';
  readonly ms: number;
}

/**
 * Runs in the page. A press counts from the stroke that decides it: a tap and a long press are decided by the release of
 * the key, a figure by Enter. It ends when the frame that shows what the new record says has been painted: the frame
 * callback sees it in the tree, and the message posted there is delivered after that frame's rendering.
 */
function watchPresses(): void {
  const told = (globalThis as unknown as { pressPainted(press: Press): Promise<void> }).pressPainted;
  const channel = new MessageChannel();
  let down = 0;
  let decided: { at: number; kind: Press['kind'] } | null = null;
  let last = '';
  window.addEventListener(
    'keydown',
    (event) => {
      if (!event.repeat) down = event.timeStamp;
    },
    true,
  );
  window.addEventListener(
    'keyup',
    (event) => {
      const held = event.timeStamp - down;
      const kind = event.code === 'Enter' ? 'figure' : held >= 1200 ? 'long' : 'tap';
      decided = { at: event.timeStamp, kind };
    },
    true,
  );
  channel.port1.onmessage = ({ data }: MessageEvent<{ at: number; kind: Press['kind'] }>) =>
    void told({ kind: data.kind, ms: performance.now() - data.at });
  const frame = () => {
    const station = document
      .querySelector('hf-app')
      ?.shadowRoot?.querySelector('hf-job')
      ?.shadowRoot?.querySelector<HTMLElement>('.station');
    const accepted = station?.querySelector('.last.yes')?.textContent ?? '';
    const ring = station?.querySelector('.ring')?.textContent ?? '';
    const now = station ? `${station.dataset.station}|${accepted}|${ring}` : '';
    if (now !== last) {
      if (decided && last !== '' && now !== '') channel.port2.postMessage(decided);
      decided = null;
      last = now;
    }
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
}

/**
 * Key to picture in the built app, by a whole job on a profile on disk: the key stroke through the browser, the decision,
 * the record hashed and stored with strict durability in two databases, the layout of the next station, the paint.
 */
export async function rows(): Promise<BenchRow[]> {
  const server = await serve();
  const bench = await Bench.open(server.origin);
  const presses: Press[] = [];
  try {
    await bench.context.exposeBinding('pressPainted', (_, press: Press) => void presses.push(press));
    await bench.context.addInitScript(watchPresses);
    const hands = await bench.hands();
    await hands.loadDemo();
    await hands.startJob(/^Renew chain and sprockets/, /^Trail machine 4/, /Tomas Reedle/);
    for (let step = 0; step < 300; step++) if ((await hands.doRight()).screen === 'end') break;
    if (bench.complaints.length > 0) throw new Error(bench.complaints.join('\n'));
  } finally {
    await bench.close();
    await server.stop();
  }
  if (presses.length < 100) throw new Error(`Only ${presses.length} presses were seen.`);
  const of = (kind: Press['kind']) => presses.filter((press) => press.kind === kind).map(({ ms }) => ms);
  const all = presses.map(({ ms }) => ms);
  return [
    rowOf(`key press to next screen painted, journal written: ${all.length} presses`, all, 'ms', '≤ 50 ms'),
    rowOf(`… of them ${of('tap').length} taps`, of('tap'), 'ms'),
    rowOf(`… of them ${of('long').length} long presses at hold points`, of('long'), 'ms'),
    rowOf(`… of them ${of('figure').length} figures`, of('figure'), 'ms'),
  ];
}
