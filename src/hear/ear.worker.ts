/** The listening worker: resamples, runs the ear, tells the page. No sound leaves it. */
import { type Ear, ear, type Phrase } from './ear.ts';
import { lexicon } from './lexicon.ts';
import type { Batch, FromEar, ToEar } from './messages.ts';
import { type Resampler, resampler } from './resample.ts';
import { readWeights } from './weights.ts';

const tell = (message: FromEar) => postMessage(message);

let listening: Ear | null = null;
let front: Resampler | null = null;
let phrases: readonly Phrase[] = [];
let deaf = false;
let square = 0;
let samples = 0;

function take(block: Float32Array): void {
  if (!listening || !front) return;
  const sound = front.push(block);
  for (const v of sound) square += v * v;
  samples += sound.length;
  const heard = listening.feed(sound);
  const nearly = listening.nearly();
  if (!deaf) {
    if (heard) tell({ kind: 'heard', heard, speechToNoise: listening.speechToNoiseDb() });
    else if (nearly) tell({ kind: 'nearly', nearly });
  }
  if (samples < 4000) return;
  tell({
    kind: 'level',
    now: 10 * Math.log10(square / samples + 1e-12),
    floor: listening.noiseFloorDb(),
    speechToNoise: listening.speechToNoiseDb(),
  });
  square = 0;
  samples = 0;
}

function open(message: ToEar & { kind: 'open' }): void {
  const weights = readWeights(message.weights);
  if ('code' in weights) {
    tell({ kind: 'failed', says: weights.says });
    return;
  }
  front = resampler(message.rate, weights.features.rate);
  listening = ear(weights, lexicon(message.table));
  listening.listen(phrases);
  tell({ kind: 'open' });
}

self.onmessage = (event: MessageEvent<ToEar>) => {
  const message = event.data;
  if (message.kind === 'open') open(message);
  else if (message.kind === 'listen') {
    phrases = message.phrases;
    listening?.listen(phrases);
  } else if (message.kind === 'deaf') {
    // What began before the app fell silent is forgotten, however late its end comes.
    if (deaf && !message.deaf) listening?.listen(phrases);
    deaf = message.deaf;
  } else {
    const port = event.ports[0];
    if (!port) return;
    port.onmessage = (batch: MessageEvent<Batch>) => {
      take(batch.data.samples);
      port.postMessage({ samples: batch.data.samples }, [batch.data.samples.buffer]);
    };
  }
};
