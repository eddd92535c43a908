import { sealOf } from '../desk.dom.ts';
import { type ListContent, ListScene } from './list-scene.ts';

/** The first start: a bench without a workshop. */
export class WelcomeScene extends ListScene {
  protected content(): ListContent {
    return {
      heading: 'Holdfast',
      lead: 'A checklist runner for the workshop bench. This bench has no workshop yet. It does not replace the service manual, local rules or a licensed inspection.',
      options: [
        {
          text: 'Load the demo workshop',
          detail: 'an invented riding school, its machines, people and tools',
        },
      ],
    };
  }

  protected override leave(): void {}

  #loading: Promise<void> | null = null;

  /** Loads once, however often it is asked for: the demo's past jobs are written one record at a time. */
  protected take(): Promise<void> {
    this.#loading ??= this.#load().finally(() => {
      this.#loading = null;
    });
    return this.#loading;
  }

  async #load(): Promise<void> {
    const { desk } = this.bench;
    const { demoWorkshopAt, demoJobs, demoPins } = await import('../../../seeds/demo.ts');
    const definitions = await Promise.all(desk.procedures.map((listed) => listed.load()));
    for (const records of demoJobs(definitions, desk.now(), desk.app)) {
      for (const record of records) await desk.store.append(record);
      if (records.at(-1)?.station === 'complete') await sealOf(desk, records);
    }
    for (const [person, pin] of Object.entries(demoPins)) await desk.pins.enrol(person, pin);
    const workshop = demoWorkshopAt(desk.now());
    await desk.settings.keepWorkshop(workshop);
    this.bench.workshop = workshop;
    await navigator.storage?.persist?.().catch(() => false);
    await this.bench.toShelf();
  }
}
