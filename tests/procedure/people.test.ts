import { describe, expect, test } from 'vitest';
import { checkHolds } from '../../src/journal/holds.ts';
import type { JobInput } from '../../src/procedure/context.ts';
import { openTrouble, passes } from '../../src/procedure/context.ts';
import { decide } from '../../src/procedure/decide.ts';
import type { JobEvent, Stamped } from '../../src/procedure/events.ts';
import { hold, procedure, step } from '../../src/procedure/index.ts';
import { machineFor, type Snapshot } from '../../src/procedure/machine.ts';
import { journalOf } from './journal-of.ts';
import { NOON } from './sample.ts';

const short = procedure({
  id: 'short',
  title: 'Two hold points',
  revision: 1,
  covers: 'For tests only.',
  facts: {},
  figures: {},
  tools: {},
  initial: 'fit',
  states: {
    fit: step({ say: 'Fit the part.', next: 'seated' }),
    seated: hold({
      say: 'Check the seat.',
      phrase: 'part is seated',
      why: 'It walks.',
      witness: 'apprentice',
      concession: true,
      pass: 'locked',
      fail: 'refit',
    }),
    refit: step({ say: 'Seat it.', rework: true, next: 'seated' }),
    locked: hold({
      say: 'Check the lock.',
      phrase: 'lock is closed',
      why: 'It opens.',
      pass: 'complete',
      fail: 'relock',
    }),
    relock: step({ say: 'Close it.', rework: true, next: 'locked' }),
  },
});

const input: JobInput = {
  facts: {},
  figures: {},
  people: [
    { id: 'mec', name: 'Mec', role: 'mechanic', signsOn: true },
    { id: 'app', name: 'App', role: 'apprentice', signsOn: true },
    { id: 'sup', name: 'Sup', role: 'supervisor', signsOn: true },
  ],
  tools: [],
  at: NOON,
};

const press = { kind: 'press', heldMs: 1500 } as const;
const signOn: JobEvent = { type: 'signOn', how: 'pin' };
const MINUTE = 60_000;

function player() {
  const machine = machineFor(short);
  let snapshot: Snapshot = machine.start(input);
  let at = NOON;
  const told: { event: Stamped; outcome: 'accepted' | 'refused'; code?: string; station: string }[] = [];
  const does = (event: JobEvent, by: string, later = 1000) => {
    at += later;
    const stamped = { ...event, at, by, via: 'keys' } as Stamped;
    const decision = decide(machine, snapshot, stamped);
    snapshot = decision.snapshot;
    const code = decision.outcome === 'refused' ? decision.reason.code : undefined;
    told.push({
      event: stamped,
      outcome: decision.outcome,
      station: snapshot.station,
      ...(code ? { code } : {}),
    });
    return code ?? snapshot.station;
  };
  return { does, told, now: () => snapshot };
}

describe('sign-on', () => {
  test('comes before the work, and anew before witnessing; stopping and notes need none', () => {
    const { does } = player();
    expect(does({ type: 'advance' }, 'app')).toBe('sign-on-needed');
    expect(does({ type: 'note', says: 'The stand wobbles.' }, 'app')).toBe('fit');
    expect(does(signOn, 'app')).toBe('fit');
    expect(does({ type: 'advance' }, 'app')).toBe('seated');
    expect(does(signOn, 'mec')).toBe('seated');
    expect(does({ type: 'confirm', evidence: press }, 'app', 11 * MINUTE)).toBe('seated');
    expect(does({ type: 'witness', evidence: press }, 'mec')).toBe('sign-on-stale');
    expect(does(signOn, 'mec')).toBe('seated');
    expect(does({ type: 'witness', evidence: press }, 'mec')).toBe('locked');
  });

  test('lasts a shift', () => {
    const { does } = player();
    does(signOn, 'mec');
    expect(does({ type: 'advance' }, 'mec', 13 * 60 * MINUTE)).toBe('sign-on-stale');
    expect(does(signOn, 'mec')).toBe('fit');
    expect(does({ type: 'advance' }, 'mec')).toBe('seated');
  });

  test('handing over needs the one who takes over to have signed on', () => {
    const { does, now } = player();
    does(signOn, 'mec');
    expect(does({ type: 'handOver', to: 'app' }, 'mec')).toBe('sign-on-needed');
    does(signOn, 'app');
    expect(does({ type: 'handOver', to: 'nobody' }, 'mec')).toBe('person-unknown');
    expect(does({ type: 'handOver', to: 'app' }, 'mec')).toBe('fit');
    expect(now().context.worker).toBe('app');
  });
});

describe('trouble', () => {
  const inTrouble = () => {
    const p = player();
    p.does(signOn, 'mec');
    p.does({ type: 'advance' }, 'mec');
    expect(p.does({ type: 'trouble', says: '' }, 'mec')).toBe('reason-needed');
    expect(p.does({ type: 'trouble', says: 'The seat is scored.' }, 'mec')).toBe('seated');
    return p;
  };

  test('stops everything until it is decided', () => {
    const { does, now } = inTrouble();
    expect(does({ type: 'confirm', evidence: press }, 'mec')).toBe('trouble-open');
    expect(does({ type: 'open', station: 'fit' }, 'mec')).toBe('trouble-open');
    expect(does({ type: 'fail' }, 'mec')).toBe('trouble-open');
    const photo = {
      type: 'attach',
      kind: 'photo',
      sha256: 'a'.repeat(64),
      bytes: 9,
      media: 'image/jpeg',
    } as const;
    expect(does({ ...photo, sha256: 'A' }, 'mec')).toBe('attachment-unusable');
    expect(does(photo, 'mec')).toBe('seated');
    expect(openTrouble(now().context)?.attached).toHaveLength(1);
    expect(does({ type: 'decide', decision: 'rework', station: 'locked', says: 'Again.' }, 'mec')).toBe(
      'return-not-visited',
    );
    expect(does({ type: 'decide', decision: 'rework', station: 'fit', says: '' }, 'mec')).toBe(
      'reason-needed',
    );
    expect(does({ type: 'decide', decision: 'rework', station: 'fit', says: 'New part.' }, 'mec')).toBe(
      'fit',
    );
    expect(openTrouble(now().context)).toBeNull();
    expect(does({ type: 'decide', decision: 'rework', station: 'fit', says: 'x' }, 'mec')).toBe(
      'trouble-needed',
    );
  });

  test('a concession needs the supervisor, a reason and a hold that allows one; the hold stays conceded', () => {
    const { does, now, told } = inTrouble();
    const concede = { type: 'decide', decision: 'concession', says: 'Within the old limit.' } as const;
    expect(does(concede, 'mec')).toBe('not-authorised');
    expect(does(concede, 'sup')).toBe('sign-on-needed');
    does(signOn, 'sup');
    expect(does({ ...concede, says: ' ' }, 'sup')).toBe('reason-needed');
    expect(does(concede, 'sup')).toBe('locked');
    expect(passes(now().context).seated?.evidence).toEqual({
      kind: 'concession',
      says: 'Within the old limit.',
    });
    expect(does({ type: 'trouble', says: 'Will not close.' }, 'mec')).toBe('locked');
    expect(does(concede, 'sup')).toBe('concession-not-allowed');
    expect(does({ type: 'decide', decision: 'rework', station: 'locked', says: 'Filed.' }, 'mec')).toBe(
      'locked',
    );
    expect(does({ type: 'confirm', evidence: press }, 'mec')).toBe('complete');
    expect(checkHolds(journalOf(short, input, 'mec', told))).toEqual([]);
  });

  test('a hold cannot be waived: a record in which it was conceded by the wrong person is found out', () => {
    const { does, told } = inTrouble();
    does(signOn, 'sup');
    does({ type: 'decide', decision: 'concession', says: 'Good enough.' }, 'sup');
    does({ type: 'confirm', evidence: press }, 'mec');
    const forged = told.map((one) =>
      one.event.type === 'decide' ? { ...one, event: { ...one.event, by: 'mec' } } : one,
    );
    expect(checkHolds(journalOf(short, input, 'mec', forged)).map(({ code }) => code)).toContain(
      'evidence-insufficient',
    );
  });

  test('stopping closes the trouble with the stop', () => {
    const { does, now } = inTrouble();
    expect(does({ type: 'stop', says: 'Frame cracked.' }, 'app')).toBe('stopped');
    expect(now().context.troubles[0]?.decided?.decision).toBe('stop');
  });
});
