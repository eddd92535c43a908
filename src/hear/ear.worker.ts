/** The listening worker: resamples, runs the ear, tells the page. No sound leaves it. */
import { type Ear, ear, type Phrase } from './ear.ts';
import { lexicon } from './lexicon.ts';
import type { Batch, FromEar, ToEar } from './messages.ts';
import { type Resampler, resampler } from './resample.ts';
import { retranscribe, type Taker, taker } from './taker.ts';
import { readWeights, type Weights } from './weights.ts';

const tell = (message: FromEar) => postMessage(message);

let listening: Ear | null = null;
let front: Resampler | null = null;
let weights: Weights | null = null;
let teaching: Taker | null = null;
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
  if (teaching) {
    const said = teaching.feed(sound);
    if (said && !deaf) tell({ kind: 'take', take: said });
  } else if (!deaf) {
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
  const read = readWeights(message.weights);
  if ('code' in read) {
    tell({ kind: 'failed', says: read.says });
    return;
  }
  weights = read;
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
    if (deaf && !message.deaf) teaching?.forget();
    deaf = message.deaf;
  } else if (message.kind === 'teach') {
    teaching = message.on && weights ? taker(weights) : null;
    listening?.listen(phrases);
  } else if (message.kind === 'transcribe') {
    const phones = weights ? retranscribe(weights, message.samples) : [];
    tell({ kind: 'transcribed', id: message.id, phones });
  } else {
    const port = event.ports[0];
    if (!port) return;
    port.onmessage = (batch: MessageEvent<Batch>) => {
      take(batch.data.samples);
      port.postMessage({ samples: batch.data.samples }, [batch.data.samples.buffer]);
    };
  }
};
