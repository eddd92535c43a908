import { html, type TemplateResult } from 'lit';
import type { Gesture } from '../../press/gesture.ts';
import { pedalHolds } from '../../press/layout.ts';
import { choose } from '../chooser.ts';
import { type Desk, saveFile } from '../desk.dom.ts';
import { askToKeep, browserFacts, latestMoment, switchFull, tryMicrophone } from '../device.dom.ts';
import { type DeviceFacts, type HealthRow, healthRows, type Part } from '../health.ts';
import '../screens/health-screen.ts';
import { GaugeScene } from './gauge-scene.ts';
import { PedalScene } from './pedal-scene.ts';
import type { Bench, Scene } from './scene.ts';

/** How often what can change by itself is looked at again, ms. */
const LOOK_MS = 3000;

/** Set-up and health of this bench: every part with its state, a plain remedy, and what can be done here. */
export class HealthScene implements Scene {
  readonly #bench: Bench;
  #facts: DeviceFacts;
  #at = 0;
  #busy: string | null = null;
  #timer: number;

  static async open(bench: Bench): Promise<HealthScene> {
    return new HealthScene(bench, await factsOf(bench));
  }

  private constructor(bench: Bench, facts: DeviceFacts) {
    this.#bench = bench;
    this.#facts = facts;
    this.#timer = window.setInterval(() => bench.try(this.#look()), LOOK_MS);
  }

  get #rows(): HealthRow[] {
    return healthRows(this.#facts);
  }

  async #look(): Promise<void> {
    this.#facts = await factsOf(this.#bench, this.#facts);
    this.#bench.redraw();
  }

  pressed(gesture: Gesture): void {
    const { at, taken, left } = choose(this.#at, this.#rows.length, gesture);
    this.#at = at;
    this.#bench.redraw();
    const row = taken === null ? undefined : this.#rows[taken];
    if (left) this.#bench.try(this.#bench.toShelf());
    else if (row?.act) this.#bench.try(this.#do(row.part));
  }

  async #do(part: Part): Promise<void> {
    const bench = this.#bench;
    const { device } = bench.desk;
    bench.fault = null;
    switch (part) {
      case 'microphone':
        this.#busy = 'Speak now …';
        bench.redraw();
        this.#facts = {
          ...this.#facts,
          microphone: { ...this.#facts.microphone, tried: await tryMicrophone() },
        };
        this.#busy = null;
        break;
      case 'storage':
        await askToKeep();
        break;
      case 'wake':
        await device.wake.ask();
        break;
      case 'full':
        await switchFull();
        break;
      case 'offline':
        await device.updates.look();
        break;
      case 'key':
        this.#busy = `Saved as ${await this.#saveKey()}`;
        break;
      case 'pedal':
        return bench.show(new PedalScene(bench));
      case 'line':
        return bench.show(new GaugeScene(bench));
      case 'voice': {
        const { VoiceScene } = await import('./voice-scene.ts');
        return bench.show(await VoiceScene.open(bench));
      }
      case 'clock':
        break;
    }
    await this.#look();
  }

  /** The public half of the device's key as a JWK Set (RFC 7517), as the command that verifies takes it. */
  async #saveKey(): Promise<string> {
    const { kid, publicJwk } = await this.#bench.desk.key();
    const name = `bench-key-${kid.slice(0, 8)}.json`;
    const jwk = { ...publicJwk, kid, use: 'sig', alg: 'ES256' };
    saveFile(name, `${JSON.stringify({ keys: [jwk] }, null, 2)}\n`, 'application/jwk-set+json');
    return name;
  }

  close(): void {
    window.clearInterval(this.#timer);
  }

  render(): TemplateResult {
    return html`<hf-health
      .rows=${this.#rows}
      .at=${this.#at}
      .busy=${this.#busy}
      .fault=${this.#bench.fault}
    ></hf-health>`;
  }
}

/** Everything about the device. The journals are read and the key is fetched once: `before` has them. */
async function factsOf({ desk }: Bench, before: DeviceFacts | null = null): Promise<DeviceFacts> {
  const { device, settings, store } = desk;
  const [browser, pedals, voice, latest, key] = await Promise.all([
    browserFacts(),
    settings.pedals(),
    settings.voiceSetUp(),
    before ? before.clock.latest : latestMoment(store),
    before ? before.key : keyOf(desk),
  ]);
  return {
    microphone: { ...browser.microphone, tried: before?.microphone.tried ?? null },
    storage: browser.storage,
    voice,
    full: browser.full,
    clock: { steps: device.clock.steps, latest, wall: desk.clocks().wall },
    wake: device.wake.state,
    offline: device.updates.state,
    key,
    pedal: { learnt: pedals.length, holds: pedalHolds(pedals) },
    line: { state: device.gauges.state, learnt: device.gauges.line.pattern !== null },
  };
}

const keyOf = (desk: Desk): Promise<DeviceFacts['key']> =>
  desk.key().then(
    ({ kid }) => ({ kid, fault: null }),
    (error: unknown) => ({ kid: null, fault: error instanceof Error ? error.message : String(error) }),
  );
