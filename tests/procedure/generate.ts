import type { Definition, ProcedureHead } from '../../src/procedure/definition.ts';
import { oneOf } from '../../src/procedure/facts.ts';
import { fork, hold, kit, lookUp, procedure, reading, round, step, wait } from '../../src/procedure/index.ts';
import type { Draft } from '../../src/procedure/vocabulary.ts';

/** A small seeded generator of numbers in [0, 1): Mulberry32, so that a printed seed gives the same procedure again. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

export interface GenerateOptions {
  readonly stations: number;
  readonly seed: number;
  /** How many facts the forks share; by default each fork has a fact of its own. */
  readonly facts?: number;
}

const WORDS = (
  'anvil barrel canvas dowel engine flange gasket hammer ingot jacket kettle ladder magnet needle oilcan pedal ' +
  'quarry ratchet saddle timber upright varnish washer yoke zinc bracket copper drawer elbow fender girder hopper'
).split(' ');

/** Phrases that differ from each other in two words or more. */
function phrase(at: number): string {
  const size = WORDS.length;
  const [a, b] = [at % size, Math.floor(at / size) % size];
  return [a, b, (a + 5 * b + 3) % size].map((word) => WORDS[word]).join(' ');
}

/**
 * A well-formed procedure in the manner of a real one: runs of steps, hold points with rework, readings with a repair,
 * rounds, waits, and forks whose arms hold points lie in. About `stations` stations; the same seed, the same procedure.
 */
export function generate({ stations, seed, facts: shared }: GenerateOptions): Definition {
  const random = seeded(seed);
  const states: Record<string, Draft> = {};
  const facts: Record<string, ReturnType<typeof oneOf>> = {};
  let count = 0;
  let phrases = 0;
  let forks = 0;
  const fresh = () => `s${++count}`;
  const add = (name: string, draft: Draft) => {
    states[name] = draft;
    return name;
  };
  const why = 'So that nothing comes loose on the road.';
  const pick = () => Math.floor(random() * 10);

  const holdInto = (next: string, applies?: Record<string, string>): string => {
    const name = fresh();
    const repair = add(fresh(), step({ say: 'Put it right.', rework: true, next: name }));
    const witness = (['never', 'apprentice', 'always'] as const)[Math.floor(random() * 3)] ?? 'never';
    const measured = random() < 0.3;
    const measure = { name: `m${name}`, label: 'Gap', unit: 'mm', min: 1, max: 2, tool: 'gauge' };
    return add(
      name,
      hold({
        say: 'Look at it.',
        phrase: phrase(phrases++),
        why,
        witness,
        ...(applies ? { applies } : {}),
        ...(measured ? { measure } : {}),
        ...(random() < 0.25 ? { concession: true as const } : {}),
        pass: next,
        fail: repair,
      }),
    );
  };

  const forkInto = (next: string): string => {
    const fact = `f${shared === undefined ? forks : forks % shared}`;
    forks++;
    facts[fact] = oneOf('What is fitted', 'one', 'two');
    const first = holdInto(next, { [fact]: 'one' });
    const second = random() < 0.5 ? next : add(fresh(), step({ say: 'Do it the other way.', next }));
    const ways = [
      { value: 'one', phrase: 'the first', to: first },
      { value: 'two', phrase: 'the second', to: second },
    ];
    return add(fresh(), fork({ say: 'Which is fitted?', fact, ways }));
  };

  const readingInto = (next: string): string => {
    const name = fresh();
    const repair = add(fresh(), step({ say: 'Set it again.', rework: true, next: name }));
    const measure = { name: `r${name}`, label: 'Slack', unit: 'mm', min: 30, max: 40, tool: 'gauge' };
    return add(name, reading({ say: 'Measure it.', measure, inside: next, outside: repair }));
  };

  const blockInto = (next: string): string => {
    const kind = pick();
    if (kind < 4) return add(fresh(), step({ say: 'Do it.', next }));
    if (kind < 6) return holdInto(next);
    if (kind < 7) return readingInto(next);
    if (kind < 8) {
      return add(
        fresh(),
        round({
          say: 'Tighten.',
          fasteners: { figure: 'bolts' },
          fastener: 'bolt',
          passes: ['by hand', 'full'],
          next,
        }),
      );
    }
    if (kind < 9 && count + 4 < stations) return forkInto(next);
    return add(fresh(), wait({ say: 'Let it set.', minutes: 5, next }));
  };

  let next: string = holdInto('complete');
  while (count < stations - 2) next = blockInto(next);
  const card = add('card', lookUp({ say: 'Read it from the manual.', needs: [{ figure: 'bolts' }], next }));
  const used = Object.values(states).some(({ meta }) => meta.kind === 'round');
  const measured = Object.values(states).some(({ meta }) => 'measure' in meta);
  const begin = used ? card : next;
  if (!used) delete states.card;
  add(
    'kit',
    kit({
      say: 'Call off.',
      items: measured
        ? { gauge: { calls: 'Gauge', kind: 'tool', tool: 'gauge' } }
        : { gloves: { calls: 'Gloves', kind: 'protective' } },
      next: begin,
    }),
  );
  const head: ProcedureHead & { id: string } = {
    id: `generated-${stations}-${seed}`,
    title: 'Generated',
    revision: 1,
    covers: 'Nothing real: it exists for tests.',
    facts,
    figures: used ? { bolts: { says: 'Bolts', unit: '', plausible: [3, 12] } } : {},
    tools: measured ? { gauge: { says: 'gauge' } } : {},
  };
  const inOrder = Object.fromEntries(Object.entries(states).reverse());
  return procedure({ ...head, initial: 'kit', states: inOrder } as never);
}

/**
 * The hardest case for the proof: forks one after another that a way back to the middle ties together, so that no gate
 * parts them and the combinations of their facts multiply. One arm of each fork holds a hold point.
 */
export function tangle(forks: number): Definition {
  const facts = Object.fromEntries(
    Array.from({ length: forks }, (_, at) => [`x${at}`, oneOf('What is fitted', 'one', 'two')]),
  );
  const next = (at: number) => (at + 1 < forks ? `f${at + 1}` : 'last');
  const parts = Array.from({ length: forks }, (_, at): [string, Draft][] => [
    [
      `f${at}`,
      fork({
        say: 'Which is fitted?',
        fact: `x${at}`,
        ways: [
          { value: 'one', phrase: 'the first', to: `h${at}` },
          { value: 'two', phrase: 'the second', to: `s${at}` },
        ],
      }),
    ],
    [
      `h${at}`,
      hold({
        say: 'Look at it.',
        phrase: phrase(at),
        why: 'So that nothing comes loose on the road.',
        applies: { [`x${at}`]: 'one' },
        pass: next(at),
        fail: `r${at}`,
      }),
    ],
    [`r${at}`, step({ say: 'Put it right.', rework: true, next: `h${at}` })],
    [`s${at}`, step({ say: 'Do it the other way.', next: next(at) })],
  ]);
  const measure = { name: 'slack', label: 'Slack', unit: 'mm', min: 30, max: 40 };
  const last = reading({ say: 'Measure it.', measure, inside: 'complete', outside: 's0' });
  const states = { ...Object.fromEntries(parts.flat()), last };
  const head: ProcedureHead & { id: string } = {
    id: `tangle-${forks}`,
    title: 'Tangle',
    revision: 1,
    covers: 'Nothing real: it exists for tests.',
    facts,
    figures: {},
    tools: {},
  };
  return procedure({ ...head, initial: 'f0', states } as never);
}
