import { expect as chai, fixture, html } from '@open-wc/testing';
import { beforeEach, describe, expect, test } from 'vitest';
import type { Option } from '../../src/bench/parts/options.ts';
import '../../src/bench/screens/choose-screen.ts';
import '../../src/bench/screens/finish-screen.ts';
import type { FinishScreen } from '../../src/bench/screens/finish-screen.ts';
import type { LogSaid } from '../../src/bench/sealing.dom.ts';
import '../../src/bench/screens/pedal-screen.ts';
import type { PedalScreen } from '../../src/bench/screens/pedal-screen.ts';
import '../../src/bench/screens/sign-on-screen.ts';
import { useTheme } from '../../src/bench/type-tokens.ts';
import { holdEvidence, shortCode } from '../../src/job/story.ts';
import { defaultLayout, type Pedal } from '../../src/press/layout.ts';
import { presses } from '../../src/press/presses.dom.ts';
import type { StrokeSink } from '../../src/press/source.ts';
import { doRight, jobAt } from './bench-job.ts';
import { drawn, unreadable, windowOf } from './bench-sight.ts';

/** A screen over the whole window. */
async function whole<T extends HTMLElement>(content: unknown, name: string): Promise<T> {
  const holder = await fixture<HTMLElement>(html`<div style="position: fixed; inset: 0">${content}</div>`);
  const screen = holder.querySelector<T>(name);
  if (!screen) throw new Error(name);
  await (screen as unknown as { updateComplete: Promise<unknown> }).updateComplete;
  return screen;
}

const inside = (screen: HTMLElement): ShadowRoot => {
  if (!screen.shadowRoot) throw new Error('Nothing inside.');
  return screen.shadowRoot;
};

const unread = (screen: HTMLElement) => [...inside(screen).children].flatMap((part) => unreadable(part));

/** The sample's job, really done to its end. */
function finished() {
  let state = jobAt('torque');
  while (state.snapshot.outcome === 'open') state = doRight(state, 'ada');
  return state;
}

const SIZES = [
  [1280, 800],
  [800, 1280],
] as const;
const THEMES = ['light', 'dark'] as const;

beforeEach(async () => {
  useTheme('light');
  await windowOf(1280, 800);
});

describe('a list', () => {
  const jobs: Option[] = Array.from({ length: 14 }, (_, n) => ({
    text: `Renew chain and sprockets, school machine ${n + 1}`,
    detail: `station ${n + 1} of 102`,
    ...(n === 0 ? { mark: 'Go on:' } : {}),
  }));
  const list = (options: readonly Option[], at: number, fault: string | null = null) =>
    whole(
      html`<hf-choose .heading=${'Which job?'} .lead=${'Low Fold Riding School'} .options=${options} .at=${at} .fault=${fault}></hf-choose>`,
      'hf-choose',
    );

  test('numbers its lines, lights one, and says how to take it', async () => {
    const screen = await list(jobs.slice(0, 3), 1);
    const root = inside(screen);
    expect(drawn(root, 'h1')).toEqual(['Which job?']);
    expect(drawn(root, '.options .number')).toEqual(['1', '2', '3']);
    expect(drawn(root, '.options [aria-current=true] .text')[0]).toContain('school machine 2');
    expect(drawn(root, '.options .text')[0]).toMatch(/^Go on: /);
    expect(drawn(root, 'footer kbd')).toEqual(expect.arrayContaining(['tap', 'Esc']));
  });

  test('one that is longer than the screen always shows the lit line, and says how many there are besides', async () => {
    for (const at of [0, 6, 13]) {
      const screen = await list(jobs, at);
      const root = inside(screen);
      const shown = drawn(root, '.options li');
      expect(shown.length).toBeLessThan(jobs.length);
      expect(drawn(root, '.options [aria-current=true] .text')[0], `line ${at}`).toContain(
        `machine ${at + 1}`,
      );
      const { before = '', after = '' } = root.querySelector<HTMLElement>('.options')?.dataset ?? {};
      const more = [before, after].map((text) => Number(/\d+/.exec(text)?.[0] ?? 0));
      expect((more[0] ?? 0) + (more[1] ?? 0) + shown.length).toBe(jobs.length);
    }
  });

  test('a finger takes the line that it touches', async () => {
    const screen = await list(jobs.slice(0, 3), 0);
    const taken: number[] = [];
    screen.addEventListener('taken', (event) => taken.push((event as CustomEvent<number>).detail));
    inside(screen).querySelectorAll<HTMLElement>('.options .text')[2]?.click();
    inside(screen).querySelector<HTMLElement>('h1')?.click();
    expect(taken).toEqual([2]);
  });

  test('what went wrong is said at its foot', async () => {
    const screen = await list(jobs.slice(0, 2), 0, 'That is not the badge of Ada.');
    expect(drawn(inside(screen), '[role=alert]')).toEqual(['That is not the badge of Ada.']);
  });

  test.each(SIZES)('%i × %i: nothing is cut off', async (width, height) => {
    await windowOf(width, height);
    expect(unread(await list(jobs, 3, 'The calibration of TW-1 lapsed: take another one.'))).toEqual([]);
  });

  test.each(THEMES)('accessible, %s', async (theme) => {
    useTheme(theme);
    await chai(await list(jobs, 3, 'That is not a badge.')).to.be.accessible();
  });
});

describe('the end of a job', () => {
  const state = finished();
  const holds = holdEvidence(state);
  const last = state.records[state.records.length - 1];
  const end = (outcome: string, code: string | null, saved: string | null = null) =>
    whole(
      html`<hf-finish
        .outcome=${outcome} .machine=${'Machine 1'} .jobTitle=${'Sample'} .holds=${holds}
        .records=${state.records.length} .code=${code} .saved=${saved}
        .later=${outcome === 'complete' ? 'After the first ride: check slack and torque.' : null}
      ></hf-finish>`,
      'hf-finish',
    );
  const code = shortCode(last?.hash ?? '');

  test('each hold point with what opened it, the code of the seal, and what comes later', async () => {
    const root = inside(await end('complete', code));
    expect(drawn(root, 'h1')).toEqual(['✓ Complete']);
    const rows = drawn(root, 'tbody tr');
    expect(rows).toHaveLength(2);
    expect(rows[0]).toMatch(/open end must trail.*“open end trails”.*Ada/);
    expect(rows[1]).toMatch(/Tighten the axle nut.*90.* N·m with T1.*Ada/);
    expect(drawn(root, '.code')).toEqual([code]);
    expect(code).toMatch(/^[0-9a-f]{4} [0-9a-f]{4} [0-9a-f]{4}$/);
    expect(drawn(root, '.after')).toEqual(['After the first ride: check slack and torque.']);
  });

  test('until it is sealed, that it is being sealed; when it was saved, under which name', async () => {
    expect(drawn(inside(await end('complete', null)), 'footer')[0]).toContain('Sealing the record');
    const saved = inside(await end('complete', code, 'M-1-2026-11-25-0b0e4a52.holdfast.jsonl'));
    expect(drawn(saved, '[role=status]')).toEqual(['Saved as M-1-2026-11-25-0b0e4a52.holdfast.jsonl']);
  });

  const withLog = (log: LogSaid) =>
    whole<FinishScreen>(
      html`<hf-finish .machine=${'Machine 1'} .jobTitle=${'Sample'} .holds=${holds} .records=${42} .code=${code} .log=${log}></hf-finish>`,
      'hf-finish',
    );
  const changed: LogSaid = {
    code: '12 · 0123 4567 89ab',
    says: [2, 5, 9].map((place) => `Seal ${place} of the log is gone: job ${place} was removed.`),
  };

  test('the code of the log of seals, and no warning when its past is as it was', async () => {
    const root = inside(await withLog({ code: '12 · 0123 4567 89ab', says: [] }));
    expect(drawn(root, '.root')).toEqual(['12 · 0123 4567 89ab']);
    expect(drawn(root, '[role=alert]')).toEqual([]);
  });

  test('a log whose past was changed is said aloud; one that could not be written has no code', async () => {
    const [alert] = drawn(inside(await withLog(changed)), '[role=alert]');
    expect(alert).toContain('The past of the log of seals was changed');
    expect(alert).toContain('Seal 2 of the log is gone');
    expect(alert).toContain('And 2 more.');
    const unwritten = inside(await withLog({ code: null, says: ['The log could not be written.'] }));
    expect(drawn(unwritten, '.root')).toEqual([]);
    expect(drawn(unwritten, '[role=alert]')).toEqual(['The log could not be written.']);
  });

  test.each(SIZES)('%i × %i: a changed log cuts nothing off', async (width, height) => {
    await windowOf(width, height);
    expect(unread(await withLog(changed))).toEqual([]);
  });

  test.each(THEMES)('a changed log is accessible, %s', async (theme) => {
    useTheme(theme);
    await chai(await withLog(changed)).to.be.accessible();
  });

  test('a job that was stopped says that nobody may ride, and looks otherwise', async () => {
    const stopped = inside(await end('stopped', code));
    expect(drawn(stopped, 'h1')).toEqual(['✕ Stopped']);
    expect(drawn(stopped, 'header p').join(' ')).toContain('Mark the machine so that nobody rides it.');
    expect(drawn(stopped, '.after')).toEqual([]);
    const colour = (root: ShadowRoot) =>
      getComputedStyle(root.querySelector('h1 span') ?? document.body).color;
    expect(colour(stopped)).not.toBe(colour(inside(await end('complete', code))));
  });

  test.each(SIZES)('%i × %i: nothing is cut off', async (width, height) => {
    await windowOf(width, height);
    expect(unread(await end('stopped', code, 'M-1-2026-11-25-0b0e4a52.holdfast.jsonl'))).toEqual([]);
  });

  test.each(THEMES)('accessible, %s', async (theme) => {
    useTheme(theme);
    await chai(await end('complete', code)).to.be.accessible();
  });
});

describe('the end of a job with more hold points than there is room for', () => {
  const holds = Array.from({ length: 22 }, (_, n) => ({
    station: `hold${n}`,
    says: `Hold point number ${n + 1}: look at it from both sides.`,
    opened: 'pedal held 1.4 s',
    by: 'Ada',
    witness: 'Cyd',
    at: '09:00:00',
  }));
  const end = (page: number) =>
    whole<FinishScreen>(
      html`<hf-finish .machine=${'Machine 1'} .jobTitle=${'Sample'} .holds=${holds} .records=${300} .code=${'0123 4567 89ab'} .page=${page}></hf-finish>`,
      'hf-finish',
    );
  const inSight = (screen: HTMLElement) => {
    const room = inside(screen).querySelector('.rows')?.getBoundingClientRect();
    return [...inside(screen).querySelectorAll('tbody tr')].flatMap((row, at) => {
      const box = row.getBoundingClientRect();
      return room && box.top >= room.top - 1 && box.bottom <= room.bottom + 1 ? [at] : [];
    });
  };

  test('all of them come into sight by pressing back, and then the first again', async () => {
    const screen = await end(0);
    expect(drawn(inside(screen), '.more')).toEqual(['backmore hold points']);
    const first = inSight(screen);
    expect(first[0]).toBe(0);
    const seen = new Set(first);
    for (let page = 1; page < 30 && seen.size < holds.length; page++) {
      screen.page = page;
      await screen.updateComplete;
      for (const at of inSight(screen)) seen.add(at);
    }
    expect([...seen].sort((a, b) => a - b)).toEqual(holds.map((_, at) => at));
    for (let page = 2; page < 30 && inSight(screen)[0] !== 0; page++) {
      screen.page = page;
      await screen.updateComplete;
    }
    expect(inSight(screen)).toEqual(first);
  });

  test.each(THEMES)('accessible, %s', async (theme) => {
    useTheme(theme);
    await chai(await end(0)).to.be.accessible();
  });
});

describe('signing on', () => {
  const ask = (typed: number, fault: string | null = null) =>
    whole(
      html`<hf-sign-on .person=${'Ada'} .typed=${typed} .fault=${fault} .hint=${'Demo workshop: Ada 1111.'}></hf-sign-on>`,
      'hf-sign-on',
    );

  test('asks one person, shows how many digits were typed and never which', async () => {
    const root = inside(await ask(3));
    expect(drawn(root, '.who')).toEqual(['Ada, your PIN']);
    expect(root.querySelectorAll('.dots .given')).toHaveLength(3);
    expect(root.querySelector('.dots')?.textContent?.trim()).toBe('');
    expect(drawn(inside(await ask(0, 'That is not the PIN.')), '[role=alert]')).toEqual([
      'That is not the PIN.',
    ]);
  });

  test.each(THEMES)('accessible, %s', async (theme) => {
    useTheme(theme);
    await chai(await ask(2, 'That is not the PIN.')).to.be.accessible();
  });
});

describe('setting up a pedal', () => {
  /** Strokes as a pedal makes them, given at the edge where the window's keys come in. */
  async function pedal() {
    let sink: StrokeSink | null = null;
    const source = presses(
      defaultLayout,
      () => undefined,
      () => [
        (given) => {
          sink = given;
          return () => undefined;
        },
      ],
    );
    const kept: (readonly Pedal[])[] = [];
    const settings = {
      workshop: async () => undefined,
      keepWorkshop: async () => undefined,
      pedals: async () => [],
      keepPedals: async (pedals: readonly Pedal[]) => void kept.push(pedals),
    };
    const screen = await whole<PedalScreen>(
      html`<hf-pedal .presses=${source} .settings=${settings}></hf-pedal>`,
      'hf-pedal',
    );
    const pass = (ms: number) => new Promise((done) => setTimeout(done, ms));
    const stroke = (phase: 'down' | 'up') =>
      sink?.stroke({
        phase,
        code: 'F14',
        key: 'F14',
        at: performance.now(),
        repeat: false,
        chord: false,
        shift: false,
      });
    const press = async (ms: number) => {
      stroke('down');
      await pass(ms);
      stroke('up');
      await pass(250);
    };
    for (let tries = 0; drawn(inside(screen), '.ask p').length === 0 && tries < 50; tries++) await pass(20);
    return { screen, press, pass, kept, stop: () => source.stop() };
  }

  test('asks for presses, shows how far it has come, and keeps what it learnt', async () => {
    const { screen, press, pass, kept, stop } = await pedal();
    const root = inside(screen);
    expect(drawn(root, 'h1')[0]).toMatch(/^Set up /);
    expect(root.querySelector('.taps')?.getAttribute('aria-label')).toBe('0 of 3 taps');
    for (let tap = 1; tap <= 3; tap++) {
      await press(90);
      expect(root.querySelectorAll('.taps .done').length).toBe(root.querySelector('.taps') ? tap : 0);
    }
    for (let tries = 0; !root.querySelector('.bar') && tries < 60; tries++) await pass(50);
    expect(root.querySelector('.bar')?.getAttribute('role')).toBe('progressbar');
    await press(2300);
    for (let tries = 0; kept.length === 0 && tries < 60; tries++) await pass(50);
    expect(kept[0]).toEqual([expect.objectContaining({ code: 'F14', role: 'go' })]);
    expect(kept[0]?.[0]?.traits.holds).toBe(true);
    await chai(screen).to.be.accessible();
    stop();
  });

  test('Escape leaves it as it is', async () => {
    const { screen, stop } = await pedal();
    let left = 0;
    screen.addEventListener('left', () => left++);
    expect(drawn(inside(screen), 'footer')[0]).toMatch(/Esc leave it as it is/);
    expect(left).toBe(0);
    stop();
  });

  test.each(SIZES)('%i × %i: nothing is cut off', async (width, height) => {
    await windowOf(width, height);
    const { screen, stop } = await pedal();
    expect(unread(screen)).toEqual([]);
    stop();
  });
});
