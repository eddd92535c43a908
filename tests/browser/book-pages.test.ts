import { expect as chai, fixture, html } from '@open-wc/testing';
import { beforeAll, describe, expect, test } from 'vitest';
import { userEvent } from 'vitest/browser';
import { certificates } from '../../src/book/certificates.ts';
import { type Digest, digestOf } from '../../src/book/digest.ts';
import { type Filter, noFilter } from '../../src/book/filter.ts';
import { stationHistory } from '../../src/book/history.ts';
import { fillWith } from '../../src/book/print.dom.ts';
import { type Report, reportOf } from '../../src/book/report.ts';
import type { BundlePage, BundleWish } from '../../src/book/screens/bundle-page.dom.ts';
import '../../src/book/screens/bundle-page.dom.ts';
import type { ComparePage } from '../../src/book/screens/compare-page.dom.ts';
import '../../src/book/screens/compare-page.dom.ts';
import type { JobsPage } from '../../src/book/screens/jobs-page.dom.ts';
import '../../src/book/screens/jobs-page.dom.ts';
import type { LogPage } from '../../src/book/screens/log-page.dom.ts';
import '../../src/book/screens/log-page.dom.ts';
import type { RatesPage } from '../../src/book/screens/rates-page.dom.ts';
import '../../src/book/screens/rates-page.dom.ts';
import type { RecordPage } from '../../src/book/screens/record-page.dom.ts';
import '../../src/book/screens/record-page.dom.ts';
import type { VerifyPage } from '../../src/book/screens/verify-page.dom.ts';
import '../../src/book/screens/verify-page.dom.ts';
import { extended, logFaults, logTree } from '../../src/book/seal-log.ts';
import { shortCode } from '../../src/job/story.ts';
import { toRecordFile } from '../../src/journal/file.ts';
import type { SigningKey } from '../../src/journal/seal.ts';
import '../../src/bench/page.css';
import { eventful, openWorkshop, START, seal, tell } from '../book/jobs.ts';
import { makeKey } from '../journal/play.ts';

let key: SigningKey;
let digests: Digest[];
let report: Report;

beforeAll(async () => {
  key = await makeKey();
  const plain = tell();
  const rich = tell({ ...eventful('5d0b3f52-6c1e-4a8e-9a55-1f2f6c0e1a02'), at: START + 86_400_000 });
  const open = tell({ job: '5d0b3f52-6c1e-4a8e-9a55-1f2f6c0e1a03', until: 'standFirm' });
  digests = [digestOf(rich, await seal(rich, key)), digestOf(plain, await seal(plain, key)), digestOf(open)];
  report = reportOf(digests[0] as Digest, {
    workshop: 'Low Fold Riding School',
    madeAt: '2026-03-04T08:00:00.000Z',
    history: stationHistory(digests, 'final-drive'),
    log: null,
    photos: new Map(),
    certify: certificates(),
  });
});

/** What an element says at the next event of this name. */
const heard = <T>(element: EventTarget, name: string): Promise<T> =>
  new Promise((resolve) =>
    element.addEventListener(name, (event) => resolve((event as CustomEvent<T>).detail), { once: true }),
  );
const textOf = (element: Element): string => element.shadowRoot?.textContent?.replaceAll(/\s+/g, ' ') ?? '';
const inside = <T extends Element>(element: Element, selector: string): T => {
  const found = element.shadowRoot?.querySelector<T>(selector);
  if (!found) throw new Error(`Nothing like ${selector}`);
  return found;
};
const button = (element: Element, says: string): HTMLButtonElement => {
  const all = [...(element.shadowRoot?.querySelectorAll('button') ?? [])];
  const found = all.find((one) => one.textContent?.includes(says));
  if (!found) throw new Error(`No button says ${says}.`);
  return found;
};

describe('the list of jobs', () => {
  const list = () => fixture<JobsPage>(html`<hf-book-jobs .digests=${digests}></hf-book-jobs>`);

  test('is accessible and says of each job what to look at', async () => {
    const page = await list();
    await chai(page).to.be.accessible();
    expect(textOf(page)).toContain('3 of 3 jobs');
    expect(textOf(page)).toContain('1 CONCEDED · 1 failed at first · 2 nonconforming');
  });

  test('what is typed and chosen is told as a filter, and the list follows it', async () => {
    const page = await list();
    page.addEventListener('filter', (event) => {
      page.filter = (event as CustomEvent<Filter>).detail;
    });
    inside<HTMLInputElement>(page, 'input[name=text]').focus();
    await userEvent.keyboard('cosmetic');
    await page.updateComplete;
    expect(page.shown.map(({ job }) => job)).toEqual([digests[0]?.job]);
    expect(page.filter).toEqual({ ...noFilter, text: 'cosmetic' });
    expect(textOf(page)).toContain('1 of 3 jobs');
  });

  test('a job is opened and picked by keyboard alone', async () => {
    const page = await list();
    button(page, 'Renew chain').focus();
    const opened = heard<string>(page, 'open-job');
    await userEvent.keyboard('{Enter}');
    expect(await opened).toBe(digests[0]?.job);
    inside<HTMLInputElement>(page, 'tbody input').focus();
    const picked = heard<string>(page, 'pick');
    await userEvent.keyboard(' ');
    expect(await picked).toBe(digests[0]?.job);
    expect(button(page, 'Compare').disabled).toBe(true);
    page.picks = digests.slice(0, 2).map(({ job }) => job);
    await page.updateComplete;
    const compared = heard<readonly string[]>(page, 'compare');
    button(page, 'Compare').click();
    expect(await compared).toEqual(page.picks);
  });
});

describe('one record', () => {
  const record = (as: RecordPage['as']) =>
    fixture<RecordPage>(
      html`<hf-book-record .digest=${digests[0]} .report=${report} .as=${as}></hf-book-record>`,
    );

  test.each(['report', 'story', 'table'] as const)(
    'as %s is accessible and shows the concession',
    async (as) => {
      const page = await record(as);
      await chai(page).to.be.accessible();
      expect(textOf(page)).toMatch(as === 'report' ? /CONCEDED: Cosmetic/ : /decided concession: Cosmetic/);
      expect(textOf(page)).toContain('This is a hold point: check it');
    },
  );

  test('the report has its own sheet and no style of its own in the text', async () => {
    const page = await record('report');
    expect(page.shadowRoot?.querySelector('[style], style, script')).toBeNull();
    const paper = inside<HTMLElement>(page, '.report .conceded > th');
    expect(getComputedStyle(paper).borderLeftStyle).toBe('solid');
  });
});

test('a report goes onto paper in a frame of its own, styled by a sheet', async () => {
  const frame = await fixture<HTMLIFrameElement>(html`<iframe title="paper"></iframe>`);
  const view = fillWith(report, frame);
  const inner = view?.document;
  expect(inner?.title).toBe('Job report LF-07 2026-03-03 Renew chain and sprockets');
  expect(inner?.querySelectorAll('h2').length).toBeGreaterThan(8);
  expect(inner?.querySelector('style, script, [style]')).toBeNull();
  const code = inner?.querySelector('.code');
  expect(code && view?.getComputedStyle(code).fontWeight).toBe('700');
});

test('two records side by side are accessible, and what differs is marked by a word', async () => {
  const page = await fixture<ComparePage>(
    html`<hf-book-compare .a=${digests[1]} .b=${digests[0]}></hf-book-compare>`,
  );
  await chai(page).to.be.accessible();
  expect(textOf(page)).toContain('≠ differs');
  expect(textOf(page)).toContain('≠ only in one');
});

test('the rates of the hold points are accessible, and the least sure comes first', async () => {
  const page = await fixture<RatesPage>(html`<hf-book-rates .digests=${digests}></hf-book-rates>`);
  await chai(page).to.be.accessible();
  const rows = [...(page.shadowRoot?.querySelectorAll('tbody tr') ?? [])].map((row) => row.textContent ?? '');
  expect(rows[0]).toMatch(/33 %|50 %/);
});

describe('the log of seals', () => {
  const seals = () =>
    digests.flatMap(({ job, sealed }) =>
      sealed ? [{ job, seal: sealed.jws, sealedAt: sealed.payload.sealedAt }] : [],
    );

  test('is accessible, and knows a code from paper', async () => {
    const log = extended([], seals());
    const root = logTree(log).root();
    const state = { log, seen: { count: 2, root }, faults: [] };
    const page = await fixture<LogPage>(html`<hf-book-log .state=${state}></hf-book-log>`);
    await chai(page).to.be.accessible();
    expect(textOf(page)).toContain(`2 · ${shortCode(root)}`);
    const ask = async (count: string, code: string) => {
      inside<HTMLInputElement>(page, 'input[name=count]').value = count;
      inside<HTMLInputElement>(page, 'input[name=code]').value = code;
      button(page, 'Look').click();
      await page.updateComplete;
      return textOf(page);
    };
    expect(await ask('1', shortCode(logTree(log).root(1)).toUpperCase())).toContain(
      '✓ Yes: the first 1 seal of this log is what the paper saw',
    );
    expect(await ask('2', '0000 0000 0000')).toContain('✕ No: after 2 seals');
    expect(await ask('9', '0000 0000 0000')).toContain('✕ This log has only 2 seals:');
  });

  test('says aloud that a job was removed', async () => {
    const log = extended([], seals());
    const faults = logFaults(log, seals().slice(1));
    const state = { log, seen: { count: 2, root: logTree(log).root() }, faults };
    const page = await fixture<LogPage>(html`<hf-book-log .state=${state}></hf-book-log>`);
    await chai(page).to.be.accessible();
    expect(inside(page, '[role=alert]').textContent).toContain('was removed');
  });
});

describe('the bundle', () => {
  const page = () =>
    fixture<BundlePage>(
      html`<hf-book-bundle .digests=${digests} .people=${openWorkshop.people} .today=${'2026-03-31'}></hf-book-bundle>`,
    );

  test('is accessible, offers supervisors only, and counts what goes in', async () => {
    const element = await page();
    await chai(element).to.be.accessible();
    const offered = [...(element.shadowRoot?.querySelectorAll('option') ?? [])].map(({ value }) => value);
    expect(offered).toEqual(['w-nora']);
    expect(textOf(element)).toContain('2 sealed jobs; 1 not sealed yet');
  });

  test('takes the PIN once and does not keep it', async () => {
    const element = await page();
    const pin = inside<HTMLInputElement>(element, 'input[name=pin]');
    pin.focus();
    const wished = heard<BundleWish>(element, 'bundle');
    await userEvent.keyboard('4711{Enter}');
    expect(await wished).toMatchObject({
      from: '2026-03-01',
      to: '2026-03-31',
      pin: '4711',
      person: { id: 'w-nora' },
    });
    expect(pin.value).toBe('');
  });
});

describe('verifying', () => {
  const given = async (...files: File[]) => {
    const keys = { keys: [{ ...key.publicJwk }] };
    const page = await fixture<VerifyPage>(html`<hf-book-verify .keys=${keys}></hf-book-verify>`);
    const data = new DataTransfer();
    for (const file of files) data.items.add(file);
    inside(page, '.place').dispatchEvent(new DragEvent('drop', { dataTransfer: data, cancelable: true }));
    for (let n = 0; n < 200 && !textOf(page).match(/✓|✕/); n++)
      await new Promise((resolve) => setTimeout(resolve, 20));
    return page;
  };
  const fileOf = ({ records, sealed }: Digest, change = (text: string) => text) =>
    new File([change(toRecordFile(records, sealed?.jws ?? ''))], 'LF-01.holdfast.jsonl');

  test('a good record that was dropped holds, in plain words', async () => {
    const page = await given(fileOf(digests[1] as Digest));
    expect(textOf(page)).toContain(
      '✓ The record holds: Renew chain and sprockets on School machine 1, complete',
    );
    await chai(page).to.be.accessible();
  });

  test('a changed one does not, and the line is named', async () => {
    const page = await given(
      fileOf(digests[1] as Digest, (text) => text.replace('"by":"w-tomas"', '"by":"w-ilse"')),
    );
    expect(textOf(page)).toMatch(
      /✕ The record does not hold: School machine 1.*Line \d+: This record was changed/,
    );
    await chai(page).to.be.accessible();
  });

  test('what is no record is said to be none', async () => {
    const page = await given(new File(['hello\n'], 'a.jsonl'), new File(['[]'], 'keys.json'));
    expect(textOf(page)).toContain('This is no set of public keys');
    expect(textOf(page)).toContain('This line is not JSON');
  });
});
