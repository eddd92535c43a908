import '@fontsource/b612/latin-400.css';
import '@fontsource/b612/latin-700.css';
import '@fontsource/b612-mono/latin-700.css';
import { fixture } from '@open-wc/testing';
import { html, type LitElement, type TemplateResult } from 'lit';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { workshop } from '../../seeds/workshop.ts';
import { healthRows } from '../../src/bench/health.ts';
import { ARC_MINUTES, ARM_LENGTH, type Reading, UNSET } from '../../src/bench/optics.ts';
import { planFor, planView } from '../../src/bench/plan.ts';
import '../../src/bench/screens/choose-screen.ts';
import '../../src/bench/screens/finish-screen.ts';
import '../../src/bench/screens/health-screen.ts';
import '../../src/bench/screens/pedal-screen.ts';
import '../../src/bench/screens/planner-screen.ts';
import '../../src/bench/screens/reading-screen.ts';
import '../../src/bench/screens/sign-on-screen.ts';
import { useReading } from '../../src/bench/type-tokens.ts';
import { inBenchType, SCREENS, seenIn } from './type-seen.ts';

/** From how far each screen is read; a part of it that is read from elsewhere has its own distance. */
interface Screen {
  readonly name: string;
  readonly far: boolean;
  /** Parts that are read the other way. */
  readonly but?: string;
  readonly shows: TemplateResult;
  /** Done to the screen before it is looked at. */
  readonly after?: (screen: Element) => unknown;
}

const [machine] = workshop.machines;
if (!machine) throw new Error('No machine.');
const plan = planFor(workshop.machines[1] ?? machine);
const says = 'Point at the closed end of the clip, then at the way the chain runs. The same way.';
const holds = Array.from({ length: 14 }, (_, n) => ({
  station: `s${n}`,
  says,
  opened: 'pedal held 1.4 s',
  by: 'Tomas Reedle',
  witness: n % 3 === 0 ? 'Ilse Marrok' : null,
  at: '10:01:02',
}));
const options = Array.from({ length: 12 }, (_, n) => ({
  text: n === 0 ? 'Start a job' : 'Renew chain and sprockets, Trail machine 4',
  detail: 'station 51 of 102 · since 2026-11-24',
  ...(n === 0 ? {} : { mark: 'Go on:' }),
}));
const unwell = healthRows({
  microphone: { devices: 1, permission: 'denied', tried: null },
  storage: { kept: false, used: 3e6, quota: 5e9 },
  clock: { steps: [], latest: 0, wall: 1 },
  voice: { engine: 'own', callWord: null },
  wake: 'refused',
  full: false,
  offline: 'ready',
  key: { kid: 'abcdEFGH1234', fault: null },
  pedal: { learnt: 0, holds: true },
  line: { state: 'off', learnt: false },
} as Parameters<typeof healthRows>[0]);

const finish = (outcome: string) => html`<hf-finish
  .outcome=${outcome} .machine=${'Trail machine 4'} .jobTitle=${'Renew chain and sprockets'} .holds=${holds}
  .records=${231} .code=${'4f1c 77ab 90de'} .saved=${'LF-04-2026-11-24-5d0b3f52.holdfast.jsonl'} .page=${1}
  .later=${'Look at chain and sprockets again after the first ride.'}></hf-finish>`;

const SCREENS_OF_THE_APP: readonly Screen[] = [
  {
    name: 'planner',
    far: false,
    shows: html`<hf-planner .machine=${'Trail machine 4'} .front=${plan.front} .rear=${plan.rear} .view=${planView(plan)}></hf-planner>`,
  },
  { name: 'finish', far: true, but: '.rows, footer, header p:not(.warn)', shows: finish('complete') },
  {
    name: 'finish of a stopped job',
    far: true,
    but: '.rows, footer, header p:not(.warn)',
    shows: finish('stopped'),
  },
  {
    name: 'pedal',
    far: true,
    but: 'footer, .told, h1',
    shows: html`<hf-pedal .presses=${{ divert: () => undefined }} .settings=${{ pedals: async () => [] }}></hf-pedal>`,
    after: () => new Promise((done) => setTimeout(done, 120)),
  },
  { name: 'bench', far: false, shows: html`<hf-health .rows=${unwell} .at=${2}></hf-health>` },
  { name: 'card', far: false, shows: html`<hf-reading .width=${500}></hf-reading>` },
  {
    name: 'PIN',
    far: false,
    shows: html`<hf-sign-on .person=${'Tomas Reedle'} .typed=${2} .hint=${workshop.hint}></hf-sign-on>`,
  },
  {
    name: 'shelf',
    far: true,
    shows: html`<hf-choose .heading=${'Low Fold Riding School'} .lead=${'2 re-checks are due now.'} .options=${options} .at=${1}></hf-choose>`,
  },
  {
    name: 'list read near',
    far: false,
    shows: html`<hf-choose near .heading=${'Re-check chain and sprockets after the first ride'} .lead=${'Revision 1 · 5da4 ceec f05a · with the app. The look and the readings after the first ride on a new chain and sprockets.'} .options=${options}></hf-choose>`,
  },
];

beforeAll(async () => {
  await inBenchType();
});
afterAll(() => useReading(UNSET));

describe.each(SCREENS)('$name', ({ width, height, inch }) => {
  describe.each([1000, 2000, 3000])('set for %i mm', (distance) => {
    test.each(SCREENS_OF_THE_APP)(
      '$name: nothing under 16 minutes of arc where it is read, nothing cut off',
      async ({ far, but, shows, after }) => {
        await page.viewport(width, height);
        const reading: Reading = { distance, pixelsPerMm: inch / 25.4 };
        const near: Reading = { ...reading, distance: Math.min(distance, ARM_LENGTH) };
        useReading(reading);
        const holder = await fixture<HTMLElement>(
          html`<div style="position: fixed; inset: 0">${shows}</div>`,
        );
        const screen = holder.firstElementChild as LitElement;
        await screen.updateComplete;
        await after?.(screen);
        await screen.updateComplete;
        const root = screen.shadowRoot;
        if (!root) throw new Error('No screen.');
        const faults: string[] = [];
        for (const child of root.children) {
          const away = but !== undefined && child.matches(but);
          const parts = but === undefined || away ? [] : [...child.querySelectorAll(but)];
          for (const seen of seenIn(child, far === away ? near : reading)) {
            const other = parts.some((part) => part.textContent.includes(seen.text));
            const minutes =
              other && far !== away ? (seen.minutes * reading.distance) / near.distance : seen.minutes;
            if (minutes < ARC_MINUTES.least - 0.05) faults.push(`${minutes.toFixed(1)}′ ${seen.text}`);
            if (seen.cut) faults.push(`cut off: ${seen.text}`);
          }
          const box = child.getBoundingClientRect();
          if (box.height > 0 && (box.bottom > height + 1.5 || box.right > width + 1.5))
            faults.push(
              `out of the window: ${child.localName} to ${box.right.toFixed(0)}, ${box.bottom.toFixed(0)}`,
            );
        }
        expect(faults).toEqual([]);
      },
    );
  });
});
