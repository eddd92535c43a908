import { html, type TemplateResult } from 'lit';
import type { Heard } from '../../hear/ear.ts';
import type { PracticeChoice } from '../../job/practice.ts';
import { holdEvidence } from '../../job/story.ts';
import type { Gesture } from '../../press/gesture.ts';
import type { Definition } from '../../procedure/definition.ts';
import type { Facts, FactValue } from '../../procedure/facts.ts';
import { choose } from '../chooser.ts';
import type { Option } from '../parts/options.ts';
import { Practice } from '../practice.ts';
import type { Pages } from '../read-on.ts';
import '../screens/choose-screen.ts';
import '../screens/job-screen.ts';
import '../screens/procedure-practice-screen.ts';
import type { LivePhrase } from '../voice.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import type { Bench, Scene } from './scene.ts';

const said = (value: FactValue | undefined): string =>
  value === undefined ? 'asked on the way' : value === true ? 'yes' : value === false ? 'no' : value;

/** What a practice begins with: machine, facts, who works. Each line changes to its next value when it is taken. */
export class PracticeSetUpScene extends ListScene {
  protected override readonly near = true;
  readonly #definition: Definition;
  readonly #back: () => void;
  #machine = 0;
  #facts: Facts = {};
  #as: PracticeChoice['as'] = 'mechanic';

  constructor(bench: Bench, definition: Definition, back: () => void) {
    super(bench);
    this.#definition = definition;
    this.#back = back;
  }

  #card() {
    return this.bench.workshop?.machines[this.#machine] ?? null;
  }

  #lines(): readonly { readonly option: Option; change(): unknown }[] {
    const facts = Object.entries(this.#definition.meta.facts);
    return [
      { option: { text: 'Begin the practice' }, change: () => this.#begin() },
      {
        option: { mark: 'Who works:', text: this.#as === 'mechanic' ? 'a mechanic' : 'an apprentice' },
        change: () => {
          this.#as = this.#as === 'mechanic' ? 'apprentice' : 'mechanic';
        },
      },
      {
        option: { mark: 'Figures:', text: this.#card()?.says ?? 'each one asked on the way' },
        change: () => {
          const count = this.bench.workshop?.machines.length ?? 0;
          this.#machine = (this.#machine + 1) % (count + 1);
        },
      },
      ...facts.map(([name, { says, values }]) => ({
        option: { mark: `${says}:`, text: said(this.#facts[name]) },
        change: () => {
          const choices = [undefined, ...values];
          const next = choices[(choices.indexOf(this.#facts[name]) + 1) % choices.length];
          const { [name]: _, ...others } = this.#facts;
          this.#facts = next === undefined ? others : { ...others, [name]: next };
        },
      })),
    ];
  }

  protected content(): ListContent {
    return {
      heading: `Practise: ${this.#definition.meta.title}`,
      lead: 'PRACTICE — no record is kept. Take a line to change it.',
      options: this.#lines().map(({ option }) => option),
    };
  }

  protected async take(index: number): Promise<void> {
    this.at = index;
    await this.#lines()[index]?.change();
    this.bench.redraw();
  }

  async #begin(): Promise<void> {
    const choice = { card: this.#card(), facts: this.#facts, as: this.#as };
    const practice = await Practice.open(this.bench, this.#definition, choice);
    this.bench.show(new PracticeScene(this.bench, practice, () => this.bench.show(this)));
  }

  protected override leave(): void {
    this.#back();
  }
}

/** A practice: the screens of a job in a frame that says that it is none. */
class PracticeScene implements Scene {
  readonly #bench: Bench;
  readonly #practice: Practice;
  readonly #back: () => void;
  #at = 0;

  constructor(bench: Bench, practice: Practice, back: () => void) {
    this.#bench = bench;
    this.#practice = practice;
    this.#back = back;
  }

  get idle(): Promise<unknown> {
    return this.#practice.job.idle;
  }

  pressed(gesture: Gesture): void {
    const { job } = this.#practice;
    if (job.view.outcome !== 'open') {
      const { at, taken, left } = choose(this.#at, 1, gesture);
      this.#at = at;
      if (taken !== null || left) this.#back();
      return;
    }
    if (job.gesture(gesture)) this.#back();
  }

  typed(text: string): void {
    this.#practice.job.typed(text, {});
  }

  heard(heard: Heard): void {
    if (this.#practice.job.heard(heard, this.#bench.listening.state.speechToNoise)) this.#back();
  }

  get phrases(): readonly LivePhrase[] {
    return this.#practice.job.view.outcome === 'open' ? this.#practice.job.phrases : [];
  }

  close(): void {
    this.#practice.close();
  }

  #answer = (event: CustomEvent<boolean>): void => this.#bench.try(this.#practice.answer(event.detail));

  render(): TemplateResult {
    const over = this.#practice.job.view.outcome !== 'open';
    return html`<hf-practice .over=${over} @answer=${this.#answer}>${over ? this.#end() : this.#station()}</hf-practice>`;
  }

  #station(): TemplateResult {
    const { job } = this.#practice;
    return html`<hf-job
      .view=${job.view}
      .console=${job.console}
      .witnesses=${job.witnesses}
      .placeBefore=${job.placeBefore}
      .voided=${job.voided}
      .now=${job.now}
      .talk=${job.talk}
      .back=${job.back}
      .ear=${this.#bench.listening.state}
      .fault=${job.fault ?? this.#bench.fault}
      @pages=${(event: CustomEvent<Pages>) => {
        job.pages = event.detail;
      }}
      @note=${(event: CustomEvent<string>) => job.note(event.detail)}
    ></hf-job>`;
  }

  #end(): TemplateResult {
    const { job } = this.#practice;
    const passed = holdEvidence(job.state);
    const complete = job.view.outcome === 'complete';
    return html`<hf-choose
      .heading=${complete ? 'The practice is complete' : 'The practice was stopped'}
      .lead=${`${passed.length} hold points passed: ${passed.map(({ says }) => says).join(' ')} Nothing of it was kept.`}
      .options=${[{ text: 'Back to the set-up' }]}
      .at=${0}
      .fault=${this.#bench.fault}
      @taken=${this.#back}
    ></hf-choose>`;
  }
}
