import type { Typed } from './fast-keys.ts';
import { type LinePattern, LONGEST_LINE, readLine } from './line-pattern.ts';

/** What is remembered of a gauge on a serial line. */
export interface GaugeLine {
  readonly baudRate: number;
  /** null until one reading was shown to the bench. */
  readonly pattern: LinePattern | null;
}

/** Speeds that gauges and torque tools commonly use, the commonest first. */
export const SPEEDS: readonly number[] = [9600, 4800, 19200, 2400, 38400, 57600, 115200];

/** The part of a Web Serial port that is used: 8 data bits, no parity, one stop bit. */
export interface LinePort {
  readonly readable: ReadableStream<Uint8Array> | null;
  open(options: { baudRate: number }): Promise<void>;
  close(): Promise<void>;
}

/** The part of `navigator.serial` that is used. */
export interface Lines extends EventTarget {
  getPorts(): Promise<LinePort[]>;
  /** Has the person choose a port; needs a key or touch just before. */
  requestPort(): Promise<LinePort>;
}

/** `none`: this browser has no Web Serial; `off`: no gauge was allowed; `open`: listening; `gone`: it was unplugged or failed. */
export type LineState = 'none' | 'off' | 'open' | 'gone';

export interface Gauges {
  readonly state: LineState;
  readonly line: GaugeLine;
  /** Has the person choose the gauge's port. @throws Error with a sentence when none was chosen or it does not open */
  choose(): Promise<void>;
  use(line: GaugeLine): Promise<void>;
  /** Gives every line to a set-up; null gives them back to the bench. */
  divert(to: ((line: string) => void) | null): void;
  stop(): Promise<void>;
}

export interface GaugeEars {
  /** A reading. */
  told(typed: Typed): void;
  /** A line that is no reading by the pattern. */
  odd(line: string): void;
  changed(): void;
}

const browserLines = (): Lines | null =>
  (globalThis.navigator as { serial?: Lines } | undefined)?.serial ?? null;

/**
 * Gauges and torque tools on a serial line: each line that fits the pattern is told like a text that a device typed, to
 * be read back and confirmed by a person. Ports that were allowed once are opened by themselves, and again when they
 * are plugged in again.
 */
export function serialGauges(
  first: GaugeLine,
  ears: GaugeEars,
  serial: Lines | null = browserLines(),
): Gauges {
  let line = first;
  let state: LineState = serial ? 'off' : 'none';
  let diverted: ((line: string) => void) | null = null;
  let stopped = false;
  /** What ends the reading of a port. */
  const open = new Map<LinePort, () => Promise<void>>();

  const tell = (next: LineState) => {
    state = next;
    ears.changed();
  };

  function heard(text: string): void {
    if (text === '') return;
    const reading = line.pattern === null ? null : readLine(line.pattern, text);
    if (diverted) diverted(text);
    else if (reading === null) ears.odd(text);
    else ears.told({ kind: 'typed', text: reading, source: 'gauge', at: performance.now() });
  }

  /** Reads until the port ends or is stopped. Errors on the line (noise, a wrong speed) end a stream, not the port. */
  async function listen(
    port: LinePort,
    ended: () => boolean,
    reading: (reader: { cancel(): Promise<void> }) => void,
  ) {
    const decoder = new TextDecoder('utf-8');
    let rest = '';
    while (port.readable && !ended()) {
      const reader = port.readable.getReader();
      reading(reader);
      try {
        for (let next = await reader.read(); !next.done; next = await reader.read()) {
          const parts = (rest + decoder.decode(next.value, { stream: true })).split(/[\r\n]+/);
          // What grows without an end is no line.
          rest = (parts.pop() ?? '').slice(0, 2 * LONGEST_LINE);
          for (const part of parts) heard(part.trim());
        }
        return;
      } catch {
        rest = '';
      } finally {
        reader.releaseLock();
      }
    }
  }

  async function start(port: LinePort): Promise<void> {
    if (open.has(port) || stopped) return;
    let ending = false;
    let reader: { cancel(): Promise<void> } | null = null;
    open.set(port, async () => undefined);
    try {
      await port.open({ baudRate: line.baudRate });
    } catch (error) {
      open.delete(port);
      tell('gone');
      throw new Error('The gauge does not answer: plug it in again, and close other programs that use it.', {
        cause: error,
      });
    }
    const reads = listen(
      port,
      () => ending,
      (one) => {
        reader = one;
      },
    ).finally(async () => {
      open.delete(port);
      await port.close().catch(() => undefined);
      if (!ending) tell('gone');
    });
    open.set(port, async () => {
      ending = true;
      await reader?.cancel().catch(() => undefined);
      await reads;
    });
    tell('open');
  }

  const startAll = async () => {
    for (const port of (await serial?.getPorts()) ?? []) await start(port).catch(() => undefined);
  };
  const endAll = () => Promise.all([...open.values()].map((end) => end()));
  const onConnect = () => void startAll();
  serial?.addEventListener('connect', onConnect);
  void startAll();

  return {
    get state() {
      return state;
    },
    get line() {
      return line;
    },
    async choose() {
      if (!serial)
        throw new Error(
          'This browser cannot listen to a serial line: use a gauge that types, or type the figure.',
        );
      let port: LinePort;
      try {
        port = await serial.requestPort();
      } catch (error) {
        throw new Error('No gauge was chosen: plug it in and choose it, or type its figures.', {
          cause: error,
        });
      }
      await start(port);
    },
    async use(next) {
      const again = next.baudRate !== line.baudRate;
      line = next;
      if (!again) return;
      await endAll();
      await startAll();
    },
    divert(to) {
      diverted = to;
    },
    async stop() {
      stopped = true;
      serial?.removeEventListener('connect', onConnect);
      await endAll();
    },
  };
}
