import { expect as chai, fixture, html } from '@open-wc/testing';
import { beforeAll, describe, expect, test } from 'vitest';
import { makeBundle } from '../../src/book/bundle.ts';
import { certificates } from '../../src/book/certificates.ts';
import { digestOf } from '../../src/book/digest.ts';
import type { VerifyPage } from '../../src/book/screens/verify-page.dom.ts';
import { extended } from '../../src/book/seal-log.ts';
import { verifyApart } from '../../src/book/verify-apart.dom.ts';
import { verifyBundle } from '../../src/book/verify-bundle.ts';
import { toRecordFile } from '../../src/journal/file.ts';
import { deviceKey } from '../../src/journal/keys.dom.ts';
import { proofOf } from '../../src/journal/proved.ts';
import type { SigningKey } from '../../src/journal/seal.ts';
import '../../src/bench/page.css';
import '../../src/book/screens/verify-page.dom.ts';
import { START, seal, tell } from '../book/jobs.ts';

/*
 * Verifying in the page's worker, in the real browser: what it finds, that the page goes on meanwhile, and what is said
 * when the worker itself fails.
 */

/** Many enough that verifying them takes seconds. */
const JOBS = 40;
const jobOf = (n: number) => `5d0b3f52-6c1e-4a8e-9a55-${String(n).padStart(12, '0')}`;
let key: SigningKey;
let keys: { keys: { x: string }[] };
let record: string;
let bundle: Uint8Array<ArrayBuffer>;

beforeAll(async () => {
  key = await deviceKey(`verify-${crypto.randomUUID()}`);
  keys = { keys: [{ ...key.publicJwk }] };
  const digests = [];
  for (let n = 0; n < JOBS; n++) {
    const records = tell({ job: jobOf(n), at: START + n * 3_600_000 });
    digests.push(digestOf(records, await seal(records, key)));
  }
  const seals = digests.map(({ job, sealed }) => ({
    job,
    seal: sealed?.jws ?? '',
    sealedAt: sealed?.payload.sealedAt ?? '',
  }));
  const [first] = digests;
  record = toRecordFile(first?.records ?? [], first?.sealed?.jws ?? '');
  const made = await makeBundle(
    {
      workshop: 'Low Fold Riding School',
      from: '2026-03-01',
      to: '2026-03-31',
      digests,
      log: extended([], seals),
      attached: new Map(),
      certify: certificates(),
    },
    {
      by: { id: 'w-nora', name: 'Nora Vance', role: 'supervisor', how: 'pin' },
      at: START + 40 * 86_400_000,
      key,
      base64: (bytes) => btoa(String.fromCharCode(...bytes)),
    },
  );
  bundle = Uint8Array.from(made);
}, 120_000);

const none = () => undefined;

/** The longest time between two frames of the page while something goes on, ms, and how many frames there were. */
async function frames<T>(work: Promise<T>) {
  let longest = 0;
  let count = 0;
  let last = performance.now();
  let goes = true;
  const from = last;
  const frame = () => {
    const now = performance.now();
    longest = Math.max(longest, now - last);
    last = now;
    count++;
    if (goes) requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
  const result = await work;
  frame();
  goes = false;
  return { result, longest, count, took: performance.now() - from };
}

/** Drops files on the page as a person does. */
async function dropped(page: VerifyPage, ...files: File[]): Promise<void> {
  const data = new DataTransfer();
  for (const file of files) data.items.add(file);
  page.renderRoot.querySelector('.place')?.dispatchEvent(new DragEvent('drop', { dataTransfer: data }));
  await page.updateComplete;
}

const opened = (apart = verifyApart) =>
  fixture<VerifyPage>(html`<hf-book-verify .keys=${keys} .apart=${apart}></hf-book-verify>`);
// biome-ignore lint/performance/useDomNodeTextContent: what is drawn is wanted, not what is in the tree.
const says = (page: VerifyPage) => (page.renderRoot.querySelector('[role=status]') as HTMLElement).innerText;

async function until(what: string, seen: () => boolean, ms = 60_000): Promise<void> {
  for (const from = performance.now(); performance.now() - from < ms; ) {
    if (seen()) return;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  throw new Error(`Never came to ${what}`);
}

const zip = () => new File([bundle], 'records.zip');

describe('verifying apart from the page', () => {
  test('a bundle and a record are found to be what they are, and so is a record that was changed', async () => {
    const looked = await verifyApart({ file: new Blob([bundle]), keys }, none).looked;
    expect(looked).toMatchObject({ kind: 'bundle', report: { holds: true } });
    const good = await verifyApart({ file: new Blob([record]), keys }, none).looked;
    expect(good).toMatchObject({ kind: 'record', report: { holds: true, findings: [] } });
    const harmed = record.replace('"via":"pedal"', '"via":"voice"');
    const bad = await verifyApart({ file: new Blob([harmed]), keys }, none).looked;
    expect(bad).toMatchObject({ kind: 'record', report: { holds: false } });
  });

  test('the page goes on being drawn, and how far it has come is said', async () => {
    const page = await opened();
    const said = new Set<string>();
    const watch = setInterval(() => said.add(says(page)), 20);
    const apart = await frames(
      dropped(page, zip()).then(() => until('the answer', () => /The bundle/.test(says(page)))),
    );
    clearInterval(watch);
    expect(says(page)).toContain(`✓ The bundle holds: ${JOBS} records`);
    expect([...said].some((line) => new RegExp(`\\d+ of ${JOBS} records done`).test(line))).toBe(true);
    // The same work on the page itself, for comparison: it holds the page up for as long as it takes.
    const here = await frames(verifyBundle(bundle, { keys, prove: proofOf }));
    const figures = (of: typeof apart | typeof here) =>
      `${Math.round(of.took)} ms, ${of.count} frames, longest without one ${Math.round(of.longest)} ms`;
    // biome-ignore lint/suspicious/noConsole: the figures are what this is run for.
    console.info(`${JOBS} records in a worker: ${figures(apart)}; on the page: ${figures(here)}`);
    expect(here.result.holds).toBe(true);
    // A frame is 17 ms; the answer itself is drawn at the end, and other programs want the processor too.
    expect(apart.longest).toBeLessThan(500);
    expect(apart.count).toBeGreaterThan(apart.took / 100);
  });

  test('can be stopped; what was not looked at is said', async () => {
    const page = await opened();
    await dropped(page, zip(), new File([record], 'one.holdfast.jsonl'));
    await until('the work', () => /of \d+ records done/.test(says(page)));
    [...page.renderRoot.querySelectorAll('button')]
      .find(({ textContent }) => /Stop/.test(textContent))
      ?.click();
    await until('the end', () => /You stopped/.test(says(page)));
    expect(says(page)).not.toContain('one.holdfast.jsonl');
  });

  test.each<[string, () => Worker]>([
    ['is not there', () => new Worker('/there-is-no-such-worker.js', { type: 'module' })],
    ['ends with an exception', () => new Worker(URL.createObjectURL(new Blob(['throw new Error("lost")'])))],
    [
      'says that it failed',
      () =>
        new Worker(
          URL.createObjectURL(
            new Blob(['onmessage = () => postMessage({ kind: "failed", why: "no memory" })']),
          ),
        ),
    ],
  ])('a worker that %s is a coded error, in plain words on the page', async (_, make) => {
    const failing = (wanted: Parameters<typeof verifyApart>[0]) => verifyApart(wanted, none, make);
    await expect(failing({ file: new Blob([record]), keys }).looked).rejects.toMatchObject({
      code: 'not-verified',
    });
    const page = await opened(failing);
    await dropped(page, new File([record], 'one.holdfast.jsonl'));
    await until('the fault', () => /could not be looked at to its end/.test(says(page)));
    await chai(page).to.be.accessible();
  });

  test('something that is no record is refused as before', async () => {
    const page = await opened();
    await dropped(page, new File(['hello'], 'note.txt'), new File(['{}'], 'no-keys.json'));
    await until('the answer', () => /does not hold/.test(says(page)));
    expect(says(page)).toContain('This is no set of public keys');
  });
});
