import { type Digest, nameOf } from './digest.ts';

/** What is looked for among the jobs. An empty text or list asks nothing. */
export interface Filter {
  /** Every word must be found somewhere: machine, job, title, people, notes, troubles, tools. */
  readonly text: string;
  readonly machine: string;
  readonly person: string;
  readonly procedure: string;
  readonly outcome: '' | Digest['outcome'];
  /** Days, `YYYY-MM-DD`, UTC, both included: the job was being done at some time between them. */
  readonly from: string;
  readonly to: string;
}

export const noFilter: Filter = {
  text: '',
  machine: '',
  person: '',
  procedure: '',
  outcome: '',
  from: '',
  to: '',
};

const plain = (text: string): string => text.normalize('NFKD').replaceAll(/\p{M}/gu, '').toLowerCase();

/** Everything of a job that can be searched, as one text. */
export function searchText(digest: Digest): string {
  const { job, machine, definition, people, tools, troubles, records } = digest;
  const said = records.flatMap(({ event }) =>
    event.type === 'note' || event.type === 'stop' ? [event.says] : [],
  );
  return plain(
    [
      job,
      machine.id,
      machine.says,
      definition.meta.title,
      ...people.flatMap(({ id, name }) => [id, name]),
      ...tools.flatMap(({ tool }) => [tool.id, tool.says]),
      ...troubles.flatMap(({ says, decided }) => [says, decided?.says ?? '', decided?.decision ?? '']),
      ...said,
    ].join('\n'),
  );
}

/** Does the job answer what is looked for? */
export function matches(digest: Digest, filter: Filter): boolean {
  const { machine, person, procedure, outcome, from, to } = filter;
  if (machine && digest.machine.id !== machine) return false;
  if (person && !digest.people.some(({ id }) => id === person)) return false;
  if (procedure && digest.definition.id !== procedure) return false;
  if (outcome && digest.outcome !== outcome) return false;
  // Days in this form sort as texts.
  if (from && digest.lastAt.slice(0, 10) < from) return false;
  if (to && digest.openedAt.slice(0, 10) > to) return false;
  const wanted = plain(filter.text)
    .split(/\s+/)
    .filter((word) => word !== '');
  if (wanted.length === 0) return true;
  const text = searchText(digest);
  return wanted.every((word) => text.includes(word));
}

export interface Choices {
  readonly machines: readonly { readonly id: string; readonly says: string }[];
  readonly people: readonly { readonly id: string; readonly says: string }[];
  readonly procedures: readonly { readonly id: string; readonly says: string }[];
}

const byWords = (table: ReadonlyMap<string, string>) =>
  [...table].map(([id, says]) => ({ id, says })).sort((a, b) => a.says.localeCompare(b.says));

/** What there is to choose from: every machine, person and procedure of these jobs once. */
export function choicesIn(digests: readonly Digest[]): Choices {
  const machines = new Map(digests.map(({ machine }) => [machine.id, machine.says]));
  const people = new Map(
    digests.flatMap((digest) => digest.people.map(({ id }) => [id, nameOf(digest, id)] as const)),
  );
  const procedures = new Map(digests.map(({ definition }) => [definition.id, definition.meta.title]));
  return { machines: byWords(machines), people: byWords(people), procedures: byWords(procedures) };
}
