import { expect as chai, fixture, fixtureCleanup, html } from '@open-wc/testing';
import { createStore } from 'idb-keyval';
import { beforeAll, describe, expect, test } from 'vitest';
import { userEvent } from 'vitest/browser';
import { browserLog, type LogMemory } from '../../src/book/log-memory.dom.ts';
import type { BookScreen } from '../../src/book/screens/book-screen.dom.ts';
import '../../src/book/screens/book-screen.dom.ts';
import type { BookDesk } from '../../src/book/shelf-of-records.dom.ts';
import { verifyBundle } from '../../src/book/verify-bundle.ts';
import { browserPins } from '../../src/job/pins.dom.ts';
import { JournalError } from '../../src/journal/fault.ts';
import { deviceKey } from '../../src/journal/keys.dom.ts';
import type { JournalStore } from '../../src/journal/port.ts';
import { proofOf } from '../../src/journal/proved.ts';
import { IdbJournalStore } from '../../src/journal/store.dom.ts';
import '../../src/bench/page.css';
import { eventful, openWorkshop, START, seal, tell } from '../book/jobs.ts';

const DAY = 86_400_000;
const name = `book-${crypto.randomUUID()}`;
const jobs = ['01', '02', '03'].map((end) => `5d0b3f52-6c1e-4a8e-9a55-1f2f6c0e1a${end}`);
const photo = new Blob([Uint8Array.of(1, 2, 3, 4)], { type: 'image/png' });
const pins = browserPins(createStore(`${name}-people`, 'pins'));
const store = new IdbJournalStore(name);
const desk: BookDesk = {
  store,
  settings: { workshop: async () => openWorkshop },
  pins,
  files: { read: async () => photo },
  now: () => START + 20 * DAY,
  key: () => deviceKey(name),
};

beforeAll(async () => {
  const key = await deviceKey(name);
  const tellings = [{ job: jobs[0] ?? '' }, { ...eventful(jobs[1]), at: START + DAY }];
  for (const telling of tellings) {
    const records = tell(telling);
    for (const record of records) await store.append(record);
    await store.putSeal(records[0]?.job ?? '', (await seal(records, key)).jws);
  }
  for (const record of tell({ job: jobs[2] ?? '', until: 'standFirm', at: START + 2 * DAY }))
    await store.append(record);
  await pins.enrol('w-nora', '4711');
}, 60_000);

const says = (element: Element): string => {
  const root = element.shadowRoot ?? element;
  const inner = [...root.querySelectorAll('*')].filter((one) => one.shadowRoot).map(says);
  return [root.textContent ?? '', ...inner].join(' ').replaceAll(/\s+/g, ' ');
};

async function until(what: string, seen: () => boolean): Promise<void> {
  for (let n = 0; n < 400; n++) {
    if (seen()) return;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  throw new Error(`Never came to ${what}`);
}

async function opened(
  over: Partial<BookDesk> = {},
  memory: LogMemory = browserLog(name),
): Promise<BookScreen> {
  const book = await fixture<BookScreen>(
    html`<hf-book .desk=${{ ...desk, ...over }} .memory=${memory} style="height: 800px"></hf-book>`,
  );
  await until('the list of jobs', () => says(book).includes('Jobs, the latest first'));
  return book;
}

/** Goes on with Tab until what has the focus says this; the pointer is never used. */
async function tabTo(wanted: RegExp): Promise<void> {
  for (let n = 0; n < 80; n++) {
    await userEvent.keyboard('{Tab}');
    let at = document.activeElement;
    while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
    if (
      at &&
      wanted.test(at.getAttribute('aria-label') ?? at.closest('label')?.textContent ?? at.textContent ?? '')
    )
      return;
  }
  throw new Error(`Tab never came to ${wanted}`);
}

/** What the browser was given to download, instead of the download. */
async function downloaded(act: () => Promise<unknown>): Promise<{ name: string; bytes: Uint8Array }> {
  const link = HTMLAnchorElement.prototype;
  const click = link.click;
  try {
    const given = new Promise<{ name: string; bytes: Uint8Array }>((resolve) => {
      link.click = function (this: HTMLAnchorElement) {
        const { download } = this;
        void fetch(this.href).then(async (got) =>
          resolve({ name: download, bytes: new Uint8Array(await got.arrayBuffer()) }),
        );
      };
    });
    await act();
    return await given;
  } finally {
    link.click = click;
  }
}

describe('the record book over the real stores', () => {
  test('is accessible, and is read with the keyboard alone: list, report, story, back', async () => {
    const book = await opened();
    await chai(book).to.be.accessible();
    expect(says(book)).toContain('3 of 3 jobs');
    await tabTo(/^Words/);
    await userEvent.keyboard('cosmetic');
    await until('one job', () => says(book).includes('1 of 3 jobs'));
    await tabTo(/^Renew chain/);
    await userEvent.keyboard('{Enter}');
    await until('the report', () => says(book).includes('Signatures in the record'));
    expect(says(book)).toContain('CONCEDED: Cosmetic');
    expect(says(book)).toMatch(/seal 2; root 2 · [0-9a-f]{4} /);
    await tabTo(/^Story/);
    await userEvent.keyboard('{Enter}');
    await until('the story', () => says(book).includes('Nora Vance decided concession'));
    await userEvent.keyboard('{Escape}');
    await until('the list, as it was searched', () => says(book).includes('1 of 3 jobs'));
    const left = new Promise((resolve) => book.addEventListener('left', resolve, { once: true }));
    await userEvent.keyboard('{Escape}');
    await left;
  });

  test('a bundle is sealed by the right PIN only, and holds', async () => {
    const book = await opened();
    await tabTo(/^Bundle/);
    await userEvent.keyboard('{Enter}');
    await until('the bundle', () => says(book).includes('2 sealed jobs; 1 not sealed yet'));
    await tabTo(/^PIN/);
    await userEvent.keyboard('1234{Enter}');
    await until('the refusal', () => says(book).includes('That PIN is not right: try again.'));
    await tabTo(/^PIN/);
    const { name: file, bytes } = await downloaded(() => userEvent.keyboard('4711{Enter}'));
    expect(file).toBe('records-2026-03-01-to-2026-03-22.zip');
    const { publicJwk } = await deviceKey(name);
    const report = await verifyBundle(bytes, { keys: { keys: [{ ...publicJwk }] }, prove: proofOf });
    expect(report.findings.map(({ code }) => code)).toEqual(['attachment-differs']);
    expect(report.records.map(({ report: { holds } }) => holds)).toEqual([true, true]);
    expect(report.manifest?.signedBy).toEqual({
      id: 'w-nora',
      name: 'Nora Vance',
      role: 'supervisor',
      how: 'pin',
    });
  });

  test('a job that is removed, one whose records are cut and one that was changed are said aloud', async () => {
    // Looked at once, so that the log is known; then closed.
    await opened();
    fixtureCleanup();
    const without: JournalStore = {
      append: (record) => store.append(record),
      putSeal: (job, jws) => store.putSeal(job, jws),
      heads: async () => (await store.heads()).filter(({ job }) => job !== jobs[0]),
      read: async (job) => {
        if (job === jobs[1]) throw new JournalError('journal-cut');
        const records = await store.read(job);
        return records.map((record) => (record.seq === 3 ? { ...record, by: 'w-ilse' } : record));
      },
      remains: (job) => store.remains(job),
      seal: (job) => store.seal(job),
      seals: () => store.seals(),
    };
    const book = await opened({ store: without });
    expect(says(book)).toContain(
      `The log of seals has changed: Seal 1 of the log is gone: job ${jobs[0]} was removed.`,
    );
    expect(says(book)).toContain(`Job ${jobs[2]}: Record 3: This record was changed after it was written`);
    expect(says(book)).toContain(`Job ${jobs[1]}: Records of this job are missing from this device`);
    await chai(book).to.be.accessible();
  });
});
