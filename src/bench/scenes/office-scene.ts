import type { OfficeLink } from '../../sync/link.dom.ts';
import type { Offered } from '../../sync/wire.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import type { Bench } from './scene.ts';

/** How this bench stands with its office, and the jobs of other benches that can be gone on with here. */
export class OfficeScene extends ListScene {
  readonly #link: OfficeLink;
  #offers: readonly Offered[] = [];

  static async open(bench: Bench, link: OfficeLink): Promise<OfficeScene> {
    const scene = new OfficeScene(bench, link);
    // The list is shown at once; what the office offers is added when it answers.
    bench.try(scene.#look());
    return scene;
  }

  private constructor(bench: Bench, link: OfficeLink) {
    super(bench);
    this.#link = link;
  }

  async #look(): Promise<void> {
    this.#offers = await this.#link.offered();
    this.bench.redraw();
  }

  protected content(): ListContent {
    const { name, waiting, reached, fault, complaints } = this.#link.status;
    const stand = waiting > 0 ? `${waiting} records wait here.` : 'Everything written here is confirmed.';
    return {
      heading: 'The office',
      lead: `This is ${name}. ${fault ?? (reached ? stand : 'The office was not reached yet.')}`,
      options: [
        { text: 'Try now' },
        ...this.#offers.map((offer) => ({
          mark: 'Take over:',
          text: `${offer.title}, ${offer.machine}`,
          detail: `${offer.by}${offer.bench ? ` at ${offer.bench}` : ''} · ${offer.station}`,
        })),
        ...complaints.map(({ says, at, job }) => ({
          mark: '! for the supervisor:',
          text: says,
          detail: `${at.slice(0, 10)}${job ? ` · job ${job.slice(0, 8)}` : ''}`,
        })),
      ],
    };
  }

  protected async take(index: number): Promise<void> {
    if (index === 0) {
      this.#link.nudge();
      return this.#look();
    }
    const offer = this.#offers[index - 1];
    if (!offer) return;
    await this.#link.takeOver(offer);
    await this.bench.toJob(offer.job);
  }
}
