import { shortCode } from '../../job/story.ts';
import { publish } from '../../journal/published.ts';
import { differences } from '../../procedure/publish/diff.ts';
import { publishedName, type Revision, revisionOf } from '../../procedure/publish/published.ts';
import { toScxml } from '../../procedure/publish/scxml.ts';
import { saveFile } from '../desk.dom.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import { PracticeSetUpScene } from './practice-scene.ts';
import type { KnownProcedure } from './procedure-known.ts';
import { CertificateScene, ChangesScene, ChartScene } from './procedure-views.ts';
import { ProceduresScene } from './procedures-scene.ts';
import type { Bench, Scene } from './scene.ts';

interface Act {
  readonly text: string;
  readonly detail?: string;
  run(): Promise<unknown> | unknown;
}

/** One procedure: what can be looked at and done with it. */
export class ProcedureScene extends ListScene {
  protected override readonly near = true;
  readonly #known: KnownProcedure;
  readonly #all: readonly KnownProcedure[];
  #proved: Revision | null = null;

  constructor(bench: Bench, known: KnownProcedure, all: readonly KnownProcedure[]) {
    super(bench);
    this.#known = known;
    this.#all = all;
  }

  /** Proved when it is asked for, and once: it takes a moment. */
  #revision(): Revision {
    const { revision, findings } = this.#proved
      ? { revision: this.#proved }
      : revisionOf(this.#known.definition);
    if (!revision) {
      const [first] = findings ?? [];
      throw new Error(
        `This procedure cannot be proved: ${first?.station ?? 'the whole'}: ${first?.says ?? ''}`,
      );
    }
    this.#proved = revision;
    return revision;
  }

  #earlier(): readonly KnownProcedure[] {
    const { id, meta } = this.#known.definition;
    return this.#all
      .filter(({ definition }) => definition.id === id && definition.meta.revision < meta.revision)
      .toSorted((a, b) => b.definition.meta.revision - a.definition.meta.revision);
  }

  #acts(): readonly Act[] {
    const { definition } = this.#known;
    const { bench } = this;
    const back = () => bench.show(this);
    const view = (make: () => Scene) => () => bench.show(make());
    return [
      {
        text: 'Hold points and their proof',
        detail: 'every combination of facts, and which hold points it cannot do without',
        run: view(() => new CertificateScene(bench, this.#revision(), back)),
      },
      {
        text: 'Chart and outline',
        detail: 'every station, and where it leads',
        run: view(() => new ChartScene(bench, definition, back)),
      },
      {
        text: 'Practise it',
        detail: 'any way through, right and wrong; no record is kept',
        run: view(() => new PracticeSetUpScene(bench, definition, back)),
      },
      ...this.#earlier().map((before) => ({
        text: `What changed since revision ${before.definition.meta.revision}`,
        run: view(
          () =>
            new ChangesScene(
              bench,
              {
                heading: `${definition.meta.title}: what changed`,
                lead: `from revision ${before.definition.meta.revision} to revision ${definition.meta.revision}`,
                found: differences(before.definition, definition),
              },
              back,
            ),
        ),
      })),
      {
        text: 'Save it as a published file',
        detail: 'sealed with the key of this bench',
        run: () => this.#save(),
      },
      {
        text: 'Save its chart for other tools',
        detail: 'State Chart XML (W3C)',
        run: () =>
          saveFile(
            `${publishedName(definition).split('.')[0]}.scxml`,
            toScxml(definition),
            'application/scxml+xml',
          ),
      },
    ];
  }

  async #save(): Promise<void> {
    const { desk, workshop } = this.bench;
    const revision = this.#revision();
    const text = await publish(revision, workshop?.name ?? 'this bench', desk.now(), await desk.key());
    saveFile(publishedName(revision.definition), text, 'application/json');
  }

  protected content(): ListContent {
    const { definition, from, hash } = this.#known;
    const { title, revision, covers } = definition.meta;
    return {
      heading: title,
      lead: `Revision ${revision} · ${shortCode(hash)} · ${from}. ${covers}`,
      options: this.#acts().map(({ text, detail }) => ({ text, ...(detail ? { detail } : {}) })),
    };
  }

  protected async take(index: number): Promise<void> {
    this.at = index;
    await this.#acts()[index]?.run();
  }

  protected override leave(): void {
    this.bench.try(ProceduresScene.open(this.bench).then((scene) => this.bench.show(scene)));
  }
}
