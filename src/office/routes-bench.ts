import { toMoment } from '../journal/moment.ts';
import { signData } from '../journal/seal.ts';
import { OfficeError } from '../sync/fault.ts';
import { type Enrolled, MOST_FILES_ASKED, MOST_HEADS, type MyHead, type SignedRoot } from '../sync/wire.ts';
import type { Db } from './db/engine.ts';
import type { Device } from './devices.ts';
import { fileBytes, lackingFiles, takePart, whereNamed } from './files.ts';
import { ingest } from './ingest.ts';
import { headsFor, mayRead, offeredTo, takeLease } from './leases.ts';
import { recordTexts } from './records.ts';
import { type Question, type Route, Streamed } from './route.ts';
import { count, fields, HEX_64, text, UUID } from './schema.ts';
import { consistencyOf, inclusionOf, logSize, rootOf } from './seal-log.ts';
import { takeSeal } from './seals.ts';
import { settingsInForce } from './settings.ts';

const job = fields({ job: UUID });
const JOB_REFUSALS = ['no-such-job'] as const;

async function recordsOf({ office, device, params, query }: Question): Promise<Streamed> {
  const id = params.job ?? '';
  if (!(await mayRead(office.db, device, id))) throw new OfficeError('not-allowed');
  const row = await office.db
    .selectFrom('job')
    .innerJoin('definition', 'definition.hash', 'job.procedure')
    .select(['definition.body', 'job.count'])
    .where('job.job', '=', id)
    .executeTakeFirst();
  if (!row) throw new OfficeError('no-such-job', { job: id });
  const pages = recordTexts(office.db, id, row.body, Number(query.from ?? 0), row.count);
  const lines = async function* () {
    for await (const texts of pages) yield texts.map((one) => `${one}\n`).join('');
  };
  return new Streamed('application/x-ndjson', lines());
}

/** Is one of these jobs this bench's to read? */
async function readsOne(db: Db, device: Device, jobs: readonly string[]): Promise<boolean> {
  for (const one of jobs) if (await mayRead(db, device, one)) return true;
  return false;
}

/** What a bench asks: least rights, only what is its own or is free to take. */
export const benchRoutes: readonly Route[] = [
  {
    method: 'POST',
    path: '/enrol',
    summary: 'Enrol the key that signs this request, by a code that is good once.',
    rights: 'enrolling',
    body: fields({ code: text(40), name: text(60) }),
    gives: { says: 'Kind and name of the device, and the office’s own public key, to be kept.' },
    refusals: ['code-wrong', 'name-taken', 'key-revoked'],
    async run({ office, signer, body }): Promise<Enrolled> {
      const { code, name } = body as { code: string; name: string };
      const device = await office.devices.enrol(code, name.trim(), signer.kid, signer.jwk);
      return { kind: device.kind, name: device.name, office: office.key.publicJwk };
    },
  },
  {
    method: 'POST',
    path: '/heads',
    summary: 'How far the office has come with these jobs, and with those that this bench holds.',
    rights: 'bench',
    body: fields({
      heads: {
        type: 'array',
        maxItems: MOST_HEADS,
        items: fields({ job: UUID, count: count(), hash: HEX_64 }),
      },
    }),
    gives: {
      says: 'For each job: records, last hash, number of the lease, who holds it, whether the bench agrees.',
    },
    refusals: [],
    async run({ office, device, body }) {
      await office.devices.seen(device);
      const settings = await settingsInForce(office.db);
      const jobs = await headsFor(office.db, device, (body as { heads: MyHead[] }).heads);
      return { jobs, settings: settings?.version ?? 0 };
    },
  },
  {
    method: 'POST',
    path: '/jobs/{job}/records',
    summary:
      'Add records to a job: JSON lines in canonical form. The same records again are the same as once.',
    rights: 'bench',
    params: job,
    query: fields({ from: count(), fence: count() }),
    body: 'records',
    gives: { says: 'How far the job has come, with its last hash.' },
    refusals: [
      'batch-wrong',
      'chain-broken',
      'procedure-unusable',
      'gap',
      'fork',
      'rewrite',
      'fence-old',
      'sealed',
    ],
    run: ({ office, device, params, query, body }) =>
      ingest(office, {
        job: params.job ?? '',
        from: Number(query.from),
        fence: Number(query.fence),
        device: device.id,
        text: String(body),
      }),
  },
  {
    method: 'GET',
    path: '/jobs/{job}/records',
    summary: 'The records of a job from one number on, as JSON lines.',
    rights: 'enrolled',
    params: job,
    query: fields({ from: count() }, []),
    gives: { says: 'One record a line, in canonical form.', type: 'application/x-ndjson' },
    refusals: JOB_REFUSALS,
    run: recordsOf,
  },
  {
    method: 'PUT',
    path: '/jobs/{job}/seal',
    summary: 'Give the seal of a finished job; it becomes the next entry of the log of seals.',
    rights: 'bench',
    params: job,
    body: fields({ seal: text(4096) }),
    gives: { says: 'Its place in the log, from 0.' },
    refusals: ['no-such-job', 'not-finished', 'seal-wrong', 'sealed'],
    run: ({ office, params, body }) =>
      takeSeal(office, office.devices, params.job ?? '', (body as { seal: string }).seal),
  },
  {
    method: 'POST',
    path: '/files/lacking',
    summary: 'Which of these photos and voice notes are named by records here and not whole yet.',
    rights: 'bench',
    body: fields({ files: { type: 'array', maxItems: MOST_FILES_ASKED, items: HEX_64 } }),
    gives: { says: 'A list of files, each with how many of its bytes are here.' },
    refusals: [],
    run: async ({ office, body }) => ({
      files: await lackingFiles(office.db, (body as { files: string[] }).files),
    }),
  },
  {
    method: 'PUT',
    path: '/files/{sha256}',
    summary:
      'Add a part to a photo or voice note that a record names. The same part again is the same as once; the whole is held against its hash.',
    rights: 'bench',
    params: fields({ sha256: HEX_64 }),
    query: fields({ from: count(), bytes: count() }),
    body: 'file',
    gives: { says: 'How many bytes of the file are here, and whether it is whole.' },
    refusals: ['file-not-named', 'file-kind', 'file-gap', 'file-differs'],
    run: ({ office, device, params, query, body, media }) =>
      takePart(
        office.db,
        {
          sha256: params.sha256 ?? '',
          from: Number(query.from),
          total: Number(query.bytes),
          media,
          device: device.id,
          bytes: body as Uint8Array,
        },
        office.now(),
      ),
  },
  {
    method: 'GET',
    path: '/files/{sha256}',
    summary: 'A photo or voice note by the SHA-256 of its bytes.',
    rights: 'enrolled',
    params: fields({ sha256: HEX_64 }),
    gives: { says: 'The file.', type: 'application/octet-stream' },
    refusals: ['no-such-file'],
    async run({ office, device, params }) {
      const sha256 = params.sha256 ?? '';
      const { media, jobs } = await whereNamed(office.db, sha256);
      const mine = device.kind === 'desk' ? true : await readsOne(office.db, device, jobs);
      if (!mine) throw new OfficeError('not-allowed');
      return new Streamed(media, fileBytes(office.db, sha256));
    },
  },
  {
    method: 'GET',
    path: '/offered',
    summary: 'Jobs of other benches that are paused or released, and can be gone on with here.',
    rights: 'bench',
    gives: { says: 'A list of jobs, each with the number of its lease.' },
    refusals: [],
    run: async ({ office, device }) => ({ jobs: await offeredTo(office.db, device) }),
  },
  {
    method: 'POST',
    path: '/jobs/{job}/take',
    summary:
      'Go on with a job on this bench: its lease gets a new number, and the old bench can write no more.',
    rights: 'bench',
    params: job,
    body: fields({ fence: count() }),
    gives: { says: 'The new number of the lease, and how far the job has come.' },
    refusals: ['no-such-job', 'fence-old', 'not-paused', 'sealed'],
    run: ({ office, device, params, body }) =>
      takeLease(office.db, device, params.job ?? '', (body as { fence: number }).fence),
  },
  {
    method: 'GET',
    path: '/settings',
    summary:
      'What the supervisor published, signed by the office: workshop, people and roles, tools, procedures.',
    rights: 'enrolled',
    gives: { says: 'A compact JWS over the settings; version 0 and no JWS before anything was published.' },
    refusals: [],
    run: async ({ office }) => (await settingsInForce(office.db)) ?? { version: 0, jws: null },
  },
  {
    method: 'GET',
    path: '/procedures/{hash}',
    summary: 'A procedure by the SHA-256 of its RFC 8785 form.',
    rights: 'enrolled',
    params: fields({ hash: HEX_64 }),
    gives: { says: 'The procedure.' },
    refusals: ['no-such-job'],
    async run({ office, params }) {
      const known = await office.definitions.known(params.hash ?? '');
      if (!known) throw new OfficeError('no-such-job', { procedure: params.hash ?? '' });
      return known.definition;
    },
  },
  {
    method: 'GET',
    path: '/log/root',
    summary: 'The root of the log of seals (RFC 9162), signed by the office.',
    rights: 'enrolled',
    gives: { says: 'A compact JWS over size, root and time.' },
    refusals: [],
    async run({ office }) {
      const size = await logSize(office.db);
      const root: SignedRoot = { size, root: await rootOf(office.db, size), at: toMoment(office.now()) };
      return { jws: await signData(root, office.key) };
    },
  },
  {
    method: 'GET',
    path: '/log/inclusion/{job}',
    summary: 'That a job’s seal is in the log (RFC 9162, 2.1.3).',
    rights: 'enrolled',
    params: job,
    query: fields({ size: count() }),
    gives: { says: 'Place, leaf, and the hashes up to the root over that many seals.' },
    refusals: JOB_REFUSALS,
    run: ({ office, params, query }) => inclusionOf(office.db, params.job ?? '', Number(query.size)),
  },
  {
    method: 'GET',
    path: '/log/consistency',
    summary: 'That the log of so many seals is the beginning of the longer one (RFC 9162, 2.1.4).',
    rights: 'enrolled',
    query: fields({ from: count(), size: count() }),
    gives: { says: 'The hashes that show it.' },
    refusals: [],
    run: async ({ office, query }) => ({
      proof: await consistencyOf(office.db, Number(query.from), Number(query.size)),
    }),
  },
];
