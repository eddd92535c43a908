import type { JSONWebKeySet } from 'jose';
import { passkeyFault } from '../job/passkey/door.ts';
import { pinSentence } from '../job/pins.dom.ts';
import { RECORD_FILE_END, toRecordFile } from '../journal/file.ts';
import { toMoment } from '../journal/moment.ts';
import type { Person } from '../procedure/context.ts';
import { type Attached, baseName, makeBundle, onDays, photosOf } from './bundle.ts';
import { certificates } from './certificates.ts';
import { toCsv } from './csv.ts';
import type { Digest } from './digest.ts';
import { stationHistory } from './history.ts';
import { type Report, reportOf, reportPage } from './report.ts';
import { base64, saveAs } from './save.dom.ts';
import type { BookDesk, Records } from './shelf-of-records.dom.ts';
import { jobsTable, recordsTable, timesTable } from './tables.ts';

const CSV = 'text/csv;charset=utf-8';

/** Everything that can be taken out of the book: each ends in the browser's downloads, and says under which name. */
export class Takeaway {
  readonly #desk: BookDesk;
  readonly #records: Records;
  readonly #workshop: string;
  readonly #certify = certificates();

  constructor(desk: BookDesk, records: Records, workshop: string) {
    this.#desk = desk;
    this.#records = records;
    this.#workshop = workshop;
  }

  /** The photos and voice notes of these jobs, as far as this bench has them. */
  async #attached(digests: readonly Digest[]): Promise<Attached> {
    const found = new Map<string, Uint8Array>();
    for (const { sha256 } of digests.flatMap(({ attachments }) => attachments)) {
      const file = await this.#desk.files.read(sha256);
      if (file) found.set(sha256, new Uint8Array(await file.arrayBuffer()));
    }
    return found;
  }

  async report(digest: Digest): Promise<Report> {
    const { digests, log } = this.#records;
    const place = log.log.findIndex(({ job }) => job === digest.job) + 1;
    return reportOf(digest, {
      workshop: this.#workshop,
      madeAt: toMoment(this.#desk.now()),
      history: stationHistory(digests, digest.definition.id, digest.job),
      log: place > 0 ? { place, ...log.seen } : null,
      photos: photosOf(digest, await this.#attached([digest]), base64),
      certify: this.#certify,
    });
  }

  reportPage(digest: Digest, report: Report): void {
    saveAs(`${baseName(digest)}.html`, reportPage(report), 'text/html;charset=utf-8');
  }

  recordFile(digest: Digest): void {
    if (!digest.sealed) return;
    const text = toRecordFile(digest.records, digest.sealed.jws);
    saveAs(`${baseName(digest)}${RECORD_FILE_END}`, text, 'application/jsonl');
  }

  recordsTable(digest: Digest): void {
    saveAs(`${baseName(digest)}-records.csv`, toCsv(recordsTable([digest])), CSV);
  }

  timesTable(digest: Digest): void {
    const history = stationHistory(this.#records.digests, digest.definition.id, digest.job);
    saveAs(`${baseName(digest)}-times.csv`, toCsv(timesTable(digest, history)), CSV);
  }

  jobsTable(digests: readonly Digest[]): void {
    saveAs('jobs.csv', toCsv(jobsTable(digests)), CSV);
  }

  keys(keys: JSONWebKeySet): void {
    saveAs('bench-keys.json', `${JSON.stringify(keys, null, 2)}\n`, 'application/jwk-set+json');
  }

  /**
   * Makes and saves a bundle, sealed by this person if the PIN, or without one the passkey, is theirs. Returns the name of
   * the file. Throws Error with one sentence when it is not taken, JournalError for the rest.
   */
  async bundle(wish: { from: string; to: string; person: Person; pin: string | null }): Promise<string> {
    const { from, to, person, pin } = wish;
    const { pins, passkeys } = this.#desk;
    const now = this.#desk.now();
    const sentence =
      pin === null
        ? await passkeyFault(passkeys, person.id, now)
        : pinSentence(await pins.check(person.id, pin, now));
    if (sentence) throw new Error(sentence);
    const { digests, log } = this.#records;
    const bytes = await makeBundle(
      {
        workshop: this.#workshop,
        from,
        to,
        digests,
        log: log.log,
        attached: await this.#attached(digests.filter((digest) => onDays(digest, from, to))),
        certify: this.#certify,
      },
      {
        by: { id: person.id, name: person.name, role: person.role, how: pin === null ? 'passkey' : 'pin' },
        at: Math.trunc(this.#desk.now()),
        key: await this.#desk.key(),
        base64,
      },
    );
    const name = `records-${from}-to-${to}.zip`;
    saveAs(name, Uint8Array.from(bytes), 'application/zip');
    return name;
  }
}
