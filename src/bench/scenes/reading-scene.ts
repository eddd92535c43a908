import { html, type TemplateResult } from 'lit';
import type { Gesture } from '../../press/gesture.ts';
import { type CardFit, startFit, stepFit } from '../card-fit.ts';
import { ARC_MINUTES, DISTANCES, fromCard, type Reading, UNSET } from '../optics.ts';
import { type Theme, useReading, useTheme } from '../type-tokens.ts';
import '../screens/reading-screen.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import type { Bench, Scene } from './scene.ts';

/** First of three questions: how many pixels lie on a millimetre, told by a card held to the screen. */
export class CardScene implements Scene {
  readonly #bench: Bench;
  readonly #distance: number;
  #fit: CardFit;

  static async open(bench: Bench): Promise<CardScene> {
    return new CardScene(bench, (await bench.desk.settings.reading()) ?? UNSET);
  }

  private constructor(bench: Bench, { pixelsPerMm, distance }: Reading) {
    this.#bench = bench;
    this.#distance = distance;
    this.#fit = startFit(pixelsPerMm);
  }

  pressed(gesture: Gesture): void {
    if (gesture.kind === 'escape') this.#bench.try(this.#bench.toShelf());
    if (gesture.kind === 'tap' && gesture.key === 'go') this.#fit = stepFit(this.#fit, 'wider');
    if (gesture.kind === 'tap' && gesture.key === 'back') this.#fit = stepFit(this.#fit, 'narrower');
    const fits = gesture.kind === 'enter' || (gesture.kind === 'long' && gesture.key === 'go');
    const pixelsPerMm = fits ? fromCard(this.#fit.width) : null;
    if (pixelsPerMm !== null) this.#bench.show(new DistanceScene(this.#bench, pixelsPerMm, this.#distance));
    this.#bench.redraw();
  }

  render(): TemplateResult {
    return html`<hf-reading .width=${this.#fit.width} .fault=${this.#bench.fault}></hf-reading>`;
  }
}

/** Second: from how far it is read. The list itself is shown as it would be read from there. */
class DistanceScene extends ListScene {
  readonly #pixelsPerMm: number;

  constructor(bench: Bench, pixelsPerMm: number, distance: number) {
    super(bench);
    this.#pixelsPerMm = pixelsPerMm;
    this.at = Math.max(
      0,
      DISTANCES.findIndex((one) => one >= distance),
    );
  }

  protected content(): ListContent {
    return {
      heading: 'From how far is it read?',
      lead: `Letters then stand at ${ARC_MINUTES.reading} minutes of arc and more, and nothing under ${ARC_MINUTES.least}. From farther away there is less on each page.`,
      options: DISTANCES.map((distance) => ({ text: `${distance / 1000} m` })),
    };
  }

  protected async take(index: number): Promise<void> {
    const reading = { pixelsPerMm: this.#pixelsPerMm, distance: DISTANCES[index] ?? UNSET.distance };
    await this.bench.desk.settings.keepReading(reading);
    useReading(reading);
    this.bench.show(new ThemeScene(this.bench));
  }
}

const THEMES: readonly { theme: Theme; text: string }[] = [
  { theme: 'auto', text: 'as this device has it' },
  { theme: 'light', text: 'light: paper' },
  { theme: 'dark', text: 'dark: ink' },
];

/** Third: paper or ink. */
class ThemeScene extends ListScene {
  protected content(): ListContent {
    return {
      heading: 'Light or dark?',
      lead: 'In a bright workshop light is easier to read. A hold point is always the other way round.',
      options: THEMES,
    };
  }

  protected async take(index: number): Promise<void> {
    const theme = THEMES[index]?.theme ?? 'auto';
    await this.bench.desk.settings.keepTheme(theme);
    useTheme(theme);
    await this.bench.toShelf();
  }
}
