import type { ClockStep } from '../job/clock.ts';
import { spell } from '../job/return.ts';
import type { LineState } from '../press/serial.dom.ts';
import { GOES_AWAY, type VoiceSetUp } from './ear-state.ts';
import type { OfflineState } from './update.dom.ts';
import type { WakeState } from './wake.dom.ts';

/** What was found out about this device; null where the browser does not tell. */
export interface DeviceFacts {
  readonly microphone: {
    readonly devices: number | null;
    readonly permission: PermissionState | null;
    /** The last try: sound was heard, nothing but silence, or it did not open. */
    readonly tried: 'heard' | 'silent' | 'failed' | null;
  };
  /** `kept`: the browser promised not to clear the records. Bytes. */
  readonly storage: {
    readonly kept: boolean | null;
    readonly used: number | null;
    readonly quota: number | null;
  };
  readonly clock: {
    readonly steps: readonly ClockStep[];
    /** Latest moment in any record on this bench, and the wall clock, ms since 1970. */
    readonly latest: number | null;
    readonly wall: number;
  };
  readonly voice: VoiceSetUp;
  readonly wake: WakeState;
  /** null: this browser shows no full screen. */
  readonly full: boolean | null;
  readonly offline: OfflineState;
  readonly key: { readonly kid: string | null; readonly fault: string | null };
  readonly pedal: { readonly learnt: number; readonly holds: boolean };
  readonly line: { readonly state: LineState; readonly learnt: boolean };
}

export type Part =
  | 'microphone'
  | 'voice'
  | 'storage'
  | 'clock'
  | 'wake'
  | 'full'
  | 'offline'
  | 'key'
  | 'pedal'
  | 'line';
export type Verdict = 'good' | 'look' | 'bad';

/** One line of the set-up screen: how it stands, what to do about it, and what taking the line does. */
export interface HealthRow {
  readonly part: Part;
  readonly name: string;
  readonly verdict: Verdict;
  readonly says: string;
  readonly remedy: string | null;
  readonly act: string | null;
}

const MB = 1_000_000;
/** With less free space than this, bytes, photos may soon not fit; with less than the second, records may not. Our own choice. */
const LITTLE_FREE = 200 * MB;
const NO_FREE = 20 * MB;
/** A record from further ahead than this, ms, means that the clock was wrong then or is wrong now. Our own choice. */
const AHEAD_MS = 5000;

type Judged = Omit<HealthRow, 'part' | 'name'>;
const good = (says: string, act: string | null = null): Judged => ({
  verdict: 'good',
  says,
  remedy: null,
  act,
});
const look = (says: string, remedy: string, act: string | null = null): Judged => ({
  verdict: 'look',
  says,
  remedy,
  act,
});
const bad = (says: string, remedy: string, act: string | null = null): Judged => ({
  verdict: 'bad',
  says,
  remedy,
  act,
});

function microphone({ devices, permission, tried }: DeviceFacts['microphone']): Judged {
  const act = 'try it: speak for two seconds';
  if (permission === 'denied')
    return bad(
      'The browser does not let this app listen.',
      'Allow the microphone in the browser’s settings for this address. Until then: pedal and keys.',
    );
  if (devices === 0)
    return bad('There is no microphone.', 'Plug one in and look again. Until then: pedal and keys.', act);
  if (tried === 'failed')
    return bad(
      'The microphone did not open.',
      'Unplug it and plug it in again, and close other programs that use it.',
      act,
    );
  if (tried === 'silent')
    return look(
      'The microphone is open and hears nothing.',
      'Look for a mute switch, and whether the right microphone is chosen in the system.',
      act,
    );
  if (tried === 'heard') return good('The microphone hears you.', act);
  return look('The microphone was not tried yet.', 'Try it before the first job.', act);
}

function voice({ engine, callWord }: VoiceSetUp): Judged {
  const act = 'teach a voice, measure the shop, call word, engine';
  const call = callWord === null ? '' : ` Ordinary words count after “${callWord}”.`;
  if (engine === 'server')
    return look(`${GOES_AWAY}${call}`, 'Choose the engine of this app to keep it on this device.', act);
  return good(`What is said is heard on this device and stays on it.${call}`, act);
}

const megabytes = (bytes: number) =>
  bytes >= 1000 * MB ? `${(bytes / (1000 * MB)).toFixed(1)} GB` : `${Math.round(bytes / MB)} MB`;

function storage({ kept, used, quota }: DeviceFacts['storage']): Judged {
  const free = used === null || quota === null ? null : Math.max(0, quota - used);
  const space = free === null ? '' : ` ${megabytes(used ?? 0)} are used, ${megabytes(free)} are free.`;
  if (free !== null && free < NO_FREE)
    return bad(
      `There is hardly any room left.${space}`,
      'Save finished records, then remove what this device does not need.',
    );
  if (kept === null)
    return look(
      `This browser does not say whether it keeps records.${space}`,
      'Save the record of each job as soon as it is finished.',
    );
  if (!kept)
    return look(
      `The browser has not promised to keep the records.${space}`,
      'Ask it to, or install the app on this device; save the record of each job as soon as it is finished.',
      'ask the browser to keep them',
    );
  if (free !== null && free < LITTLE_FREE)
    return look(
      `Records are kept; room is getting short.${space}`,
      'Save finished records, then remove what this device does not need.',
    );
  return good(`The browser keeps the records.${space}`);
}

function clock({ steps, latest, wall }: DeviceFacts['clock']): Judged {
  const remedy = 'Compare it with another clock and set it right; the network can do that by itself.';
  if (latest !== null && latest - wall > AHEAD_MS)
    return bad(
      `The clock stands ${spell(latest - wall)} before the latest record: it was wrong then, or is now.`,
      `${remedy} Open jobs go on from the time of their last record.`,
    );
  const step = steps[steps.length - 1];
  if (!step) return good('The clock runs evenly and is not behind any record.');
  return step.ms < 0
    ? look(`The clock was set back by ${spell(-step.ms)} while the app ran.`, remedy)
    : look(
        `The clock went forward by ${spell(step.ms)} at once: it was set, or the device slept.`,
        `${remedy} Switch off the sleep of this device while it is at the bench.`,
      );
}

function wake(state: WakeState): Judged {
  const remedy = 'Set the device itself never to switch its screen off while it is plugged in.';
  switch (state) {
    case 'kept':
      return good('The screen stays on.');
    case 'lost':
      return look('The screen may go dark: the device took the promise back.', remedy, 'ask again');
    case 'refused':
      return look(
        'The device does not promise to keep the screen on: is its battery low?',
        remedy,
        'ask again',
      );
    case 'none':
      return look('This browser cannot keep the screen on.', remedy);
  }
}

function full(on: boolean | null): Judged {
  if (on === null)
    return look('This browser shows no full screen.', 'Install the app on this device: it then opens full.');
  return on
    ? good('The app fills the screen.', 'leave full screen')
    : look(
        'The browser takes part of the screen.',
        'Use all of it: the type grows with it.',
        'fill the screen',
      );
}

function offline(state: OfflineState): Judged {
  switch (state) {
    case 'ready':
      return good('The app is on this device and starts without a network.', 'look for a new version');
    case 'waiting':
      return good('The app is on this device. A new version is here too and comes in when no job is open.');
    case 'fetching':
      return look('The app is being put on this device.', 'Leave it open with the network for a minute.');
    case 'failed':
      return bad(
        'The app could not be put on this device: without a network it will not start.',
        'Open it once by https, or on this device itself, with the network; then look again.',
      );
    case 'off':
      return bad(
        'This browser keeps no app on the device: without a network it will not start.',
        'Use a browser that can, and open the app by https or on this device itself.',
      );
  }
}

const grouped = (kid: string) => (kid.match(/.{1,4}/g) ?? []).join(' ');

function key({ kid, fault }: DeviceFacts['key']): Judged {
  if (kid === null)
    return bad(
      fault ?? 'This device has no key to sign records with.',
      'Open the app by https, or on this device.',
    );
  return good(
    `This device signs with the key ${grouped(kid)}. To enrol it, save it and give it to verify with --keys.`,
    'save the public key',
  );
}

function pedal({ learnt, holds }: DeviceFacts['pedal']): Judged {
  const act = 'set up the pedal';
  if (learnt === 0)
    return look('No pedal was set up; keys work.', 'Set it up in three taps and one long press.', act);
  return holds
    ? good(
        learnt === 1 ? 'The pedal is set up and can open hold points.' : `${learnt} pedals are set up.`,
        act,
      )
    : look(
        'The pedal sends only short strokes: it goes on, but cannot open a hold point.',
        'Open hold points with a key or by voice, or use a pedal that reports how long it is down.',
        act,
      );
}

function line({ state, learnt }: DeviceFacts['line']): Judged {
  const act = 'set up a gauge';
  switch (state) {
    case 'none':
      return good('This browser listens to no serial line. Gauges that type work all the same.');
    case 'off':
      return good('No gauge is connected by a serial line. Gauges that type work all the same.', act);
    case 'gone':
      return bad('The gauge is gone.', 'Plug it in again, and close other programs that use it.', act);
    case 'open':
      return learnt
        ? good('The gauge is connected; its figures are read back before they count.', act)
        : look('A gauge is connected, and its lines are not understood yet.', 'Show it one reading.', act);
  }
}

/** The lines of the set-up screen. Pure. */
export function healthRows(facts: DeviceFacts): HealthRow[] {
  return [
    { part: 'storage', name: 'Records', ...storage(facts.storage) },
    { part: 'clock', name: 'Clock', ...clock(facts.clock) },
    { part: 'microphone', name: 'Microphone', ...microphone(facts.microphone) },
    { part: 'voice', name: 'Voice', ...voice(facts.voice) },
    { part: 'pedal', name: 'Pedal', ...pedal(facts.pedal) },
    { part: 'wake', name: 'Screen stays on', ...wake(facts.wake) },
    { part: 'full', name: 'Full screen', ...full(facts.full) },
    { part: 'offline', name: 'Without a network', ...offline(facts.offline) },
    { part: 'key', name: 'Signing key', ...key(facts.key) },
    { part: 'line', name: 'Gauge on a line', ...line(facts.line) },
  ];
}
