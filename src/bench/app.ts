import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Workshop } from '../job/workshop.ts';
import { jobNews } from '../job/writer.dom.ts';
import type { Pressed } from '../press/input.ts';
import { defaultLayout, withPedals } from '../press/layout.ts';
import { type Presses, presses } from '../press/presses.dom.ts';
import type { Desk } from './desk.dom.ts';
import { Listening } from './listening.dom.ts';
import { UNSET } from './optics.ts';
import type { Bench, Scene } from './scenes/scene.ts';
import { ShelfScene } from './scenes/shelf-scene.ts';
import { WelcomeScene } from './scenes/welcome-scene.ts';
import { useReading, useTheme } from './type-tokens.ts';

/** The bench: shows one scene and hands it what was pressed. */
export class App extends LitElement implements Bench {
  static override properties = { desk: { attribute: false } };
  declare desk: Desk;

  static override styles = css`
    :host { display: block; height: 100%; }
    :host > * { height: 100%; }
  `;

  workshop: Workshop | null = null;
  fault: string | null = null;
  presses: Presses | null = null;
  readonly listening = new Listening();
  #scene: Scene | null = null;
  #wantsVoice = false;
  #news = jobNews((job) => this.#scene?.news?.(job));

  get host(): this {
    return this;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.role = 'main';
    this.try(this.#begin());
  }

  override disconnectedCallback(): void {
    this.listening.stop();
    this.presses?.stop();
    this.#scene?.close?.();
    this.#news.close();
    super.disconnectedCallback();
  }

  /** Resolves when everything that was pressed so far has been written down. */
  get idle(): Promise<unknown> {
    return this.#scene?.idle ?? Promise.resolve();
  }

  /** No job is open and no question: a new version may come in. */
  get atRest(): boolean {
    return this.#scene instanceof ShelfScene;
  }

  async #begin(): Promise<void> {
    const { settings, device } = this.desk;
    useTheme(await settings.theme());
    useReading((await settings.reading()) ?? UNSET);
    this.workshop = (await settings.workshop()) ?? null;
    // A bench whose loaded procedures cannot be read still has its own.
    this.try(this.desk.published.look());
    const layout = withPedals(defaultLayout, await settings.pedals());
    this.presses = presses(layout, (pressed) => this.pressed(pressed));
    const gauge = await settings.gauge();
    if (gauge) await device.gauges.use(gauge);
    this.listening.onChange = () => this.redraw();
    this.listening.onFault = (says) => {
      this.desk.speaker.tone('refused');
      this.desk.speaker.say([says]);
    };
    this.listening.onHeard = (heard) => this.#scene?.heard?.(heard);
    this.desk.speaker.onSound = (sounds) => this.listening.deaf(sounds);
    await this.listening.use(await settings.voiceSetUp());
    this.#wantsVoice = await settings.voice();
    const job = /^#job=([0-9a-f-]{36})$/.exec(location.hash)?.[1];
    if (!this.workshop) this.show(new WelcomeScene(this));
    else if (job) await this.toJob(job).catch((error: unknown) => this.#backToShelf(error));
    else await this.toShelf();
  }

  /** The job that was to be shown cannot be: the shelf says why. */
  async #backToShelf(error: unknown): Promise<void> {
    await this.toShelf();
    this.fail(error);
  }

  /** What hands, feet, scanners and gauges say. */
  pressed(pressed: Pressed): void {
    // Whatever is being said: a hand or foot goes before it.
    this.desk.speaker.hush();
    // A microphone and its audio clock want an act of the person first: the first press of the shift is one.
    if (this.#wantsVoice) this.try(this.listening.start());
    this.#wantsVoice = false;
    if (pressed.kind !== 'typed') this.#scene?.pressed(pressed);
    else if (this.#scene?.typed) this.#scene.typed(pressed.text);
    else this.fail(new Error(`"${pressed.text}" means nothing here: scan or measure it during a job.`));
  }

  show(scene: Scene): void {
    if (scene === this.#scene) return;
    this.#scene?.close?.();
    this.#scene = scene;
    this.fault = null;
    this.redraw();
  }

  async toShelf(): Promise<void> {
    history.replaceState(null, '', location.pathname);
    // The job's right to write is let go before the shelf reads.
    this.#scene?.close?.();
    this.#scene = null;
    this.show(await ShelfScene.open(this));
  }

  async toHealth(): Promise<void> {
    const { HealthScene } = await import('./scenes/health-scene.ts');
    this.show(await HealthScene.open(this));
  }

  async toJob(job: string): Promise<void> {
    // All of it is fetched before the job is shown, and nothing during it.
    const { JobScene } = await import('./scenes/job-scene.ts');
    this.show(await JobScene.open(this, job));
  }

  tell(job: string): void {
    this.#news.tell(job);
  }

  fail(error: unknown): void {
    this.fault = error instanceof Error ? error.message : String(error);
    this.desk.speaker.tone('refused');
    this.redraw();
  }

  try(work: Promise<unknown>): void {
    work.catch((error: unknown) => this.fail(error));
  }

  redraw(): void {
    this.requestUpdate();
  }

  override updated(): void {
    this.listening.listen(this.#scene?.phrases ?? [], this.#scene?.person);
  }

  override render(): TemplateResult | typeof nothing {
    if (this.#scene) return this.#scene.render();
    return this.fault ? html`<p role="alert">${this.fault}</p>` : nothing;
  }
}

customElements.define('hf-app', App);
