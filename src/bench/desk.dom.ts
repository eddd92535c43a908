import { createStore, get, set } from 'idb-keyval';
import type { Listed } from '../../procedures/index.ts';
import type { ClockReading } from '../job/clock.ts';
import { browserPins, type Pins } from '../job/pins.dom.ts';
import { type JobCard, jobCard } from '../job/shelf.ts';
import type { Workshop } from '../job/workshop.ts';
import { sha256Hex } from '../journal/hash.ts';
import type { JournalStore } from '../journal/port.ts';
import type { JournalRecord } from '../journal/record.ts';
import { type SigningKey, sealPayload, signSeal } from '../journal/seal.ts';
import type { Pedal } from '../press/layout.ts';
import type { GaugeLine } from '../press/serial.dom.ts';
import type { Attachment } from '../procedure/events.ts';
import type { Speaker } from '../say/speaker.dom.ts';
import type { Device } from './device.dom.ts';
import { AS_DELIVERED, type VoiceSetUp } from './ear-state.ts';
import type { BenchOffice } from './office.dom.ts';
import type { Reading } from './optics.ts';
import type { BenchPasskeys } from './passkeys.dom.ts';
import type { PublishedShelf } from './published.dom.ts';
import type { ShutOutWhy } from './shut-out.ts';
import type { Theme } from './type-tokens.ts';

/** Everything outside the screens that they need, put together once in `main.ts`. */
export interface Desk {
  readonly store: JournalStore;
  /** What a job may begin with. */
  readonly procedures: readonly Listed[];
  /** Procedures that were loaded besides those of the app, and their authors. */
  readonly published: PublishedShelf;
  readonly settings: Settings;
  readonly speaker: Speaker;
  readonly pins: Pins;
  /** Absent: nobody can sign on by passkey here. */
  readonly passkeys?: BenchPasskeys;
  readonly files: KeptFiles;
  readonly device: Device;
  /** The office of a workshop with several benches, where there is one. */
  readonly office?: BenchOffice;
  /** Whom the office shut out; absent: nobody. */
  readonly shutOut?: ShutOutWhy;
  readonly app: string;
  /** Time of the bench, ms since 1970. */
  now(): number;
  /** Both clocks of the device: each job keeps its own time by them. */
  clocks(): ClockReading;
  newId(): string;
  /** The device's signing key; made on first use. */
  key(): Promise<SigningKey>;
}

/** What the bench remembers besides journals. */
export interface Settings {
  workshop(): Promise<Workshop | undefined>;
  keepWorkshop(workshop: Workshop): Promise<void>;
  /** The pedals that were learnt; the layout is made of them and of today's defaults. */
  pedals(): Promise<readonly Pedal[]>;
  keepPedals(pedals: readonly Pedal[]): Promise<void>;
  /** The gauge on a serial line that was set up. */
  gauge(): Promise<GaugeLine | undefined>;
  keepGauge(line: GaugeLine): Promise<void>;
  /** From how far this screen is read, and how large its pixels are; undefined until it is set. */
  reading(): Promise<Reading | undefined>;
  keepReading(reading: Reading): Promise<void>;
  /** Does this bench listen? The sound never leaves the device. */
  voice(): Promise<boolean>;
  keepVoice(on: boolean): Promise<void>;
  /** Which engine listens, and the call word. */
  voiceSetUp(): Promise<VoiceSetUp>;
  keepVoiceSetUp(setUp: VoiceSetUp): Promise<void>;
  theme(): Promise<Theme>;
  keepTheme(theme: Theme): Promise<void>;
}

export function browserSettings(name = 'holdfast'): Settings {
  const store = createStore(`${name}-bench`, 'settings');
  return {
    workshop: () => get<Workshop>('workshop', store),
    keepWorkshop: (workshop) => set('workshop', workshop, store),
    pedals: async () => (await get<readonly Pedal[]>('pedals', store)) ?? [],
    keepPedals: (pedals) => set('pedals', pedals, store),
    gauge: () => get<GaugeLine>('gauge', store),
    keepGauge: (line) => set('gauge', line, store),
    reading: () => get<Reading>('reading', store),
    keepReading: (reading) => set('reading', reading, store),
    voice: async () => (await get<boolean>('voice', store)) ?? false,
    keepVoice: (on) => set('voice', on, store),
    voiceSetUp: async () => (await get<VoiceSetUp>('voice-set-up', store)) ?? AS_DELIVERED,
    keepVoiceSetUp: (setUp) => set('voice-set-up', setUp, store),
    theme: async () => (await get<Theme>('theme', store)) ?? 'auto',
    keepTheme: (theme) => set('theme', theme, store),
  };
}

/** Photos and voice notes, kept under their SHA-256. */
export interface KeptFiles {
  keep(file: Blob): Promise<Omit<Attachment, 'kind'>>;
  read(sha256: string): Promise<Blob | undefined>;
}

export function browserFiles(name = 'holdfast'): KeptFiles {
  const store = createStore(`${name}-files`, 'files');
  return {
    async keep(file) {
      const bytes = new Uint8Array(await file.arrayBuffer());
      const sha256 = sha256Hex(bytes);
      await set(sha256, file, store);
      return { sha256, bytes: bytes.length, media: file.type.split(';')[0] ?? file.type };
    },
    read: (sha256) => get<Blob>(sha256, store),
  };
}

export const benchPins = (name = 'holdfast'): Pins => browserPins(createStore(`${name}-people`, 'pins'));

/** A job whose journal cannot be read, and the sentence that says why. */
export interface Unreadable {
  readonly job: string;
  readonly says: string;
}

/** The jobs on this bench, the latest first, and those that cannot be read. */
export async function jobsOn(
  desk: Desk,
): Promise<{ cards: readonly JobCard[]; unreadable: readonly Unreadable[] }> {
  const cards: JobCard[] = [];
  const unreadable: Unreadable[] = [];
  for (const head of await desk.store.heads()) {
    try {
      const card = jobCard(await desk.store.read(head.job));
      if (card) cards.push(card);
    } catch (error) {
      unreadable.push({ job: head.job, says: error instanceof Error ? error.message : String(error) });
    }
  }
  return { cards: cards.sort((a, b) => b.lastAt.localeCompare(a.lastAt)), unreadable };
}

/** The seal of a closed job: the one that is kept, or a new one by the device's key. */
export async function sealOf(desk: Desk, records: readonly JournalRecord[]): Promise<string> {
  const job = records[0]?.job ?? '';
  const kept = await desk.store.seal(job);
  if (kept !== null) return kept;
  const last = records[records.length - 1];
  const seal = await signSeal(sealPayload(records, desk.now(), last?.by ?? ''), await desk.key());
  try {
    await desk.store.putSeal(job, seal);
    return seal;
  } catch (error) {
    // Another window sealed it meanwhile: a job has one seal, and no signature comes out the same twice.
    const other = await desk.store.seal(job);
    if (other === null) throw error;
    return other;
  }
}

/** Hands a text to the browser's downloads. */
export function saveFile(name: string, text: string, type = 'application/jsonl'): void {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The download has its own hold on the data by the next turn of the event loop, on a slow device a little later.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
