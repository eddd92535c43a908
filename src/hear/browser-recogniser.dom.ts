import captureUrl from './capture.worker.ts?worker&url';
import type { Phrase } from './ear.ts';
import { level } from './level.ts';
import type { Batch } from './messages.ts';
import { openStream } from './mic.dom.ts';
import type { EngineKind, HearFault, Recogniser, RecogniserEvents } from './recogniser.ts';
import { matchWritten } from './written.ts';

// The part of the browser's speech interface that is used here; TypeScript's libraries do not describe all of it.
export interface SpeechEngine extends EventTarget {
  lang: string;
  continuous: boolean;
  interimResults: boolean;
  maxAlternatives: number;
  processLocally?: boolean;
  phrases?: unknown;
  start(): void;
  abort(): void;
}
export interface SpeechApi {
  new (): SpeechEngine;
  readonly prototype: object;
  available?(options: { langs: string[]; processLocally: boolean }): Promise<string>;
}
interface Results extends Event {
  readonly resultIndex: number;
  readonly results: ArrayLike<ArrayLike<SpeechRecognitionAlternative> & { readonly isFinal: boolean }>;
}
interface Failure extends Event {
  readonly error: string;
}
type PhraseMaker = new (phrase: string, boost: number) => unknown;

/** How long an engine may take to say whether it is there, and to begin, ms. It may hang, or say yes and fail. Our own choice. */
const PROBE_MS = 3000;
const START_MS = 5000;
/** Ends of the engine by itself, one upon the other without a result, that are borne. */
const MOST_ENDS = 4;

export const LANGUAGE = 'en-GB';

/** The interface of this browser, or null. */
export function speechApi(): SpeechApi | null {
  const found = globalThis as { SpeechRecognition?: SpeechApi; webkitSpeechRecognition?: SpeechApi };
  return found.SpeechRecognition ?? found.webkitSpeechRecognition ?? null;
}

export type Probed = { readonly there: true } | { readonly there: false; readonly says: string };

const no = (says: string): Probed => ({ there: false, says });

/**
 * Whether the browser can recognise speech, `device`: without sending it anywhere. A browser that cannot promise that is
 * never asked to: without its own `processLocally` it would send the sound to a server and say nothing.
 */
export async function probe(
  kind: Exclude<EngineKind, 'own'>,
  api = speechApi(),
  patience = PROBE_MS,
): Promise<Probed> {
  if (!api) return no('This browser has no recogniser of its own.');
  if (kind === 'server') return { there: true };
  if (!api.available || !('processLocally' in api.prototype))
    return no('This browser cannot promise to recognise speech on the device.');
  const late = new Promise<string>((done) => setTimeout(() => done('late'), patience));
  const asked = api.available({ langs: [LANGUAGE], processLocally: true }).catch(() => 'failed');
  switch (await Promise.race([asked, late])) {
    case 'available':
      return { there: true };
    case 'late':
      return no('The browser’s recogniser did not answer in time.');
    case 'downloadable':
    case 'downloading':
      return no(
        'The browser could fetch a recogniser for this device, but has not: install it in the browser’s settings.',
      );
    default:
      return no('The browser’s recogniser is not available on this device.');
  }
}

const failed = (says: string): HearFault => ({ code: 'engine-failed', says });

/** The capture's batches as levels, so that the ratio of speech to noise is known with this engine too. */
async function meter(stream: MediaStream, told: (meanSquare: number) => void): Promise<AudioContext> {
  const audio = new AudioContext({ latencyHint: 'interactive' });
  await audio.audioWorklet.addModule(captureUrl);
  const capture = new AudioWorkletNode(audio, 'holdfast-capture', { numberOfOutputs: 0, channelCount: 1 });
  const { port1, port2 } = new MessageChannel();
  port1.onmessage = ({ data }: MessageEvent<Batch>) => {
    let square = 0;
    for (const v of data.samples) square += v * v;
    told(square / data.samples.length);
    port1.postMessage({ samples: data.samples }, [data.samples.buffer]);
  };
  capture.port.postMessage({ port: port2 }, [port2]);
  audio.createMediaStreamSource(stream).connect(capture);
  return audio;
}

/** Levels a batch long, and the speech that is going on among them. */
function ratios(events: RecogniserEvents) {
  const levels = level();
  let count = 0;
  let began = 0;
  let last: number | null = null;
  return {
    push(meanSquare: number): void {
      levels.push(meanSquare);
      count += 1;
      if (count % 8 === 0) events.level(10 * Math.log10(meanSquare + 1e-12), levels.floorDb(), last);
    },
    speechBegins(): void {
      began = count;
    },
    /** dB of the speech since it began; null where nothing is known. */
    ratio(): number | null {
      last = levels.overFloorDb(began, count) ?? last;
      return last;
    },
  };
}

/**
 * The browser's own recogniser behind the port. What it writes counts only as `matchWritten` lets it. It is stopped while
 * the app sounds, so nothing of that is ever heard. `api` and `open` are the browser's, or a test's.
 */
export async function openBrowserRecogniser(
  kind: Exclude<EngineKind, 'own'>,
  events: RecogniserEvents,
  api: SpeechApi | null = speechApi(),
  open: () => Promise<MediaStream | HearFault> = openStream,
): Promise<Recogniser | HearFault> {
  const probed = await probe(kind, api);
  if (!api || !probed.there)
    return { code: 'engine-missing', says: probed.there ? 'This browser has no recogniser.' : probed.says };
  const stream = await open();
  if ('code' in stream) return stream;
  const measured = ratios(events);
  const audio = await meter(stream, measured.push).catch(() => null);
  const speech = new api();
  speech.lang = LANGUAGE;
  speech.continuous = true;
  speech.interimResults = false;
  speech.maxAlternatives = 4;
  if (kind === 'device') speech.processLocally = true;
  let live: readonly Phrase[] = [];
  let deaf = false;
  let closed = false;
  let running = false;
  let ends = 0;
  let began = 0;
  let starting = 0;
  const now = () => performance.now();

  function close(): void {
    if (closed) return;
    closed = true;
    window.clearTimeout(starting);
    speech.abort();
    for (const track of stream instanceof MediaStream ? stream.getTracks() : []) track.stop();
    void audio?.close();
  }

  function lose(says: string): void {
    if (closed) return;
    close();
    events.lost(failed(says));
  }

  function begin(): void {
    if (closed || deaf || running) return;
    running = true;
    window.clearTimeout(starting);
    starting = window.setTimeout(() => lose('The browser’s recogniser did not begin.'), START_MS);
    try {
      speech.start();
    } catch {
      lose('The browser’s recogniser could not be started.');
    }
  }

  speech.addEventListener('start', () => window.clearTimeout(starting));
  speech.addEventListener('speechstart', () => {
    began = now();
    measured.speechBegins();
  });
  speech.addEventListener('end', () => {
    running = false;
    window.clearTimeout(starting);
    if (closed || deaf) return;
    ends += 1;
    if (ends > MOST_ENDS) lose('The browser’s recogniser keeps ending by itself.');
    else window.setTimeout(begin, 100 * ends);
  });
  speech.addEventListener('error', (event) => {
    const { error } = event as Failure;
    if (error !== 'no-speech' && error !== 'aborted') lose(`The browser’s recogniser failed (${error}).`);
  });
  speech.addEventListener('result', (event) => {
    const { results, resultIndex } = event as Results;
    ends = 0;
    if (deaf || closed) return;
    for (let i = resultIndex; i < results.length; i++) {
      const result = results[i];
      if (!result?.isFinal) continue;
      const guesses = Array.from(result, ({ transcript: text, confidence }) => ({ text, confidence }));
      const matched = matchWritten(guesses, live);
      const times = { startedAt: began, endedAt: now() };
      if (matched && 'heard' in matched) events.heard({ ...matched.heard, ...times }, measured.ratio());
      else if (matched) events.nearly({ ...matched.nearly, heard: { ...matched.nearly.heard, ...times } });
    }
  });
  stream
    .getAudioTracks()[0]
    ?.addEventListener('ended', () =>
      lose('The microphone is gone. Plug it in again, or go on with pedal and keys.'),
    );
  begin();

  /** Hints, where the browser takes them: without them it works all the same. */
  function hint(): void {
    const { SpeechRecognitionPhrase: make } = globalThis as { SpeechRecognitionPhrase?: PhraseMaker };
    if (!make || !('phrases' in speech)) return;
    try {
      speech.phrases = live.filter(({ text }) => text !== '').map(({ text }) => new make(text, 5));
    } catch {
      // Some engines have the property and take no phrases.
    }
  }

  return {
    stream,
    listen(phrases) {
      live = phrases;
      hint();
    },
    deaf(on) {
      if (on === deaf) return;
      deaf = on;
      if (deaf) speech.abort();
      else begin();
    },
    close,
  };
}
