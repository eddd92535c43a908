import { dirname, join, relative } from 'node:path/posix';
import { parseSync } from 'vite';

/** One source file: its path from the root of the project, with slashes, and its text. */
export interface Source {
  readonly path: string;
  readonly text: string;
}

/** A file of more lines than this has more than one idea in it. */
export const MOST_LINES = 450;

const PROCEDURE = ['src/trade'];
const JOURNAL = ['src/procedure', ...PROCEDURE];
const JOB = ['src/journal', ...JOURNAL];
const EDGE = ['src/job', ...JOB];
const TOP = ['src/hear', 'src/say', 'src/press', ...EDGE];

/** Floor -> the floors below it, which are all that its files may import from, and the packages it stands on. */
export const FLOORS: Readonly<Record<string, { below: readonly string[]; packages: readonly string[] }>> = {
  'src/trade': { below: [], packages: [] },
  'src/procedure': { below: PROCEDURE, packages: ['xstate', 'canonicalize', '@noble/hashes'] },
  'src/journal': { below: JOURNAL, packages: ['canonicalize', '@noble/hashes', 'jose', 'idb-keyval'] },
  'src/job': { below: JOB, packages: [] },
  'src/press': { below: EDGE, packages: [] },
  'src/say': { below: EDGE, packages: [] },
  'src/hear': { below: EDGE, packages: ['*'] },
  'src/bench': { below: [...TOP, 'src/book', 'src/sync', 'procedures', 'seeds'], packages: ['*'] },
  // Benches and the office speak to each other through this; proofs of the log of seals are the book's.
  'src/sync': { below: [...EDGE, 'src/book'], packages: ['idb-keyval', 'fflate'] },
  'src/book': { below: TOP, packages: ['*'] },
  // Its page wears the bench's type and colours.
  'src/office': {
    below: [...TOP, 'src/book', 'src/sync', 'src/bench', 'procedures', 'seeds'],
    packages: ['*'],
  },
  'src/cli': {
    below: [...TOP, 'src/book', 'src/sync', 'src/office', 'procedures', 'seeds'],
    packages: ['*'],
  },
  procedures: { below: ['src/procedure', 'src/trade'], packages: [] },
  seeds: { below: EDGE, packages: [] },
};

/** The only file straight under src that is no floor of its own: the build. */
const LOOSE = ['src/vite.config.ts'];

export type Environment = 'pure' | 'dom' | 'worker' | 'node';

/** Where a file runs, by its name. */
export function environmentOf(path: string): Environment {
  const suffix = /\.(dom|worker|node)\.ts$/.exec(path)?.[1];
  if (suffix) return suffix as Environment;
  if (path.startsWith('src/bench/')) return 'dom';
  return path.startsWith('src/cli/') || path.startsWith('src/office/') || LOOSE.includes(path)
    ? 'node'
    : 'pure';
}

/** Whose files each environment can run besides its own. */
const RUNS: Readonly<Record<Environment, readonly Environment[]>> = {
  pure: ['pure'],
  dom: ['pure', 'dom'],
  worker: ['pure', 'worker'],
  node: ['pure', 'node'],
};

/** What belongs to one environment: met in a pure file, it is a side effect. Time and chance come in as values. */
const EFFECTS = [
  ...['window', 'self', 'globalThis', 'document', 'navigator', 'location', 'history', 'customElements'],
  ...['indexedDB', 'localStorage', 'sessionStorage', 'caches', 'fetch', 'XMLHttpRequest', 'WebSocket'],
  ...['SpeechRecognition', 'webkitSpeechRecognition', 'speechSynthesis', 'AudioContext', 'BroadcastChannel'],
  ...['crypto', 'performance', 'setTimeout', 'setInterval', 'requestAnimationFrame', 'queueMicrotask'],
  ...['process', 'Buffer', 'require', 'console'],
];

export interface Import {
  readonly line: number;
  readonly from: string;
  /** Only types are imported: nothing of it is left when the code runs. */
  readonly typeOnly: boolean;
}

type Node = { type: string; start: number; [key: string]: unknown };

const isNode = (value: unknown): value is Node =>
  typeof value === 'object' && value !== null && typeof (value as Node).type === 'string';

function visit(value: unknown, see: (node: Node, key: string, parent: Node | null) => void): void {
  const walk = (at: unknown, key: string, parent: Node | null) => {
    if (Array.isArray(at)) for (const one of at) walk(one, key, parent);
    if (!isNode(at)) return;
    see(at, key, parent);
    for (const [name, child] of Object.entries(at)) walk(child, name, at);
  };
  walk(value, '', null);
}

function parsed({ path, text }: Source) {
  const { program, errors } = parseSync(path, text);
  const [first] = errors;
  if (first) throw new Error(`${path}: ${first.message}`);
  return program as unknown;
}

const lineAt = (text: string, offset: number): number => text.slice(0, offset).split('\n').length;

const literal = (node: unknown): string | null =>
  isNode(node) && node.type === 'Literal' && typeof node.value === 'string' ? node.value : null;

function typesOnly(node: Node): boolean {
  if (node.type === 'TSImportType') return true;
  if (node.importKind === 'type' || node.exportKind === 'type') return true;
  const names = Array.isArray(node.specifiers) ? node.specifiers : [];
  return (
    names.length > 0 &&
    names.every((one) => isNode(one) && (one.importKind === 'type' || one.exportKind === 'type'))
  );
}

/** Every import of a file: statements, re-exports, `import()` of a name, and `import('…')` in types. */
export function importsOf(source: Source): Import[] {
  const found: Import[] = [];
  visit(parsed(source), (node) => {
    if (!/^(Import|ExportAll|ExportNamed|TSImport)/.test(node.type)) return;
    const from = literal(node.source) ?? literal(node.argument);
    if (from === null) return;
    found.push({ line: lineAt(source.text, node.start), from, typeOnly: typesOnly(node) });
  });
  return found;
}

/** Names that the file binds itself: variables, functions, parameters, what it imports. */
function boundIn(program: unknown): Set<string> {
  const names = new Set<string>();
  const bind = (value: unknown) =>
    visit(value, (node, key) => {
      if (node.type === 'Identifier' && key !== 'key') names.add(String(node.name));
    });
  visit(program, (node) => {
    if (node.type === 'VariableDeclarator' || node.type === 'FunctionDeclaration') bind(node.id);
    if (node.type.startsWith('Import')) bind(node.local);
    if (/Function/.test(node.type)) bind(node.params);
  });
  return names;
}

/** Uses of what only one environment has, in a file that must run in all: `file:line: name`. */
export function effectsIn(source: Source): string[] {
  const found: string[] = [];
  const say = (node: Node, name: string) =>
    found.push(`${source.path}:${lineAt(source.text, node.start)}: ${name} in a pure file`);
  const program = parsed(source);
  const bound = boundIn(program);
  visit(program, (node, key, parent) => {
    if (node.type === 'NewExpression' && isNode(node.callee) && node.callee.name === 'Date') {
      if (Array.isArray(node.arguments) && node.arguments.length === 0) say(node, 'new Date()');
    }
    if (node.type === 'MemberExpression' && isNode(node.object) && isNode(node.property)) {
      const member = `${String(node.object.name)}.${String(node.property.name)}`;
      if (member === 'Date.now' || member === 'Math.random') say(node, member);
    }
    const name = String(node.name);
    if (node.type !== 'Identifier' || !EFFECTS.includes(name) || bound.has(name)) return;
    const named = (key === 'property' || key === 'key') && parent?.computed !== true;
    if (!named) say(node, name);
  });
  return found;
}

export function floorOf(path: string): string | null {
  return Object.keys(FLOORS).find((floor) => path.startsWith(`${floor}/`)) ?? null;
}

/** `a/b.ts?worker&url` -> `a/b.ts`: the query says how the build hands the file over. */
const withoutQuery = (from: string): string => from.replace(/\?.*$/, '');

function crossing(source: Source, floor: string, one: Import): string | null {
  const from = withoutQuery(one.from);
  if (!from.startsWith('.')) {
    if (from.startsWith('node:')) {
      return environmentOf(source.path) === 'node' ? null : `${from} outside Node`;
    }
    const name = from
      .split('/')
      .slice(0, from.startsWith('@') ? 2 : 1)
      .join('/');
    const allowed = FLOORS[floor]?.packages ?? [];
    return allowed.includes('*') || allowed.includes(name)
      ? null
      : `${floor} does not stand on the package ${name}`;
  }
  const target = relative('.', join(dirname(source.path), from));
  // Drawings, sounds and the ear's weights are data: whoever runs in a browser may fetch them.
  if (target.startsWith('assets/') && environmentOf(source.path) === 'dom') return null;
  const there = floorOf(target);
  if (there === null) return `${target} is on no floor`;
  if (there !== floor && !FLOORS[floor]?.below.includes(there))
    return `${floor} may not import from ${there}`;
  if (one.typeOnly || one.from.includes('?') || !target.endsWith('.ts')) return null;
  const [mine, theirs] = [environmentOf(source.path), environmentOf(target)];
  return RUNS[mine].includes(theirs) ? null : `a ${mine} file cannot run the ${theirs} file ${target}`;
}

/** Everything that breaks the floors, one line each: `file:line: what`. */
export function floorFindings(sources: readonly Source[]): string[] {
  return sources.flatMap((source) => {
    const { path, text } = source;
    if (LOOSE.includes(path)) return [];
    const floor = floorOf(path);
    if (floor === null) return [`${path}:1: is on no floor`];
    const lines = text.replace(/\n$/, '').split('\n').length;
    const long = path.startsWith('src/') && lines > MOST_LINES;
    return [
      ...(long ? [`${path}:${MOST_LINES + 1}: ${lines} lines, the most is ${MOST_LINES}`] : []),
      ...importsOf(source).flatMap((one) => {
        const wrong = crossing(source, floor, one);
        return wrong === null ? [] : [`${path}:${one.line}: ${wrong}`];
      }),
      ...(environmentOf(path) === 'pure' ? effectsIn(source) : []),
    ];
  });
}
