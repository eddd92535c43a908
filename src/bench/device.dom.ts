import { type SteadyClock, steadyClock } from '../job/clock.ts';
import { fromMoment } from '../journal/moment.ts';
import type { JournalStore } from '../journal/port.ts';
import { type GaugeEars, type Gauges, serialGauges } from '../press/serial.dom.ts';
import { readClocks } from './clock.dom.ts';
import type { DeviceFacts } from './health.ts';
import { keepUpdated, type Updates } from './update.dom.ts';
import { keepAwake, type Wake } from './wake.dom.ts';

/** The device under the bench: what keeps running beside the screens, and what can be found out about it. */
export interface Device {
  readonly clock: SteadyClock;
  readonly wake: Wake;
  readonly updates: Updates;
  readonly gauges: Gauges;
}

/** Until a gauge is set up: the commonest speed, and no line is a figure. */
export const NO_GAUGE = { baudRate: 9600, pattern: null } as const;

export function openDevice(atRest: () => boolean, ears: GaugeEars): Device {
  return {
    clock: steadyClock(readClocks),
    wake: keepAwake(ears.changed),
    updates: keepUpdated(atRest, ears.changed),
    gauges: serialGauges(NO_GAUGE, ears),
  };
}

/** How long a microphone is listened to, ms, and what its loudest moment must reach, 0 to 1. Our own choice. */
const LISTEN_MS = 2000;
const HEARD = 0.02;

/** Opens the microphone for two seconds and listens whether anything comes. */
export async function tryMicrophone(): Promise<'heard' | 'silent' | 'failed'> {
  let stream: MediaStream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ audio: true });
  } catch {
    return 'failed';
  }
  const audio = new AudioContext();
  try {
    const analyser = audio.createAnalyser();
    audio.createMediaStreamSource(stream).connect(analyser);
    const samples = new Float32Array(analyser.fftSize);
    for (let passed = 0; passed < LISTEN_MS; passed += 50) {
      await new Promise((done) => setTimeout(done, 50));
      analyser.getFloatTimeDomainData(samples);
      if (samples.some((sample) => Math.abs(sample) > HEARD)) return 'heard';
    }
    return 'silent';
  } finally {
    for (const track of stream.getTracks()) track.stop();
    await audio.close();
  }
}

/** Asks the browser to keep what is stored here. @throws Error with a sentence when it does not promise */
export async function askToKeep(): Promise<void> {
  if (await navigator.storage?.persist?.().catch(() => false)) return;
  throw new Error(
    'The browser does not promise to keep the records: install the app on this device, and save each record when its job is finished.',
  );
}

/** Fills the screen, or leaves it. Needs a key or touch just before. */
export async function switchFull(): Promise<void> {
  if (document.fullscreenElement) await document.exitFullscreen();
  else await document.documentElement.requestFullscreen({ navigationUI: 'hide' });
}

const quietly = <T>(asked: Promise<T> | undefined): Promise<T | null> =>
  (asked ?? Promise.resolve(null)).catch(() => null);

/** The latest moment in any record of this bench, ms since 1970. A journal that cannot be read is left out. */
export async function latestMoment(store: JournalStore): Promise<number | null> {
  const heads = await quietly(store.heads());
  const lasts = await Promise.all((heads ?? []).map(({ job }) => quietly(store.read(job))));
  const moments = lasts.flatMap((records) => fromMoment(records?.[records.length - 1]?.at ?? '') ?? []);
  return moments.length > 0 ? Math.max(...moments) : null;
}

/** What the browser tells of the device without asking the person anything. */
export async function browserFacts(): Promise<{
  microphone: Omit<DeviceFacts['microphone'], 'tried'>;
  storage: DeviceFacts['storage'];
  full: DeviceFacts['full'];
}> {
  const [devices, permission, kept, space] = await Promise.all([
    quietly(navigator.mediaDevices?.enumerateDevices()),
    quietly(navigator.permissions?.query({ name: 'microphone' as PermissionName })),
    quietly(navigator.storage?.persisted?.()),
    quietly(navigator.storage?.estimate?.()),
  ]);
  return {
    microphone: {
      devices: devices?.filter(({ kind }) => kind === 'audioinput').length ?? null,
      permission: permission?.state ?? null,
    },
    storage: { kept, used: space?.usage ?? null, quota: space?.quota ?? null },
    full: document.fullscreenEnabled ? document.fullscreenElement !== null : null,
  };
}
