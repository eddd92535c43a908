import { html, type TemplateResult } from 'lit';
import { shortCode } from '../../job/story.ts';
import { loadPublished } from '../../journal/published.ts';
import { revisionHash } from '../../procedure/proof/certificate.ts';
import { takenBy } from '../../procedure/publish/published.ts';
import { drawingNames } from '../parts/drawing.ts';
import type { Option } from '../parts/options.ts';
import type { ProcedureDropScreen } from '../screens/procedure-drop-screen.ts';
import '../screens/procedure-drop-screen.ts';
import { EnrolScene } from './enrol-scene.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import type { KnownProcedure } from './procedure-known.ts';
import { knownProcedures } from './procedure-known.ts';
import { ProcedureScene } from './procedure-scene.ts';
import type { Bench } from './scene.ts';

/** The procedures of this bench: those of the app and those that were loaded; and where another one is loaded. */
export class ProceduresScene extends ListScene {
  protected override readonly near = true;
  #known: readonly KnownProcedure[];
  #told: string;

  static async open(bench: Bench, told = ''): Promise<ProceduresScene> {
    await bench.desk.published.look();
    return new ProceduresScene(bench, await knownProcedures(bench.desk), told);
  }

  private constructor(bench: Bench, known: readonly KnownProcedure[], told: string) {
    super(bench);
    this.#known = known;
    this.#told = told;
  }

  protected content(): ListContent {
    const options = this.#known.map(({ definition, hash, from, latest }): Option => {
      const { title, revision } = definition.meta;
      return {
        ...(latest ? {} : { mark: 'Earlier:' }),
        text: title,
        detail: `revision ${revision} · ${shortCode(hash)} · ${from}`,
      };
    });
    const { authors } = this.bench.desk.published;
    return {
      heading: 'Procedures',
      lead: this.#told,
      options: [
        ...options,
        { text: 'Load a published procedure', detail: 'choose its file, or drop it here' },
        ...authors.map(({ name }) => ({
          text: `Take nothing more from ${name}`,
          detail: 'a supervisor signs on; what was taken stays',
        })),
      ],
    };
  }

  protected async take(index: number): Promise<void> {
    const known = this.#known[index];
    if (known) return this.bench.show(new ProcedureScene(this.bench, known, this.#known));
    if (index === this.#known.length) return this.#drop()?.choose();
    const author = this.bench.desk.published.authors[index - this.#known.length - 1];
    if (author) this.bench.show(EnrolScene.withdraw(this.bench, author));
  }

  #drop(): ProcedureDropScreen | null {
    const host = this.bench.host as Partial<Pick<HTMLElement, 'shadowRoot'>>;
    return host.shadowRoot?.querySelector('hf-procedure-drop') ?? null;
  }

  #file = (event: CustomEvent<File>): void => this.bench.try(loadFile(this.bench, event.detail));

  override render(): TemplateResult {
    return html`<hf-procedure-drop @file=${this.#file}>${super.render()}</hf-procedure-drop>`;
  }
}

/**
 * Takes a published procedure onto this bench, or says why not. When only its author is not known here, a supervisor may
 * enrol them, and the file is looked at again.
 */
export async function loadFile(bench: Bench, file: Blob): Promise<void> {
  const { published } = bench.desk;
  const content = await file.text();
  const enrolled = new Set(published.authors.map(({ kid }) => kid));
  const loaded = await loadPublished(content, enrolled, { drawings: await drawingNames() });
  if (loaded.refused) {
    const { refused, author } = loaded;
    if (refused.code !== 'author-unknown' || !author) throw new Error(refused.sentence);
    return bench.show(EnrolScene.enrol(bench, author, () => loadFile(bench, file)));
  }
  const { revision, author, publishedAt } = loaded;
  const known = await knownProcedures(bench.desk);
  const taken = takenBy(
    revision,
    known.map(({ definition }) => ({
      id: definition.id,
      revision: definition.meta.revision,
      hash: revisionHash(definition),
    })),
  );
  if (taken) throw new Error(taken.sentence);
  await published.keep(revision, author, publishedAt);
  const { title, revision: number } = revision.definition.meta;
  const told = `Taken: “${title}”, revision ${number}, by ${author.name}. It is offered for new jobs; a job that is open goes on with the revision that it began with.`;
  bench.show(await ProceduresScene.open(bench, told));
}
