import type { Weights } from './weights.ts';

/** The acoustic model, one column at a time. */
export interface Network {
  /** Columns by which the answer is behind the question: the model looks that far ahead. */
  readonly delay: number;
  /**
   * Takes the next column of features; answers the log probabilities of the outputs for the column `delay` ago, or null
   * until there is one. The answer is overwritten by the next call.
   */
  step(column: Float32Array): Float32Array | null;
  /** Log probabilities of the model's words for the column that `step` answered last; null where it has none. */
  words(): Float32Array | null;
}

/** out[r] = bias[r] + row r of `matrix` times x. Four sums at once let the engine keep its registers busy. */
function multiply(matrix: Float32Array, bias: Float32Array, x: Float32Array, out: Float32Array): void {
  const n = x.length;
  for (let r = 0, at = 0; r < out.length; r++, at += n) {
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    for (let i = 0; i < n; i += 4) {
      a += (matrix[at + i] as number) * (x[i] as number);
      b += (matrix[at + i + 1] as number) * (x[i + 1] as number);
      c += (matrix[at + i + 2] as number) * (x[i + 2] as number);
      d += (matrix[at + i + 3] as number) * (x[i + 3] as number);
    }
    out[r] = (bias[r] as number) + a + b + c + d;
  }
}

function relu(x: Float32Array): void {
  for (let i = 0; i < x.length; i++) if ((x[i] as number) < 0) x[i] = 0;
}

/** Turns sums into log probabilities, in place. */
function normalise(scores: Float32Array): void {
  let most = Number.NEGATIVE_INFINITY;
  for (const s of scores) most = Math.max(most, s);
  let sum = 0;
  for (const s of scores) sum += Math.exp(s - most);
  const norm = most + Math.log(sum);
  for (let i = 0; i < scores.length; i++) scores[i] = (scores[i] as number) - norm;
}

type Layer = (x: Float32Array) => Float32Array | null;

/** A depthwise convolution over time, then a widening and a narrowing layer, added to the input. */
function block(weights: Weights, index: number, need: (name: string) => Float32Array): Layer {
  const { channels, wide, kernel, dilations, lookahead } = weights.network;
  const dilation = dilations[index] ?? 1;
  const ahead = lookahead[index] ?? 0;
  const depth = need(`${index}.depth`);
  const depthBias = need(`${index}.depth.bias`);
  const up = need(`${index}.up`);
  const upBias = need(`${index}.up.bias`);
  const down = need(`${index}.down`);
  const downBias = need(`${index}.down.bias`);
  const span = (kernel - 1) * dilation + 1;
  const ring = new Float32Array(span * channels);
  const mixed = new Float32Array(channels);
  const hidden = new Float32Array(wide);
  const out = new Float32Array(channels);
  let n = 0;

  return (x) => {
    ring.set(x, (n % span) * channels);
    n += 1;
    if (n <= ahead) return null;
    mixed.set(depthBias);
    for (let k = 0; k < kernel; k++) {
      const at = ((n - 1 + dilation * (k + 1 - kernel) + span * kernel) % span) * channels;
      for (let c = 0; c < channels; c++) {
        mixed[c] = (mixed[c] as number) + (ring[at + c] as number) * (depth[c * kernel + k] as number);
      }
    }
    multiply(up, upBias, mixed, hidden);
    relu(hidden);
    multiply(down, downBias, hidden, out);
    const same = ((n - 1 - ahead + span) % span) * channels;
    for (let c = 0; c < channels; c++) out[c] = (out[c] as number) + (ring[same + c] as number);
    return out;
  };
}

/** Builds the model from its weights. Throws a RangeError where the file lacks a tensor: it is not this model's. */
export function network(weights: Weights): Network {
  const need = (name: string): Float32Array => {
    const t = weights.tensor(name);
    if (!t) throw new RangeError(`The listening model lacks ${name}.`);
    return t;
  };
  const { channels, outputs, dilations, lookahead, wordBlocks = 1 } = weights.network;
  const stem = need('stem');
  const stemBias = need('stem.bias');
  const out = need('out');
  const outBias = need('out.bias');
  // The last blocks serve the words alone, where the model has any.
  const wordMatrix = weights.tensor('words');
  const wordBias = wordMatrix ? need('words.bias') : null;
  const all = dilations.map((_, i) => block(weights, i, need));
  const blocks = wordMatrix ? all.slice(0, -wordBlocks) : all;
  const forWords = wordMatrix ? all.slice(-wordBlocks) : [];
  const wordScores = new Float32Array(wordBias?.length ?? 0);
  const width = stem.length / channels / 2;
  const pair = new Float32Array(2 * width);
  const first = new Float32Array(channels);
  const top = new Float32Array(channels);
  const hidden = new Float32Array(channels);
  const scores = new Float32Array(outputs);
  let seen = 0;

  return {
    delay: 1 + lookahead.reduce((a, b) => a + b, 0),
    step(column) {
      pair.copyWithin(0, width);
      pair.set(column, width);
      seen += 1;
      if (seen < 2) return null;
      multiply(stem, stemBias, pair, first);
      relu(first);
      let x: Float32Array | null = first;
      for (const layer of blocks) {
        x = layer(x);
        if (!x) return null;
      }
      top.set(x);
      let y: Float32Array | null = top;
      for (const layer of forWords) y = y && layer(y);
      if (y && wordMatrix && wordBias) hidden.set(y);
      relu(top);
      multiply(out, outBias, top, scores);
      normalise(scores);
      if (y && wordMatrix && wordBias) {
        relu(hidden);
        multiply(wordMatrix, wordBias, hidden, wordScores);
        normalise(wordScores);
      }
      return scores;
    },
    words: () => (wordMatrix ? wordScores : null),
  };
}
