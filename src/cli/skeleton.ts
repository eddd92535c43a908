/** A file that a new procedure begins with; its path from the root of the project. */
export interface SkeletonFile {
  readonly path: string;
  readonly text: string;
}

/** Why an id cannot be used, in one sentence, or null. The same rule as for the id in a definition. */
export function refusedId(id: string): string | null {
  if (id.length > 64) return 'The id is too long: take at most 64 signs.';
  if (/^[a-z][a-z0-9]*(?:-[a-z0-9]+)*$/.test(id)) return null;
  return `"${id.replace(/[^\P{C}]/gu, '?')}" cannot be an id: take small letters and digits, words joined by dashes, such as "wheel-bearing".`;
}

export function refusedTitle(title: string): string | null {
  const wanted = title.trim();
  if (wanted === '') return 'The title is empty: say what the job is, such as "Renew the wheel bearings".';
  if (wanted.length > 80) return 'The title is too long to be read from the bench: take at most 80 signs.';
  return /\p{C}/u.test(wanted) ? 'The title has signs that cannot be shown: take them out.' : null;
}

/** A text as the formatter writes it: single quotes, unless it has some itself. */
function quoted(text: string): string {
  const escaped = text.replaceAll('\\', '\\\\');
  const single = (escaped.match(/'/g) ?? []).length;
  const double = (escaped.match(/"/g) ?? []).length;
  return single > double ? `"${escaped.replaceAll('"', '\\"')}"` : `'${escaped.replaceAll("'", "\\'")}'`;
}

/** `wheel-bearing` -> `wheelBearing` */
const nameOf = (id: string): string => id.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase());

/**
 * The files of a new procedure. It is proved as it stands: kit, step, hold point with its rework, reading with its
 * rework, and the last look.
 */
export function skeleton(id: string, title: string): SkeletonFile[] {
  const at = (name: string) => `procedures/${id}/${name}.ts`;
  return [
    { path: at('index'), text: index(id) },
    { path: at('head'), text: head(title) },
    { path: at('make-ready'), text: MAKE_READY },
    { path: at('task'), text: TASK },
    { path: at('finish'), text: FINISH },
    { path: `tests/procedures/${id}.test.ts`, text: testFile(id) },
  ];
}

const index = (id: string) => `import { procedure } from '../../src/procedure/index.ts';
import { finish } from './finish.ts';
import { head } from './head.ts';
import { makeReady } from './make-ready.ts';
import { task } from './task.ts';

export default procedure({
  id: ${quoted(id)},
  ...head,
  initial: 'callOff',
  states: { ...makeReady, ...task, ...finish },
});
`;

const titleLine = (title: string) => `  title: ${quoted(title)},`;

const head = (title: string) => `export const head = {
${titleLine(title)}
  revision: 1,
  // One sentence: what the job covers and what it does not.
  covers: "The work at the bench. The maker's service manual and local rules come first.",
  // What decides the way: link: oneOf('Joining link', 'clip', 'rivet'). Every combination is proved.
  facts: {},
  // What comes from the machine's card: axleTorque: { says: 'Axle nut torque', unit: 'N·m', plausible: [20, 200] }.
  figures: {},
  tools: { steelRule: { says: 'steel rule' } },
};
`;

const MAKE_READY = `import { kit, step } from '../../src/procedure/index.ts';

/** Before anything is touched: what is needed is at hand, and the machine cannot move. */
export const makeReady = {
  callOff: kit({
    say: 'Call off what you need.',
    items: {
      glasses: { calls: 'Safety glasses on', kind: 'protective' },
      rule: { calls: 'Steel rule', kind: 'tool', tool: 'steelRule' },
    },
    next: 'stand',
  }),
  stand: step({
    say: 'Stand the machine on level ground, on its stand.',
    cautions: [{ word: 'warning', text: 'A machine that falls can crush. Rock it: it must not move.' }],
    next: 'standsFirm',
  }),
};
`;

const TASK = `import { hold, reading, step } from '../../src/procedure/index.ts';

/** The work itself: one act a station, the killer items as hold points. */
export const task = {
  standsFirm: hold({
    say: 'Rock the machine. It does not move on its stand.',
    phrase: 'stand holds fast',
    why: 'Whoever works beside it has hands and feet under it.',
    witness: 'apprentice',
    pass: 'doIt',
    fail: 'standAgain',
  }),
  standAgain: step({ say: 'Set the stand anew, on firm ground.', rework: true, next: 'standsFirm' }),
  doIt: step({ say: 'Do the one thing that this job is about.', next: 'measure' }),
  measure: reading({
    say: 'Measure what was set.',
    measure: { name: 'set', label: 'What was set', unit: 'mm', min: 10, max: 20, tool: 'steelRule' },
    inside: 'lookOver',
    outside: 'setAgain',
  }),
  setAgain: step({ say: 'Set it anew.', rework: true, next: 'measure' }),
};
`;

const FINISH = `import { hold, step } from '../../src/procedure/index.ts';

/** The last look, and the machine is handed over. */
export const finish = {
  lookOver: hold({
    say: 'Look the whole work over, with the list in hand. Nothing is left loose.',
    phrase: 'nothing left loose',
    why: 'What is loose now comes off on the road.',
    witness: 'always',
    pass: 'handOver',
    fail: 'putRight',
  }),
  putRight: step({
    say: 'Put right what was found. Then measure once more.',
    rework: true,
    next: 'measure',
  }),
  handOver: step({ say: 'Hand over, and say what was done.', next: 'complete' }),
};
`;

function testFile(id: string): string {
  const name = nameOf(id);
  return `import ${name} from '../../procedures/${id}/index.ts';
import { wholeJobTests } from './whole-job.ts';

// The second figure is the number of combinations of facts: with none there is one job.
wholeJobTests(${name}, 1);
`;
}
