/** The audio worklet: batches of about 30 ms, from buffers allocated once and sent to and fro. */

// The audio worklet's own scope, which TypeScript's libraries do not describe.
declare const sampleRate: number;
declare function registerProcessor(name: string, make: new () => object): void;
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}

const BATCHES = 12;

class Capture extends AudioWorkletProcessor {
  readonly #size = 128 * Math.max(1, Math.round((sampleRate * 0.03) / 128));
  readonly #free: Float32Array<ArrayBuffer>[] = Array.from(
    { length: BATCHES },
    () => new Float32Array(this.#size),
  );
  #now: Float32Array<ArrayBuffer> | null = null;
  #filled = 0;
  #out: MessagePort | null = null;

  constructor() {
    super();
    this.port.onmessage = (event: MessageEvent<{ port: MessagePort }>) => {
      this.#out = event.data.port;
      this.#out.onmessage = (back: MessageEvent<{ samples: Float32Array<ArrayBuffer> }>) => {
        this.#free.push(back.data.samples);
      };
    };
  }

  process(inputs: Float32Array[][]): boolean {
    const channel = inputs[0]?.[0];
    if (!channel || !this.#out) return true;
    this.#now ??= this.#free.pop() ?? null;
    // The worker is behind by a third of a second: this sound is lost rather than memory allocated here.
    if (!this.#now) return true;
    this.#now.set(channel, this.#filled);
    this.#filled += channel.length;
    if (this.#filled < this.#size) return true;
    const samples = this.#now;
    this.#now = null;
    this.#filled = 0;
    this.#out.postMessage({ samples }, [samples.buffer]);
    return true;
  }
}

registerProcessor('holdfast-capture', Capture);
