import { afterEach, describe, expect, test } from 'vitest';
import type { Typed } from '../../src/press/fast-keys.ts';
import { type GaugeLine, type LinePort, type Lines, serialGauges } from '../../src/press/serial.dom.ts';

// Only the port is a stand-in: it is hardware. Streams, decoding and events are the browser's own.

/** A gauge at the far end of a cable. */
class Port implements LinePort {
  readable: ReadableStream<Uint8Array> | null = null;
  speed = 0;
  opens = 0;
  refuses = false;
  #out: ReadableStreamDefaultController<Uint8Array> | null = null;

  #stream(): ReadableStream<Uint8Array> {
    return new ReadableStream({
      start: (out) => {
        this.#out = out;
      },
    });
  }
  async open({ baudRate }: { baudRate: number }): Promise<void> {
    if (this.refuses) throw new DOMException('Failed to open serial port.', 'NetworkError');
    if (this.readable) throw new DOMException('The port is already open.', 'InvalidStateError');
    this.opens++;
    this.speed = baudRate;
    this.readable = this.#stream();
  }
  async close(): Promise<void> {
    this.readable = null;
  }
  send(text: string): void {
    this.#out?.enqueue(new TextEncoder().encode(text));
  }
  /** Noise on the line: the stream breaks, the port gives a new one. */
  noise(): void {
    const broken = this.#out;
    this.readable = this.#stream();
    broken?.error(new DOMException('Framing error.', 'FramingError'));
  }
  unplug(): void {
    const broken = this.#out;
    this.readable = null;
    broken?.error(new DOMException('The device has been lost.', 'NetworkError'));
  }
}

class Bus extends EventTarget implements Lines {
  allowed: Port[] = [];
  chosen: Port | null = null;
  async getPorts(): Promise<Port[]> {
    return this.allowed;
  }
  async requestPort(): Promise<Port> {
    if (!this.chosen) throw new DOMException('No port selected by the user.', 'NotFoundError');
    this.allowed.push(this.chosen);
    return this.chosen;
  }
}

const told: Typed[] = [];
const odd: string[] = [];
let gauges: ReturnType<typeof serialGauges> | null = null;
const line: GaugeLine = { baudRate: 9600, pattern: 'ST,{figure},{unit}' };

function listening(bus: Lines | null, first = line) {
  gauges = serialGauges(
    first,
    { told: (one) => told.push(one), odd: (text) => odd.push(text), changed: () => undefined },
    bus,
  );
  return gauges;
}
const texts = () => told.map(({ text }) => text);

afterEach(async () => {
  await gauges?.stop();
  told.length = 0;
  odd.length = 0;
});

async function plugged() {
  const bus = new Bus();
  const port = new Port();
  bus.allowed = [port];
  const made = listening(bus);
  await expect.poll(() => made.state).toBe('open');
  return { bus, port, gauges: made };
}

describe('a gauge on a serial line', () => {
  test('that was allowed before is opened by itself, and its lines are told as texts of a gauge', async () => {
    const { port } = await plugged();
    expect(port.speed).toBe(9600);
    port.send('ST,12.');
    port.send('35,mm\r\nST,90.5,Nm\n');
    await expect.poll(texts).toEqual(['12.35 mm', '90.5 Nm']);
    expect(told[0]).toMatchObject({ kind: 'typed', source: 'gauge' });
    expect(odd).toEqual([]);
  });

  test('that sends something else is told of, never guessed at', async () => {
    const { port } = await plugged();
    port.send('battery low\r\nST,1.0,mm\r\n');
    await expect.poll(texts).toEqual(['1.0 mm']);
    expect(odd).toEqual(['battery low']);
  });

  test('half a line and noise after it give no figure; the next whole line does', async () => {
    const { port } = await plugged();
    port.send('ST,12');
    await new Promise((done) => setTimeout(done, 20));
    port.noise();
    await new Promise((done) => setTimeout(done, 20));
    port.send('ST,7.0,mm\r\n');
    await expect.poll(texts).toEqual(['7.0 mm']);
  });

  test('that is unplugged is gone, and is opened again when it comes back', async () => {
    const { bus, port, gauges: made } = await plugged();
    port.unplug();
    await expect.poll(() => made.state).toBe('gone');
    bus.dispatchEvent(new Event('connect'));
    await expect.poll(() => made.state).toBe('open');
    port.send('ST,3.0,mm\r');
    await expect.poll(texts).toEqual(['3.0 mm']);
    expect(port.opens).toBe(2);
  });

  test('at another speed is closed and opened anew', async () => {
    const { port, gauges: made } = await plugged();
    await made.use({ ...line, baudRate: 4800 });
    expect([port.speed, made.state]).toEqual([4800, 'open']);
  });

  test('is learnt from its lines, which then reach only the set-up', async () => {
    const { port, gauges: made } = await plugged();
    const shown: string[] = [];
    made.divert((text) => shown.push(text));
    port.send('ST,3.0,mm\r\n');
    await expect.poll(() => shown).toEqual(['ST,3.0,mm']);
    made.divert(null);
    port.send('ST,4.0,mm\r\n');
    await expect.poll(texts).toEqual(['4.0 mm']);
  });

  test('without a pattern no line is a figure', async () => {
    const bus = new Bus();
    const port = new Port();
    bus.allowed = [port];
    const made = listening(bus, { baudRate: 9600, pattern: null });
    await expect.poll(() => made.state).toBe('open');
    port.send('ST,3.0,mm\r\n');
    await expect.poll(() => odd).toEqual(['ST,3.0,mm']);
    expect(told).toEqual([]);
  });
});

describe('choosing', () => {
  test('opens the port that was chosen', async () => {
    const bus = new Bus();
    bus.chosen = new Port();
    const made = listening(bus);
    expect(made.state).toBe('off');
    await made.choose();
    expect(made.state).toBe('open');
  });

  test('nothing chosen, and a port that does not open, each give a sentence that says what to do', async () => {
    const bus = new Bus();
    const made = listening(bus);
    await expect(made.choose()).rejects.toThrow('No gauge was chosen: plug it in');
    bus.chosen = Object.assign(new Port(), { refuses: true });
    await expect(made.choose()).rejects.toThrow('The gauge does not answer: plug it in again');
    expect(made.state).toBe('gone');
  });

  test('where the browser has no serial lines it says so', async () => {
    const made = listening(null);
    expect(made.state).toBe('none');
    await expect(made.choose()).rejects.toThrow('This browser cannot listen to a serial line');
  });
});
