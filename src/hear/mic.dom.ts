import captureUrl from './capture.worker.ts?worker&url';
import type { FromEar, ToEar } from './messages.ts';
import type { HearFault, Recogniser, RecogniserEvents } from './recogniser.ts';
import type { Take } from './taker.ts';

const says = {
  'mic-refused':
    'The microphone is not allowed. Allow it in the browser’s settings for this page, or go on with pedal and keys.',
  'mic-missing': 'No microphone was found. Plug one in, or go on with pedal and keys.',
  'mic-lost': 'The microphone is gone. Plug it in again, or go on with pedal and keys.',
  'mic-stalled':
    'The microphone gives no sound any more. Switch it off and on, or go on with pedal and keys.',
} as const;

export interface MicEvents extends RecogniserEvents {
  /** Something was said while teaching. */
  take(take: Take): void;
}

/** Our own engine: the port, and what teaching needs of it. */
export interface Mic extends Recogniser {
  readonly stream: MediaStream;
  /** While teaching, whatever is said comes as a take and no phrase is heard. */
  teach(on: boolean): void;
  /** The phones of a kept take, read anew; 16 kHz, -1..1. */
  transcribe(samples: Float32Array): Promise<readonly number[]>;
}

export interface MicParts {
  /** assets/voice/ear.bin */
  readonly weights: ArrayBuffer;
  /** Compiled phones of the words in use. */
  readonly table: Readonly<Record<string, string>>;
}

/** Longest time without a sign of sound, ms. */
const PATIENCE = 3000;

const fault = (code: keyof typeof says): HearFault => ({ code, says: says[code] });

/** The microphone alone, as every engine wants it. */
export async function openStream(): Promise<MediaStream | HearFault> {
  try {
    return await navigator.mediaDevices.getUserMedia({
      audio: { channelCount: 1, autoGainControl: false, noiseSuppression: true, echoCancellation: true },
    });
  } catch (error) {
    const refused = error instanceof DOMException && error.name === 'NotAllowedError';
    return fault(refused ? 'mic-refused' : 'mic-missing');
  }
}

/**
 * Opens the microphone and the ear behind it. Gain control is off, so that the noise floor stays what it is; echo
 * cancelling and noise suppression are on. The sound goes to a worker of this page and nowhere else.
 */
export async function openMic(parts: MicParts, events: MicEvents): Promise<Mic | HearFault> {
  const opened = await openStream();
  if ('code' in opened) return opened;
  const stream: MediaStream = opened;
  const worker = new Worker(new URL('./ear.worker.ts', import.meta.url), { type: 'module' });
  const tell = (message: ToEar, transfer: Transferable[] = []) => worker.postMessage(message, transfer);
  let audio: AudioContext | null = null;
  let closed = false;
  let asked = 0;
  const answers = new Map<number, (phones: readonly number[]) => void>();
  let seen = performance.now();

  function close(): void {
    closed = true;
    window.clearInterval(watch);
    for (const track of stream.getTracks()) track.stop();
    void audio?.close();
    worker.terminate();
  }

  function lose(f: HearFault): void {
    if (closed) return;
    close();
    events.lost(f);
  }

  worker.onmessage = (event: MessageEvent<FromEar>) => {
    const message = event.data;
    if (message.kind === 'heard') events.heard(message.heard, message.speechToNoise);
    else if (message.kind === 'nearly') events.nearly(message.nearly);
    else if (message.kind === 'take') events.take(message.take);
    else if (message.kind === 'transcribed') answers.get(message.id)?.(message.phones);
    else if (message.kind === 'failed') lose({ code: 'ear-failed', says: message.says });
    else if (message.kind === 'level') {
      seen = performance.now();
      events.level(message.now, message.floor, message.speechToNoise);
    }
  };
  worker.onerror = () =>
    lose({
      code: 'ear-failed',
      says: 'Listening broke down. Load the page again, or go on with pedal and keys.',
    });

  // A suspended context is woken; one that only looks alive has a standing clock and is given up for the page to reopen.
  const watch = window.setInterval(() => {
    if (audio?.state === 'suspended') void audio.resume();
    else if (performance.now() - seen > PATIENCE) lose(fault('mic-stalled'));
  }, 1000);
  stream.getAudioTracks()[0]?.addEventListener('ended', () => lose(fault('mic-lost')));

  try {
    audio = new AudioContext({ latencyHint: 'interactive' });
    await audio.audioWorklet.addModule(captureUrl);
    const capture = new AudioWorkletNode(audio, 'holdfast-capture', { numberOfOutputs: 0, channelCount: 1 });
    const channel = new MessageChannel();
    // The weights are copied, not given away: the page may open the microphone again.
    tell({ kind: 'open', weights: parts.weights, table: parts.table, rate: audio.sampleRate });
    tell({ kind: 'sound' }, [channel.port1]);
    capture.port.postMessage({ port: channel.port2 }, [channel.port2]);
    audio.createMediaStreamSource(stream).connect(capture);
    seen = performance.now();
  } catch {
    close();
    return { code: 'ear-failed', says: 'This browser cannot listen here. Go on with pedal and keys.' };
  }

  return {
    stream,
    teach: (on) => tell({ kind: 'teach', on }),
    transcribe: (samples) =>
      new Promise((done) => {
        asked += 1;
        answers.set(asked, done);
        tell({ kind: 'transcribe', id: asked, samples });
      }),
    listen: (phrases) => tell({ kind: 'listen', phrases }),
    deaf: (deaf) => tell({ kind: 'deaf', deaf }),
    close,
  };
}
