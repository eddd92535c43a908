import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { certificates } from '../../src/book/certificates.ts';
import { type Digest, digestOf } from '../../src/book/digest.ts';
import { stationHistory } from '../../src/book/history.ts';
import { reportOf, reportPage } from '../../src/book/report.ts';
import { shortCode } from '../../src/job/story.ts';
import { makeKey } from '../journal/play.ts';
import { chromiumArgs, chromiumPath } from '../tools/chromium.ts';
import { eventful, seal, tell } from './jobs.ts';

let browser: Browser;
let page: Page;
let digest: Digest;
let html: string;

beforeAll(async () => {
  const records = tell(eventful());
  digest = digestOf(records, await seal(records, await makeKey()));
  const pixel =
    'data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==';
  const photo = digest.attachments[0]?.sha256 ?? '';
  html = reportPage(
    reportOf(digest, {
      workshop: 'Low Fold Riding School <b>',
      madeAt: '2026-03-03T10:00:00.000Z',
      history: stationHistory([digest], digest.definition.id),
      log: { place: 4, count: 6, root: 'ab'.repeat(32) },
      photos: new Map([[photo, pixel]]),
      certify: certificates(),
    }),
  );
  browser = await chromium.launch({ executablePath: chromiumPath(), args: [...chromiumArgs] });
  page = await browser.newPage();
  await page.setContent(html);
  await page.emulateMedia({ media: 'print' });
}, 60_000);
afterAll(() => browser?.close());

/** The rows of the table under a heading, each as its cells. */
const rowsUnder = (heading: string): Promise<string[][]> =>
  page.evaluate((says) => {
    const title = [...document.querySelectorAll('h2')].find((one) => one.textContent === says);
    const table = title?.nextElementSibling;
    return [...(table?.querySelectorAll('tbody tr') ?? [])].map((row) =>
      // biome-ignore lint/performance/useDomNodeTextContent: what is seen on the page counts, not what is in the tree.
      [...row.children].map((cell) => (cell as HTMLElement).innerText.replaceAll(/\s+/g, ' ').trim()),
    );
  }, heading);

describe('the printed report', () => {
  test('has every hold point with its evidence, and says of the conceded one that it is', async () => {
    const rows = await rowsUnder('Hold points');
    expect(rows).toHaveLength(digest.holds.length);
    expect(rows[0]?.[1]).toBe('“every fastener moves” failed once before');
    const conceded = rows.filter((row) => row[1]?.startsWith('CONCEDED'));
    expect(conceded).toMatchObject([
      [
        expect.any(String),
        'CONCEDED: Cosmetic; does not touch the seal.',
        'Nora Vance by keys',
        '–',
        expect.any(String),
      ],
    ]);
    expect(rows.some((row) => /^Nora Vance 2026-03-02 \d\d:\d\d:\d\d$/.test(row[3] ?? ''))).toBe(true);
  });

  test('has the figures with their limits and tools, and the tools with their calibration', async () => {
    const figures = await rowsUnder('Figures measured');
    expect(figures).toHaveLength(digest.readings.length);
    expect(figures.find((row) => row[0] === 'Axle nut')?.slice(0, 5)).toEqual([
      'Axle nut',
      '98 N·m',
      '93.1 to 102.9 N·m',
      'within',
      'TW-2',
    ]);
    const tools = await rowsUnder('Tools used');
    expect(tools.find((row) => row[0] === 'TW-2')?.slice(0, 5)).toEqual([
      'TW-2',
      expect.any(String),
      '2027-05-31 · class 4 %',
      '2026-03-02',
      'in calibration',
    ]);
  });

  test('has nonconformances with decisions, refusals with reasons, and the photo', async () => {
    const troubles = await rowsUnder('Nonconformances');
    expect(troubles.map((row) => row[3])).toEqual([
      expect.stringMatching(/^rework Renew the bolt\. back to/),
      'CONCESSION: used as it is Cosmetic; does not touch the seal.',
    ]);
    expect(await rowsUnder('Refused attempts')).toHaveLength(3);
    expect((await rowsUnder('Photos and voice notes'))[0]?.[4]).toBe(digest.attachments[0]?.sha256);
    expect(await page.evaluate(() => [...document.images].map(({ naturalWidth }) => naturalWidth))).toEqual([
      1,
    ]);
  });

  test('has signatures with printed name, date and time, and meaning; the seal; room for a hand', async () => {
    const signatures = await rowsUnder('Signatures in the record');
    expect(signatures).toHaveLength(digest.signatures.length);
    for (const [name, at, meaning, identified] of signatures) {
      expect(name).toMatch(/^(Pia Lundry apprentice|Ilse Marrok mechanic|Nora Vance supervisor) · w-/);
      expect(at).toMatch(/^2026-03-02 \d\d:\d\d:\d\d$/);
      expect(meaning).toMatch(/^(Responsibility|Verification|Approval|Authorship): /);
      expect(identified).toMatch(/^PIN 2026-03-02 /);
    }
    // biome-ignore lint/performance/useDomNodeTextContent: what is seen on the page counts, not what is in the tree.
    const text = await page.locator('body').innerText();
    expect(text).toContain(shortCode(digest.head));
    expect(text).toContain('6 · abab abab abab');
    expect(text).toContain(digest.sealed?.kid);
    expect((await rowsUnder('Signed on paper')).map(([meaning]) => meaning)).toEqual([
      'Reviewed',
      'Approved',
    ]);
    expect(text).toContain('Low Fold Riding School <b>');
    expect(text).toMatch(/Proved for \d+ combinations of facts/);
  });

  test('fits the width of the paper, and prints on numbered pages that name the job', async () => {
    await page.setViewportSize({ width: 688, height: 1000 }); // 182 mm between the margins of A4, at 96 dpi
    const wide = await page.evaluate(() => {
      const edge = document.documentElement.clientWidth;
      return [...document.querySelectorAll('td, th, dd, p')].filter(
        (one) => one.getBoundingClientRect().right > edge + 1,
      ).length;
    });
    expect(wide).toBe(0);
    const pdf = (await page.pdf({ format: 'A4' })).toString('latin1');
    expect(pdf).toMatch(/^%PDF-/);
    const pages = pdf.match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
    expect(pages).toBeGreaterThan(4);
    expect(pages).toBeLessThan(14);
    expect(html).toContain(`content: "Job ${digest.job} · LF-07 · code ${shortCode(digest.head)}"`);
  });

  test('runs nothing and loads nothing', () => {
    expect(html).not.toMatch(/<script|https?:|javascript:|\son\w+=/i);
  });
});
