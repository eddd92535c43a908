import { remedyFor, TAKES } from '../../hear/teach.ts';
import type { Person } from '../../procedure/context.ts';
import type { Option } from '../parts/options.ts';
import { COMMANDS, holdsOf, NUMBERS, type Standing, standing, type Teachable } from '../teachable.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import type { Bench } from './scene.ts';
import { TeachScene } from './teach-scene.ts';

interface Part {
  readonly name: string;
  readonly list: readonly Teachable[];
}

interface PartStands {
  readonly part: Part;
  readonly stands: readonly Standing[];
}

/** What one person can teach this bench, part by part, and how it stands; and the act that forgets it all. */
export class PersonVoiceScene extends ListScene {
  readonly #person: Person;
  readonly #parts: readonly PartStands[];
  #forgets = false;
  #said = '';

  static async open(bench: Bench, person: Person): Promise<PersonVoiceScene> {
    const { listening, desk } = bench;
    const voices = await listening.voices();
    const takes = await voices.takes(person.id);
    const taught = await voices.ways(person.id, listening.reader);
    const procedures = await Promise.all(
      desk.procedures.map(async (listed) => ({
        name: `Hold points: ${listed.title}`,
        list: holdsOf(await listed.load()),
      })),
    );
    const parts: Part[] = [
      { name: 'The command words', list: COMMANDS },
      { name: 'The numbers of a list', list: NUMBERS },
      ...procedures,
    ];
    return new PersonVoiceScene(
      bench,
      person,
      parts.map((part) => ({ part, stands: standing(part.list, takes, taught, voices.words) })),
    );
  }

  private constructor(bench: Bench, person: Person, parts: readonly PartStands[]) {
    super(bench);
    this.#person = person;
    this.#parts = parts;
  }

  protected content(): ListContent {
    if (this.#forgets)
      return {
        heading: `Forget the voice of ${this.#person.name}?`,
        lead: 'All takes and their sound are deleted from this device. The app’s own words work as before.',
        options: [{ text: 'Keep it' }, { text: 'Forget it all' }],
      };
    return {
      heading: `The voice of ${this.#person.name}`,
      lead:
        this.#said ||
        `Works untaught, better taught: ${TAKES} takes a word, in the noise of the shop, gloves and mask on. A command may be said with your own word, in any language; a hold point keeps its own.`,
      options: [
        ...this.#parts.map(({ part, stands }): Option => {
          const safe = stands.filter((one) => one.stands === 'safe').length;
          const alike = stands.filter((one) => one.stands === 'alike').length;
          return {
            text: part.name,
            detail: `${safe} of ${part.list.length} safe${alike > 0 ? ` · ${alike} sound alike` : ''}`,
            ...(alike > 0 ? { mark: '!' } : safe === part.list.length ? { mark: '✓' } : {}),
          };
        }),
        { text: 'Forget all of it' },
      ],
    };
  }

  protected async take(index: number): Promise<void> {
    if (this.#forgets) {
      this.#forgets = false;
      this.at = 0;
      if (index !== 1) return this.bench.redraw();
      const voices = await this.bench.listening.voices();
      await voices.forget(this.#person.id);
      const scene = await PersonVoiceScene.open(this.bench, this.#person);
      scene.#said = 'All takes of this voice are forgotten.';
      return this.bench.show(scene);
    }
    const chosen = this.#parts[index];
    if (!chosen) {
      this.#forgets = true;
      this.at = 0;
      return this.bench.redraw();
    }
    this.bench.show(new PartScene(this.bench, this.#person, chosen.part, chosen.stands));
  }

  protected override leave(): void {
    if (this.#forgets) {
      this.#forgets = false;
      this.bench.redraw();
    } else this.bench.try(toVoices(this.bench));
  }
}

async function toVoices(bench: Bench): Promise<void> {
  const { VoiceScene } = await import('./voice-scene.ts');
  bench.show(await VoiceScene.open(bench));
}

const MARKS: Readonly<Record<Standing['stands'], string>> = {
  safe: '✓ safe:',
  alike: '! alike:',
  begun: '… begun:',
  untaught: '– untaught:',
};

/** The words of one part: which are safe, which sound alike; taking one teaches it. */
class PartScene extends ListScene {
  readonly #person: Person;
  readonly #part: Part;
  readonly #stands: readonly Standing[];

  constructor(bench: Bench, person: Person, part: Part, stands: readonly Standing[]) {
    super(bench);
    this.#person = person;
    this.#part = part;
    this.#stands = stands;
  }

  protected content(): ListContent {
    return {
      heading: this.#part.name,
      lead: `${this.#person.name} · it goes on by itself from word to word`,
      options: [
        { text: 'Teach them, one after the other' },
        ...this.#stands.map(({ text, stands, like }): Option => {
          const [other] = like;
          const detail = other === undefined ? {} : { detail: remedyFor({ one: text, other, distance: 0 }) };
          return { mark: MARKS[stands], text, ...detail };
        }),
      ],
    };
  }

  protected async take(index: number): Promise<void> {
    const { bench } = this;
    const again = async () => {
      const scene = await PersonVoiceScene.open(bench, this.#person);
      bench.show(scene);
    };
    const from = index === 0 ? undefined : index - 1;
    bench.show(await TeachScene.open(bench, this.#person, this.#part.list, again, from));
  }

  protected override leave(): void {
    this.bench.try(PersonVoiceScene.open(this.bench, this.#person).then((scene) => this.bench.show(scene)));
  }
}
