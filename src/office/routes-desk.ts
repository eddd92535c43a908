import type { SentPin } from '../job/workshop.ts';
import { toMoment } from '../journal/moment.ts';
import { bookPage, evidenceOf, live, span } from './book.ts';
import { charts } from './charts.ts';
import { csvOf, linesOf, zipOf } from './export.ts';
import { filesOf } from './files.ts';
import { release } from './leases.ts';
import type { Charts, DeviceRow, Filter } from './page/wire.ts';
import { people, setPin, shutOut } from './people.ts';
import { type Question, type Route, Streamed } from './route.ts';
import { anyTable, DAY, fields, HEX_64, type JSONSchemaType, KID, text, UUID } from './schema.ts';
import { publishProcedure, publishWorkshop, renewSettings } from './settings.ts';

const job = fields({ job: UUID });
const range: Readonly<Record<string, JSONSchemaType>> = {
  from: DAY,
  to: DAY,
  machine: text(100),
  procedure: text(100),
  outcome: { type: 'string', enum: ['open', 'complete', 'stopped'] },
  text: text(200),
  odd: { type: 'boolean' },
};
const filterOf = ({ query }: Question): Filter => query as Filter;

/** Every stream is begun only when the range makes sense: afterwards there is no other answer to give. */
function exported(question: Question): Streamed {
  const { office, query } = question;
  const filter = filterOf(question);
  span(filter);
  const name = `jobs-${filter.from ?? 'all'}-${filter.to ?? 'today'}`;
  switch (query.as) {
    case 'csv':
      return new Streamed('text/csv; charset=utf-8', csvOf(office.db, filter), `${name}.csv`);
    case 'lines':
      return new Streamed('application/x-ndjson', linesOf(office.db, filter), `${name}.jsonl`);
    default:
      return new Streamed('application/zip', zipOf(office.db, filter), `${name}.zip`);
  }
}

const settingsPorts = ({ office }: Question) => office;

async function setPerson(question: Question, why: string | null): Promise<{ version: number }> {
  const { office, device, params } = question;
  await shutOut(office.db, params.person ?? '', why, office.now());
  return { version: await renewSettings(settingsPorts(question), device.id) };
}

/** What the supervisor's desk asks, and nobody else may. */
export const deskRoutes: readonly Route[] = [
  {
    method: 'POST',
    path: '/codes',
    summary:
      'A code by which one new device can enrol itself; it is shown once and is good for half an hour.',
    rights: 'desk',
    body: fields({ kind: { type: 'string', enum: ['bench', 'desk'] } }),
    gives: { says: 'The code and until when it is good.' },
    refusals: [],
    async run({ office, body }) {
      const { code, expiresAt } = await office.devices.makeCode((body as { kind: 'bench' | 'desk' }).kind);
      return { code, expiresAt: toMoment(expiresAt) };
    },
  },
  {
    method: 'GET',
    path: '/devices',
    summary: 'Every device that was enrolled.',
    rights: 'desk',
    gives: { says: 'A list of devices, with when each was seen last.' },
    refusals: [],
    async run({ office }) {
      const moment = (at: number | null) => (at === null ? null : toMoment(at));
      const devices = (await office.devices.list()).map(
        (row): DeviceRow => ({
          kid: row.kid,
          kind: row.kind,
          name: row.name,
          enrolledAt: toMoment(row.enrolled_at),
          seenAt: moment(row.seen_at),
          revokedAt: moment(row.revoked_at),
          revokedWhy: row.revoked_why,
        }),
      );
      return { devices };
    },
  },
  {
    method: 'POST',
    path: '/devices/{kid}/revoke',
    summary: 'Shut a device out. What it sealed before stays good; its open jobs can be taken by others.',
    rights: 'desk',
    params: fields({ kid: KID }),
    body: fields({ why: text(500) }),
    gives: { says: 'The version of the settings that say so.' },
    refusals: ['key-unknown'],
    async run(question) {
      const { office, device, params, body } = question;
      await office.devices.revoke(params.kid ?? '', (body as { why: string }).why);
      return { version: await renewSettings(settingsPorts(question), device.id) };
    },
  },
  {
    method: 'GET',
    path: '/people',
    summary: 'The people of the published workshop, and who of them is shut out.',
    rights: 'desk',
    gives: { says: 'A list of people.' },
    refusals: [],
    run: async ({ office }) => ({ people: await people(office.db) }),
  },
  {
    method: 'POST',
    path: '/people/{person}/shut-out',
    summary:
      'Shut a person out: benches take no sign-on, confirmation or work of theirs, and pause their open jobs for others.',
    rights: 'desk',
    params: fields({ person: text(100) }),
    body: fields({ why: text(500) }),
    gives: { says: 'The version of the settings that say so.' },
    refusals: ['no-such-person'],
    run: (question) => setPerson(question, (question.body as { why: string }).why),
  },
  {
    method: 'POST',
    path: '/people/{person}/let-in',
    summary: 'Let a person in again who was shut out.',
    rights: 'desk',
    params: fields({ person: text(100) }),
    gives: { says: 'The version of the settings that say so.' },
    refusals: ['no-such-person'],
    run: (question) => setPerson(question, null),
  },
  {
    method: 'PUT',
    path: '/people/{person}/pin',
    summary: 'Set what benches keep of a person’s PIN: a salted hash by PBKDF2, never the PIN.',
    rights: 'desk',
    params: fields({ person: text(100) }),
    body: fields({
      salt: { type: 'string', pattern: '^[0-9a-f]{32}$' },
      hash: HEX_64,
      rounds: { type: 'integer', minimum: 100_000, maximum: 10_000_000 },
    }),
    gives: { says: 'The version of the settings that carry it.' },
    refusals: ['no-such-person'],
    async run(question) {
      const { office, device, params, body } = question;
      await setPin(office.db, params.person ?? '', body as SentPin);
      return { version: await renewSettings(settingsPorts(question), device.id) };
    },
  },
  {
    method: 'PUT',
    path: '/settings',
    summary: 'Publish the workshop: machines, people with their roles, tools with their calibration.',
    rights: 'desk',
    body: anyTable,
    gives: { says: 'The version of the settings that benches will fetch.' },
    refusals: ['settings-wrong'],
    run: async (question) => ({
      version: await publishWorkshop(settingsPorts(question), question.device.id, question.body),
    }),
  },
  {
    method: 'POST',
    path: '/procedures',
    summary: 'Publish a procedure that holds its proof. A published revision never changes.',
    rights: 'desk',
    body: anyTable,
    gives: { says: 'The version of the settings that name it; 0 before a workshop was published.' },
    refusals: ['procedure-unusable', 'procedure-not-proved', 'revision-taken'],
    run: async (question) => ({
      version: await publishProcedure(settingsPorts(question), question.device.id, question.body),
    }),
  },
  {
    method: 'POST',
    path: '/jobs/{job}/release',
    summary: 'Free a job whose bench is broken or gone, so that another can go on with it.',
    rights: 'desk',
    params: job,
    gives: { says: 'Nothing but that it was done.' },
    refusals: ['no-such-job'],
    async run({ office, params }) {
      await release(office.db, params.job ?? '');
      return { released: true };
    },
  },
  {
    method: 'GET',
    path: '/live',
    summary: 'Every job that is being done now: station, who waits for a witness, trouble.',
    rights: 'desk',
    gives: { says: 'A list of jobs.' },
    refusals: [],
    run: async ({ office }) => ({ at: toMoment(office.now()), jobs: await live(office.db) }),
  },
  {
    method: 'GET',
    path: '/book',
    summary: 'One page of the record book over all benches, the latest job first.',
    rights: 'desk',
    query: fields({ ...range, after: text(60) }, []),
    gives: { says: 'Jobs, and where the next page begins.' },
    refusals: [],
    run: (question) =>
      bookPage(question.office.db, filterOf(question), (question.query.after as string) ?? null),
  },
  {
    method: 'GET',
    path: '/charts',
    summary: 'First-pass rates of hold points with Wilson limits, week by week, and times at stations.',
    rights: 'desk',
    query: fields({ from: DAY, to: DAY, procedure: text(100) }, []),
    gives: { says: 'Figures for the charts.' },
    refusals: [],
    run: (question): Promise<Charts> => charts(question.office.db, filterOf(question), question.office.now()),
  },
  {
    method: 'GET',
    path: '/jobs/{job}/evidence',
    summary: 'What was refused of a job, with both sides.',
    rights: 'desk',
    params: job,
    gives: { says: 'A list of disputes.' },
    refusals: [],
    run: async ({ office, params }) => ({ evidence: await evidenceOf(office.db, params.job ?? '') }),
  },
  {
    method: 'GET',
    path: '/jobs/{job}/files',
    summary: 'The photos and voice notes of a job, and which of them are here.',
    rights: 'desk',
    params: job,
    gives: { says: 'A list of files in the order of the records that name them.' },
    refusals: [],
    run: async ({ office, params }) => ({ files: await filesOf(office.db, params.job ?? '') }),
  },
  {
    method: 'GET',
    path: '/export',
    summary: 'The jobs of a date range as a stream: an archive of record files, JSON lines, or a table.',
    rights: 'desk',
    query: fields({ ...range, as: { type: 'string', enum: ['zip', 'lines', 'csv'] } }, ['as']),
    gives: { says: 'The file.', type: 'application/octet-stream' },
    refusals: [],
    run: async (question) => exported(question),
  },
];
