import { expect as chai, fixture, html } from '@open-wc/testing';
import { beforeAll, describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import finalDrive from '../../procedures/final-drive/index.ts';
import type { ProcedureCertificateScreen } from '../../src/bench/screens/procedure-certificate-screen.ts';
import '../../src/bench/screens/procedure-certificate-screen.ts';
import type { ProcedureChangesScreen } from '../../src/bench/screens/procedure-changes-screen.ts';
import '../../src/bench/screens/procedure-changes-screen.ts';
import type { ProcedureChartScreen } from '../../src/bench/screens/procedure-chart-screen.ts';
import '../../src/bench/screens/procedure-chart-screen.ts';
import type { ProcedureDropScreen } from '../../src/bench/screens/procedure-drop-screen.ts';
import '../../src/bench/screens/procedure-drop-screen.ts';
import type { ProcedurePracticeScreen } from '../../src/bench/screens/procedure-practice-screen.ts';
import '../../src/bench/screens/procedure-practice-screen.ts';
import '../../src/bench/page.css';
import { chartOf } from '../../src/procedure/publish/chart.ts';
import { differences } from '../../src/procedure/publish/diff.ts';
import { revisionOf } from '../../src/procedure/publish/published.ts';
import { seeded } from '../procedure/generate.ts';
import { mutantsOf } from '../procedure/mutants.ts';
import { sample } from '../procedure/sample.ts';

const SIZES = [
  [1280, 800],
  [800, 1280],
] as const;
const THEMES = ['light', 'dark'] as const;
const looks = SIZES.flatMap(([width, height]) => THEMES.map((theme) => ({ width, height, theme })));

async function look({ width, height, theme }: (typeof looks)[number]): Promise<void> {
  await page.viewport(width, height);
  document.documentElement.dataset.theme = theme;
}

const inside = (element: Element) => element.shadowRoot as ShadowRoot;
const all = (element: Element, what: string) => [...inside(element).querySelectorAll<HTMLElement>(what)];
const whole = 'position: fixed; inset: 0; height: 100vh';

/** No text of the screen is cut off at its right edge, and the screen itself does not scroll. */
function fits(element: HTMLElement): void {
  expect(element.scrollWidth).toBeLessThanOrEqual(element.clientWidth + 1);
  expect(element.scrollHeight).toBeLessThanOrEqual(element.clientHeight + 1);
}

describe.each(looks)('$theme, $width × $height', (shown) => {
  beforeAll(() => look(shown));

  test('the chart: accessible, fits, and the outline says every station', async () => {
    const chart = chartOf(finalDrive);
    const screen = await fixture<ProcedureChartScreen>(
      html`<hf-procedure-chart style=${whole} heading="Renew" lead="revision 1" .chart=${chart} .at=${chart.start}></hf-procedure-chart>`,
    );
    await screen.updateComplete;
    await chai(screen).to.be.accessible();
    fits(screen);
    expect(all(screen, 'nav li')).toHaveLength(chart.nodes.length);
    expect(all(screen, '.box')).toHaveLength(chart.nodes.length);
    expect(all(screen, '.line')).toHaveLength(chart.ways.length);
  });

  test('the certificate: accessible, fits, one row for each combination', async () => {
    const { revision } = revisionOf(finalDrive);
    const screen = await fixture<ProcedureCertificateScreen>(
      html`<hf-procedure-certificate style=${whole} .certificate=${revision?.certificate} .says=${{}} .facts=${{}}></hf-procedure-certificate>`,
    );
    await screen.updateComplete;
    await chai(screen).to.be.accessible();
    fits(screen);
    expect(all(screen, 'tbody tr')).toHaveLength(revision?.certificate.rows.length ?? -1);
  });

  test('what changed: accessible, the grave groups marked by more than colour', async () => {
    const [mutant] = mutantsOf(sample, seeded(1)).filter(({ operator }) => operator === 'ask for no witness');
    const found = differences(sample, mutant?.definition ?? sample);
    const screen = await fixture<ProcedureChangesScreen>(
      html`<hf-procedure-changes style=${whole} heading="What changed" lead="" .found=${found}></hf-procedure-changes>`,
    );
    await chai(screen).to.be.accessible();
    fits(screen);
    expect(all(screen, 'section.grave h2').map((one) => one.textContent)).toEqual(['Hold points']);
  });

  test('the frame of a practice: accessible, and it says what it is', async () => {
    const screen = await fixture<ProcedurePracticeScreen>(
      html`<hf-practice style=${whole}><p>a station</p></hf-practice>`,
    );
    await chai(screen).to.be.accessible();
    fits(screen);
    const [band] = all(screen, '.band');
    expect(band?.textContent).toBe('PRACTICE — no record is kept');
    const size = Number.parseFloat(getComputedStyle(band as HTMLElement).fontSize);
    expect(size).toBeGreaterThanOrEqual(24);
  });
});

describe('the chart', () => {
  const chart = chartOf(sample);
  const open = (at: string, parts = {}) =>
    fixture<ProcedureChartScreen>(
      html`<hf-procedure-chart style=${whole} heading="Sample" .chart=${chart} .at=${at} .whole=${'whole' in parts}></hf-procedure-chart>`,
    );

  test('holds are told by a sign, by thickness and by a second frame, and only they', async () => {
    const screen = await open('kit');
    for (const box of all(screen, '.box')) {
      const hold = chart.nodes.find(({ name }) => name === box.dataset.station)?.kind === 'hold';
      expect(box.querySelector('.gate') !== null, box.dataset.station).toBe(hold);
      const width = Number.parseFloat(getComputedStyle(box.querySelector('rect') as Element).strokeWidth);
      if (hold) expect(width).toBeGreaterThan(6);
      else if (box.dataset.station !== 'kit') expect(width).toBeLessThan(4);
    }
  });

  test('ways to and from putting right are dashed, the others are not', async () => {
    const screen = await open('kit');
    const dashes = all(screen, '.line').map((line) => getComputedStyle(line).strokeDasharray !== 'none');
    expect(dashes).toEqual(chart.ways.map(({ dashed }) => dashed));
    expect(dashes.filter(Boolean).length).toBeGreaterThan(3);
  });

  test('the station that is lit is in sight in both, and says where it leads', async () => {
    const screen = await open('kit');
    for (const at of ['torque', 'kit', 'loosen']) {
      screen.at = at;
      await screen.updateComplete;
      const place = inside(screen).querySelector('.drawing')?.getBoundingClientRect();
      const box = inside(screen).querySelector('.box.lit rect')?.getBoundingClientRect();
      const entry = inside(screen).querySelector('button[aria-current]')?.getBoundingClientRect();
      const list = inside(screen).querySelector('nav')?.getBoundingClientRect();
      if (!place || !box || !entry || !list) throw new Error('nothing lit');
      expect(box.top >= place.top - 1 && box.bottom <= place.bottom + 1, at).toBe(true);
      expect(entry.top >= list.top - 1 && entry.bottom <= list.bottom + 1, at).toBe(true);
    }
    expect(inside(screen).querySelector('button[aria-current]')?.textContent).toMatch(
      /then: 11 “Tighten the axle nut\.”/,
    );
  });

  test('every station is reached by Tab and taken by Enter', async () => {
    const screen = await open('kit');
    const picked: string[] = [];
    screen.addEventListener('picked', (event) => picked.push((event as CustomEvent<string>).detail));
    await userEvent.keyboard('{Tab}');
    for (const { name } of chart.nodes) {
      await userEvent.keyboard('{Tab}');
      await userEvent.keyboard('{Enter}');
      expect(picked.at(-1)).toBe(name);
    }
  });

  test('the whole is smaller than what is read', async () => {
    const width = async (parts: object) => {
      const screen = await open('kit', parts);
      screen.requestUpdate();
      await screen.updateComplete;
      return inside(screen).querySelector('.drawing svg')?.clientWidth ?? 0;
    };
    expect(await width({ whole: true })).toBeLessThan(await width({}));
  });
});

test('the certificate shows the way that proves a row, with its holds marked', async () => {
  const { revision } = revisionOf(sample);
  const says = Object.fromEntries(
    Object.entries(sample.states).map(([name, { meta }]) => [name, meta?.say ?? name]),
  );
  const screen = await fixture<ProcedureCertificateScreen>(
    html`<hf-procedure-certificate style=${whole} .certificate=${revision?.certificate} .says=${says} .facts=${{ link: 'Joining link' }}></hf-procedure-certificate>`,
  );
  const holds = () => all(screen, '.path li.hold span').map((one) => one.textContent?.trim());
  expect(holds()).toEqual(['Check the clip: its open end must trail.', 'Tighten the axle nut.']);
  screen.at = 1;
  await screen.updateComplete;
  expect(holds()).toEqual(['Tighten the axle nut.']);
  const cells = all(screen, 'tbody tr').map((row) =>
    [...row.querySelectorAll('td')].map((cell) => cell.textContent),
  );
  expect(cells).toEqual([
    ['●must be passed', '●must be passed', '9'],
    ['·does not apply', '●must be passed', '8'],
  ]);
});

test('a practice is answered by its two buttons and by R and X, and not after its end', async () => {
  const screen = await fixture<ProcedurePracticeScreen>(
    html`<hf-practice style=${whole}><textarea></textarea></hf-practice>`,
  );
  const answers: boolean[] = [];
  screen.addEventListener('answer', (event) => answers.push((event as CustomEvent<boolean>).detail));
  for (const button of all(screen, 'button')) button.click();
  await userEvent.keyboard('r');
  await userEvent.keyboard('X');
  expect(answers).toEqual([true, false, true, false]);
  screen.querySelector('textarea')?.focus();
  await userEvent.keyboard('rx');
  expect(answers).toHaveLength(4);
  screen.querySelector('textarea')?.blur();
  screen.over = true;
  await screen.updateComplete;
  await userEvent.keyboard('r');
  expect(answers).toHaveLength(4);
  expect(all(screen, '.answers').every((one) => !one.checkVisibility())).toBe(true);
});

test('a file that is dropped is handed on, and where it is let go is shown', async () => {
  const screen = await fixture<ProcedureDropScreen>(
    html`<hf-procedure-drop style=${whole}><p>list</p></hf-procedure-drop>`,
  );
  const files: File[] = [];
  screen.addEventListener('file', (event) => files.push((event as CustomEvent<File>).detail));
  const carried = new DataTransfer();
  carried.items.add(new File(['{}'], 'x.procedure.json'));
  screen.dispatchEvent(new DragEvent('dragover', { dataTransfer: carried, cancelable: true }));
  await screen.updateComplete;
  expect(all(screen, '.here')[0]?.checkVisibility()).toBe(true);
  const drop = new DragEvent('drop', { dataTransfer: carried, cancelable: true });
  screen.dispatchEvent(drop);
  await screen.updateComplete;
  expect(drop.defaultPrevented).toBe(true);
  expect(all(screen, '.here')[0]?.checkVisibility()).toBe(false);
  expect(files.map(({ name }) => name)).toEqual(['x.procedure.json']);
  await chai(screen).to.be.accessible();
});
