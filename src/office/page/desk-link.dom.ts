import { createStore, get, set } from 'idb-keyval';
import type { SentPin } from '../../job/workshop.ts';
import { deviceKey } from '../../journal/keys.dom.ts';
import { keyId } from '../../journal/seal.ts';
import { Courier, json } from '../../sync/courier.dom.ts';
import type { DeviceKind, Enrolled } from '../../sync/wire.ts';
import type { BookPage, Charts, DeviceRow, Filter, JobFile, LiveRow, PersonRow } from './wire.ts';

const NAME = 'holdfast-desk';

interface Kept {
  readonly office: string;
  readonly name: string;
}

/** The question part of an address: only what is filled in. */
function question(fields: Readonly<Record<string, string | boolean | undefined>>): string {
  const given = Object.entries(fields).filter(
    ([, value]) => value !== undefined && value !== '' && value !== false,
  );
  const text = new URLSearchParams(given.map(([key, value]) => [key, String(value)])).toString();
  return text === '' ? '' : `?${text}`;
}

/** This browser as a supervisor's desk: its key, which cannot leave it, and what it asks the office. */
export class DeskLink {
  readonly #courier: Courier;
  readonly name: string;

  private constructor(kept: Kept) {
    this.name = kept.name;
    this.#courier = courier(kept.office);
  }

  /** The desk that this browser was enrolled as, or null. */
  static async kept(): Promise<DeskLink | null> {
    const kept = await get<Kept>('desk', createStore(NAME, 'desk'));
    return kept ? new DeskLink(kept) : null;
  }

  static async enrol(code: string, name: string): Promise<DeskLink> {
    const answer = await courier('').ask<Enrolled>('POST', '/enrol', json({ code, name }));
    if (answer.kind !== 'desk')
      throw new Error('This code is for a bench: open the app with it, not this page.');
    const kept = { office: await keyId(answer.office), name: answer.name };
    await set('desk', kept, createStore(NAME, 'desk'));
    return new DeskLink(kept);
  }

  live = () => this.#courier.ask<{ at: string; jobs: LiveRow[] }>('GET', '/live');
  book = (filter: Filter, after: string | null) =>
    this.#courier.ask<BookPage>('GET', `/book${question({ ...filter, after: after ?? undefined })}`);
  charts = ({ from, to, procedure }: Filter) =>
    this.#courier.ask<Charts>('GET', `/charts${question({ from, to, procedure })}`);
  devices = async () => (await this.#courier.ask<{ devices: DeviceRow[] }>('GET', '/devices')).devices;
  code = (kind: DeviceKind) =>
    this.#courier.ask<{ code: string; expiresAt: string }>('POST', '/codes', json({ kind }));
  revoke = (kid: string, why: string) => this.#courier.ask('POST', `/devices/${kid}/revoke`, json({ why }));
  release = (job: string) => this.#courier.ask('POST', `/jobs/${job}/release`);
  people = async () => (await this.#courier.ask<{ people: PersonRow[] }>('GET', '/people')).people;
  shutOut = (person: string, why: string) =>
    this.#courier.ask('POST', `/people/${encodeURIComponent(person)}/shut-out`, json({ why }));
  letIn = (person: string) => this.#courier.ask('POST', `/people/${encodeURIComponent(person)}/let-in`);
  setPin = (person: string, pin: SentPin) =>
    this.#courier.ask('PUT', `/people/${encodeURIComponent(person)}/pin`, json(pin));
  files = async (job: string) =>
    (await this.#courier.ask<{ files: JobFile[] }>('GET', `/jobs/${job}/files`)).files;
  /** A photo or voice note; `media`: what the record says it is. */
  file = async ({ sha256, media }: JobFile): Promise<Blob> => {
    const response = await this.#courier.stream('GET', `/files/${sha256}`, null);
    return new Blob([await response.arrayBuffer()], { type: media });
  };
  publish = (what: 'workshop' | 'procedure', value: unknown) =>
    what === 'workshop'
      ? this.#courier.ask<{ version: number }>('PUT', '/settings', json(value))
      : this.#courier.ask<{ version: number }>('POST', '/procedures', json(value));
  /** A date range as a stream. */
  exported = (filter: Filter, as: 'zip' | 'lines' | 'csv'): Promise<Response> =>
    this.#courier.stream('GET', `/export${question({ ...filter, as })}`, null);
}

const courier = (office: string): Courier =>
  new Courier({
    origin: '',
    office,
    key: () => deviceKey(NAME),
    now: () => Date.now(),
    fetch: (url, init) => fetch(url, init),
  });
