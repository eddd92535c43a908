import { type Reading, readingsIn } from '../../press/line-pattern.ts';
import { SPEEDS } from '../../press/serial.dom.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import type { Bench } from './scene.ts';

/** Set-up of a gauge on a serial line: its port, its speed, and one reading that shows how it writes. */
export class GaugeScene extends ListScene {
  #step: 'port' | 'speed' | 'reading' | 'learnt';
  #heard: string | null = null;
  #readings: readonly Reading[] = [];

  constructor(bench: Bench) {
    super(bench);
    this.#step = this.#gauges.state === 'open' ? 'speed' : 'port';
    this.#gauges.divert((line) => {
      this.#heard = line;
      this.#readings = readingsIn(line).slice(0, 9);
      bench.redraw();
    });
  }

  get #gauges() {
    return this.bench.desk.device.gauges;
  }

  protected content(): ListContent {
    switch (this.#step) {
      case 'port':
        return {
          heading: 'Connect the gauge',
          lead: 'Plug it in, then choose it from the browser’s list.',
          options: [{ text: 'Choose the gauge' }],
        };
      case 'speed':
        return {
          heading: 'How fast does it send?',
          lead: 'The gauge’s own instructions say it; most send 9600. 8 data bits, no parity, one stop bit.',
          options: SPEEDS.map((speed) => ({
            text: String(speed),
            ...(speed === this.#gauges.line.baudRate ? { detail: 'as it is now' } : {}),
          })),
        };
      case 'reading':
        return this.#heard === null
          ? {
              heading: 'Take one reading and send it',
              lead: 'Nothing has come yet. If nothing comes: another speed, or its cable.',
              options: [],
            }
          : {
              heading: 'Which one is the figure?',
              lead: `It sent: ${this.#heard}`,
              options: this.#readings.map(({ figure, unit, pattern }) => ({
                text: unit === null ? figure : `${figure} ${unit}`,
                detail: `read as ${pattern}`,
              })),
            };
      case 'learnt':
        return {
          heading: 'The gauge is set up',
          lead: `Its lines are read as ${this.#gauges.line.pattern ?? ''}. A figure is read back and counts when you confirm it.`,
          options: [{ text: 'To this bench' }],
        };
    }
  }

  protected async take(index: number): Promise<void> {
    this.bench.fault = null;
    switch (this.#step) {
      case 'port':
        await this.#gauges.choose();
        this.#to('speed');
        break;
      case 'speed': {
        const baudRate = SPEEDS[index] ?? 9600;
        await this.#gauges.use({ ...this.#gauges.line, baudRate });
        this.#heard = null;
        this.#to('reading');
        break;
      }
      case 'reading': {
        const reading = this.#readings[index];
        if (!reading) return;
        const line = { baudRate: this.#gauges.line.baudRate, pattern: reading.pattern };
        await this.#gauges.use(line);
        await this.bench.desk.settings.keepGauge(line);
        this.#to('learnt');
        break;
      }
      case 'learnt':
        this.leave();
    }
  }

  #to(step: 'speed' | 'reading' | 'learnt'): void {
    this.#step = step;
    this.at = 0;
    this.bench.redraw();
  }

  protected override leave(): void {
    this.bench.try(this.bench.toHealth());
  }

  close(): void {
    this.#gauges.divert(null);
  }
}
