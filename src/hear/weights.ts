/** What the features need to know; written into the weights' file so that the two cannot part. */
export interface FeatureSettings {
  /** Samples a second. */
  readonly rate: number;
  /** Samples in one window. */
  readonly window: number;
  /** Samples from one window to the next. */
  readonly hop: number;
  readonly fft: number;
  readonly mels: number;
  /** Windows in one column. */
  readonly stack: number;
  /** Hertz. */
  readonly low: number;
  readonly high: number;
  /** Added to each mel energy before its logarithm. */
  readonly floor: number;
  /** Windows over which the running background forgets. */
  readonly memory: number;
}

export interface NetworkSettings {
  readonly channels: number;
  readonly wide: number;
  readonly outputs: number;
  readonly kernel: number;
  readonly dilations: readonly number[];
  /** Columns that each block looks ahead; the first layer looks one more. */
  readonly lookahead: readonly number[];
  /** The words and commands that the second output tells apart, in order from its second; the first is "none of these". */
  readonly words?: readonly string[];
  /** How many of the last blocks serve those words alone; 1 where it is not said. */
  readonly wordBlocks?: number;
}

export interface Weights {
  readonly features: FeatureSettings;
  readonly network: NetworkSettings;
  /** A tensor by name, 8-bit rows already scaled; null where the file has none of that name. */
  tensor(name: string): Float32Array | null;
}

export interface WeightsFault {
  readonly code: 'not-an-ear' | 'ear-cut-short';
  readonly says: string;
}

const MAGIC = 'HFEAR001';

interface Entry {
  readonly name: string;
  readonly shape: readonly number[];
  readonly type: 'int8' | 'float32';
  readonly at: number;
}

/**
 * Reads the acoustic model's file: the eight signs HFEAR001, a uint32 length, a JSON header of that length, then the
 * tensors, little-endian. Matrices are int8 rows, each with one float32 scale in the tensor `<name>.scale`.
 */
export function readWeights(file: ArrayBuffer): Weights | WeightsFault {
  const bytes = new Uint8Array(file);
  const magic = String.fromCharCode(...bytes.subarray(0, 8));
  if (bytes.length < 12 || magic !== MAGIC) {
    return { code: 'not-an-ear', says: 'This is not a listening model. Load the page again.' };
  }
  const short: WeightsFault = {
    code: 'ear-cut-short',
    says: 'The listening model arrived incomplete. Load the page again with the network on.',
  };
  const size = new DataView(file).getUint32(8, true);
  const base = 12 + size;
  if (bytes.length < base) return short;
  const text = Array.from(bytes.subarray(12, base), (b) => String.fromCharCode(b)).join('');
  const header = JSON.parse(text) as FeatureSettings &
    NetworkSettings & { readonly tensors: readonly Entry[] };
  const found = new Map(header.tensors.map((e) => [e.name, e]));
  const sizeOf = (e: Entry) => e.shape.reduce((a, b) => a * b, 1);
  for (const e of header.tensors) {
    if (base + e.at + sizeOf(e) * (e.type === 'int8' ? 1 : 4) > bytes.length) return short;
  }

  function tensor(name: string): Float32Array | null {
    const entry = found.get(name);
    if (!entry) return null;
    const start = base + entry.at;
    if (entry.type === 'float32') return new Float32Array(file.slice(start, start + 4 * sizeOf(entry)));
    const out = new Float32Array(new Int8Array(file, start, sizeOf(entry)));
    const scale = tensor(`${name}.scale`);
    const columns = entry.shape[1] ?? 1;
    if (scale)
      for (let i = 0; i < out.length; i++) out[i] = (out[i] ?? 0) * (scale[Math.floor(i / columns)] ?? 0);
    return out;
  }

  return { features: header, network: header, tensor };
}
