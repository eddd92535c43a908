import { expect as chai, fixture, html } from '@open-wc/testing';
import { afterEach, describe, expect, test } from 'vitest';
import { askToKeep, browserFacts, latestMoment } from '../../src/bench/device.dom.ts';
import { type DeviceFacts, healthRows, type Part } from '../../src/bench/health.ts';
import '../../src/bench/screens/health-screen.ts';
import type { HealthScreen } from '../../src/bench/screens/health-screen.ts';
import { keepAwake, type Wake } from '../../src/bench/wake.dom.ts';
import { IdbJournalStore } from '../../src/journal/store.dom.ts';
import { record, records } from '../journal/store-contract.ts';

const NOW = Date.UTC(2026, 4, 4, 12);
const HOUR = 3_600_000;

const well: DeviceFacts = {
  microphone: { devices: 1, permission: 'granted', tried: 'heard' },
  storage: { kept: true, used: 3e6, quota: 5e9 },
  clock: { steps: [], latest: NOW - HOUR, wall: NOW },
  voice: { engine: 'own', callWord: null },
  wake: 'kept',
  full: true,
  offline: 'ready',
  key: { kid: 'abcdEFGH1234', fault: null },
  pedal: { learnt: 1, holds: true },
  line: { state: 'off', learnt: false },
};
const rowOf = (facts: DeviceFacts, part: Part) => {
  const row = healthRows(facts).find((one) => one.part === part);
  if (!row) throw new Error(`No row for ${part}`);
  return row;
};

describe('how each part of the bench stands', () => {
  test('a device that is well is in order in all parts, and nothing is asked for', () => {
    const rows = healthRows(well);
    expect(rows.map(({ verdict }) => verdict)).toEqual(rows.map(() => 'good'));
    expect(rows.every(({ remedy }) => remedy === null)).toBe(true);
  });

  const cases: [string, Part, Partial<DeviceFacts>, 'look' | 'bad', RegExp][] = [
    [
      'microphone forbidden',
      'microphone',
      { microphone: { devices: 1, permission: 'denied', tried: null } },
      'bad',
      /Allow the microphone/,
    ],
    [
      'no microphone',
      'microphone',
      { microphone: { devices: 0, permission: 'granted', tried: null } },
      'bad',
      /Plug one in/,
    ],
    [
      'a microphone that is mute',
      'microphone',
      { microphone: { devices: 1, permission: 'granted', tried: 'silent' } },
      'look',
      /mute switch/,
    ],
    [
      'a microphone that does not open',
      'microphone',
      { microphone: { devices: 1, permission: 'granted', tried: 'failed' } },
      'bad',
      /plug it in again/,
    ],
    [
      'records that may be cleared',
      'storage',
      { storage: { kept: false, used: 1, quota: 5e9 } },
      'look',
      /install the app/,
    ],
    [
      'a browser that does not say',
      'storage',
      { storage: { kept: null, used: null, quota: null } },
      'look',
      /as soon as it is finished/,
    ],
    [
      'hardly any room',
      'storage',
      { storage: { kept: true, used: 99e6, quota: 100e6 } },
      'bad',
      /Save finished records/,
    ],
    [
      'little room',
      'storage',
      { storage: { kept: true, used: 0, quota: 100e6 } },
      'look',
      /Save finished records/,
    ],
    [
      'a clock behind the records',
      'clock',
      { clock: { steps: [], latest: NOW + HOUR, wall: NOW } },
      'bad',
      /go on from the time of their last record/,
    ],
    [
      'a clock that was set back',
      'clock',
      { clock: { steps: [{ ms: -HOUR, at: NOW }], latest: null, wall: NOW } },
      'look',
      /another clock/,
    ],
    [
      'a device that slept',
      'clock',
      { clock: { steps: [{ ms: HOUR, at: NOW }], latest: null, wall: NOW } },
      'look',
      /Switch off the sleep/,
    ],
    [
      'sound that goes away',
      'voice',
      { voice: { engine: 'server', callWord: null } },
      'look',
      /engine of this app/,
    ],
    ['a screen that may go dark', 'wake', { wake: 'lost' }, 'look', /never to switch its screen off/],
    ['a wake lock refused', 'wake', { wake: 'refused' }, 'look', /never to switch its screen off/],
    ['a window', 'full', { full: false }, 'look', /Use all of it/],
    ['no app on the device', 'offline', { offline: 'failed' }, 'bad', /by https/],
    ['no key', 'key', { key: { kid: null, fault: 'The browser gives no keys.' } }, 'bad', /by https/],
    ['no pedal', 'pedal', { pedal: { learnt: 0, holds: false } }, 'look', /three taps/],
    [
      'a pedal that cannot hold',
      'pedal',
      { pedal: { learnt: 1, holds: false } },
      'look',
      /with a key or by voice/,
    ],
    ['a gauge that is gone', 'line', { line: { state: 'gone', learnt: true } }, 'bad', /Plug it in again/],
    ['a gauge not understood', 'line', { line: { state: 'open', learnt: false } }, 'look', /one reading/],
  ];
  test.each(cases)('%s is told with a remedy', (_, part, facts, verdict, remedy) => {
    const row = rowOf({ ...well, ...facts }, part);
    expect(row.verdict).toBe(verdict);
    expect(row.remedy).toMatch(remedy);
    // And it spoils no other line.
    const others = healthRows({ ...well, ...facts }).filter((one) => one.part !== part);
    expect(others.every((one) => one.verdict === 'good')).toBe(true);
  });

  test('the key is told in groups that can be read out', () => {
    expect(rowOf(well, 'key').says).toContain('abcd EFGH 1234');
  });
});

describe('what this browser tells', () => {
  test('of storage and microphones, without asking the person', async () => {
    const facts = await browserFacts();
    expect(facts.storage.quota).toBeGreaterThan(0);
    expect(typeof facts.storage.kept).toBe('boolean');
    expect(['granted', 'denied', 'prompt']).toContain(facts.microphone.permission);
  });

  test('it does not promise to keep the records here: a sentence says what to do', async () => {
    await expect(askToKeep()).rejects.toThrow('install the app on this device, and save each record');
  });

  test('the latest moment of any record, past a journal that cannot be read', async () => {
    const name = `health-${crypto.randomUUID()}`;
    const store = new IdbJournalStore(name);
    expect(await latestMoment(store)).toBeNull();
    for (const one of records.slice(0, 3)) await store.append(one);
    expect(await latestMoment(store)).toBe(Date.parse(record(2).at));
    store.close();
  });
});

describe('the screen stays on', () => {
  let wake: Wake | null = null;
  afterEach(() => wake?.stop());

  /** A lock that the test gives and takes: the device's own power settings are out of reach here. */
  function device() {
    const given: EventTarget[] = [];
    let refuse = false;
    return {
      given,
      refuse: (on: boolean) => {
        refuse = on;
      },
      lock: {
        async request() {
          if (refuse) throw new DOMException('Low battery.', 'NotAllowedError');
          const sentinel = Object.assign(new EventTarget(), {
            released: false,
            async release() {
              sentinel.released = true;
              sentinel.dispatchEvent(new Event('release'));
            },
          });
          given.push(sentinel);
          return sentinel as unknown as WakeLockSentinel;
        },
      },
    };
  }
  const take = (sentinel: EventTarget | undefined) => (sentinel as unknown as WakeLockSentinel).release();

  test('taken away it says so, and is asked for again when the page comes back into view', async () => {
    const { given, lock } = device();
    let changes = 0;
    wake = keepAwake(() => changes++, lock);
    await expect.poll(() => wake?.state).toBe('kept');
    await take(given[0]);
    expect(wake.state).toBe('lost');
    document.dispatchEvent(new Event('visibilitychange'));
    await expect.poll(() => wake?.state).toBe('kept');
    expect([given.length, changes]).toEqual([2, 3]);
  });

  test('kept, it is not asked for twice', async () => {
    const { given, lock } = device();
    wake = keepAwake(() => undefined, lock);
    await expect.poll(() => wake?.state).toBe('kept');
    document.dispatchEvent(new Event('visibilitychange'));
    await wake.ask();
    expect(given).toHaveLength(1);
  });

  test('refused, and later granted when asked', async () => {
    const { refuse, lock } = device();
    refuse(true);
    wake = keepAwake(() => undefined, lock);
    await expect.poll(() => wake?.state).toBe('refused');
    refuse(false);
    await wake.ask();
    expect(wake.state).toBe('kept');
  });

  test('a browser that cannot says so', () => {
    wake = keepAwake(() => undefined, null);
    expect(wake.state).toBe('none');
  });
});

test('the screen tells of the lit part what to do, by sign and word and not by colour alone, and is accessible', async () => {
  const rows = healthRows({ ...well, wake: 'lost', offline: 'failed' });
  const at = rows.findIndex(({ part }) => part === 'wake');
  const screen = await fixture<HealthScreen>(html`<hf-health .rows=${rows} .at=${at}></hf-health>`);
  const lines = [...(screen.shadowRoot?.querySelectorAll('li') ?? [])];
  expect(lines).toHaveLength(rows.length);
  const text = (part: Part) => lines.find(({ id }) => id === part)?.textContent?.replace(/\s+/g, ' ') ?? '';
  expect(text('wake')).toMatch(
    /!.*Screen stays on.*look at it.*may go dark.*never to switch.*hold down ask again/,
  );
  expect(text('offline')).toMatch(/✕.*Without a network.*not in order/);
  expect(text('clock')).toMatch(/✓.*Clock.*in order/);
  await chai(screen).to.be.accessible();
});
