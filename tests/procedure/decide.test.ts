import { describe, expect, test } from 'vitest';
import { decide } from '../../src/procedure/decide.ts';
import type { JobEvent, Stamped } from '../../src/procedure/events.ts';
import { machineFor, type Snapshot, stationBefore } from '../../src/procedure/machine.ts';
import { runWorking } from '../../src/trade/workings.ts';
import { NOON, sample, sampleInput } from './sample.ts';

const machine = machineFor(sample);
const press = { kind: 'press', heldMs: 1500 } as const;

function player(input = sampleInput) {
  let snapshot: Snapshot = machine.start(input);
  let at = NOON;
  return {
    get now() {
      return snapshot;
    },
    after(ms: number) {
      at += ms;
      return this;
    },
    does(event: JobEvent, by = 'ada') {
      at += 1000;
      const decision = decide(machine, snapshot, { ...event, at, by, via: 'keys' } as Stamped);
      snapshot = decision.snapshot;
      return decision.outcome === 'accepted' ? snapshot.station : decision.reason.code;
    },
  };
}

function atFork(by = 'ada') {
  const p = player();
  const steps: JobEvent[] = [
    { type: 'callOff', item: 'gloves' },
    { type: 'callOff', item: 'wrench', toolId: 'T1' },
    { type: 'callOff', item: 'seals' },
    { type: 'lookUp', figure: 'bolts', value: 6, unit: '' },
    {
      type: 'accept',
      inputs: { front: 13, rear: 48 },
      output: runWorking('final-ratio', { front: 13, rear: 48 }),
    },
  ];
  for (const event of steps) p.does(event, by);
  for (let n = 0; n < 12; n++) p.does({ type: 'advance' }, by);
  p.after(600_000).does({ type: 'advance' }, by);
  return p;
}

describe('one whole job', () => {
  test('goes through every kind of station to complete', () => {
    const p = player();
    expect(p.does({ type: 'advance' })).toBe('kit-not-complete');
    expect(p.does({ type: 'callOff', item: 'gloves' })).toBe('kit');
    expect(p.does({ type: 'callOff', item: 'gloves' })).toBe('kit-item-called');
    expect(p.does({ type: 'callOff', item: 'wrench' })).toBe('tool-needed');
    expect(p.does({ type: 'callOff', item: 'wrench', toolId: 'T2' })).toBe('tool-out-of-calibration');
    expect(p.does({ type: 'callOff', item: 'wrench', toolId: 'R1' })).toBe('tool-unknown');
    expect(p.does({ type: 'callOff', item: 'wrench', toolId: 'T1' })).toBe('kit');
    expect(p.does({ type: 'callOff', item: 'seals' })).toBe('card');
    expect(p.does({ type: 'lookUp', figure: 'bolts', value: 60, unit: '' })).toBe('figure-implausible');
    expect(p.does({ type: 'lookUp', figure: 'bolts', value: 6, unit: '' })).toBe('ratio');
    expect(p.does({ type: 'accept', inputs: { front: 13, rear: 48 }, output: { ratio: 4 } })).toBe(
      'working-differs',
    );
    expect(
      p.does({
        type: 'accept',
        inputs: { rear: 48, front: 13 },
        output: runWorking('final-ratio', { front: 13, rear: 48 }),
      }),
    ).toBe('bolts');
    for (let n = 0; n < 11; n++) expect(p.does({ type: 'advance' })).toBe('bolts');
    expect(p.does({ type: 'advance' })).toBe('cure');
    expect(p.does({ type: 'advance' })).toBe('wait-not-over');
    expect(p.after(600_000).does({ type: 'advance' })).toBe('which');
    expect(p.does({ type: 'advance' })).toBe('choice-unknown');
    expect(p.does({ type: 'choose', value: 'clip' })).toBe('clipWay');
    expect(p.does({ type: 'advance' })).toBe('hold-needs-evidence');
    expect(p.does({ type: 'confirm', evidence: { kind: 'phrase', phrase: 'open end leads' } })).toBe(
      'wrong-phrase',
    );
    expect(p.does({ type: 'confirm', evidence: { kind: 'press', heldMs: 300 } })).toBe('press-too-short');
    expect(p.does({ type: 'fail' })).toBe('refit');
    expect(p.does({ type: 'advance' })).toBe('clipWay');
    expect(p.does({ type: 'confirm', evidence: { kind: 'phrase', phrase: 'Open end trails' } })).toBe(
      'slack',
    );
    expect(p.does({ type: 'reading', value: 50, unit: 'mm', toolId: 'R1' })).toBe('adjust');
    expect(p.does({ type: 'advance' })).toBe('slack');
    expect(p.does({ type: 'reading', value: 35, unit: 'in', toolId: 'R1' })).toBe('figure-wrong-unit');
    expect(p.does({ type: 'reading', value: 40, unit: 'mm', toolId: 'R1' })).toBe('torque');
    expect(p.does({ type: 'confirm', evidence: press })).toBe('hold-needs-figure');
    expect(p.does({ type: 'reading', value: 60, unit: 'N·m', toolId: 'T1' })).toBe('loosen');
    expect(p.does({ type: 'advance' })).toBe('torque');
    expect(p.does({ type: 'reading', value: 94.5, unit: 'N·m', toolId: 'T1' })).toBe('complete');
    expect(p.now.outcome).toBe('complete');
    expect(p.does({ type: 'open', station: 'kit' })).toBe('job-closed');
  });

  test('an apprentice needs a witness who is somebody else and authorised', () => {
    const p = atFork('ben');
    p.does({ type: 'choose', value: 'clip' }, 'ben');
    expect(p.does({ type: 'witness', evidence: press }, 'cyd')).toBe('no-evidence-to-witness');
    expect(p.does({ type: 'confirm', evidence: press }, 'ben')).toBe('clipWay');
    expect(p.does({ type: 'confirm', evidence: press }, 'ben')).toBe('witness-needed');
    expect(p.does({ type: 'witness', evidence: press }, 'ben')).toBe('witness-same-person');
    expect(p.does({ type: 'witness', evidence: press }, 'cyd')).toBe('slack');
    expect(p.does({ type: 'note', says: ' ' }, 'ben')).toBe('reason-needed');
    expect(p.does({ type: 'advance' }, 'nobody')).toBe('person-unknown');
  });

  test('going back voids what was passed since, and only that', () => {
    const p = atFork();
    p.does({ type: 'choose', value: 'clip' });
    p.does({ type: 'confirm', evidence: press });
    expect(p.now.station).toBe('slack');
    expect(stationBefore(sample, p.now)).toBe('clipWay');
    expect(p.does({ type: 'open', station: 'torque' })).toBe('not-visited');
    expect(p.does({ type: 'open', station: 'which' })).toBe('which');
    expect(p.does({ type: 'choose', value: 'clip' })).toBe('clipWay');
    expect(p.does({ type: 'advance' })).toBe('hold-needs-evidence');
    expect(p.does({ type: 'open', station: 'which' })).toBe('which');
    expect(p.does({ type: 'choose', value: 'rivet' })).toBe('slack');
  });

  test('a paused job takes nothing but resume, note and stop', () => {
    const p = player();
    expect(p.does({ type: 'pause' })).toBe('kit');
    expect(p.does({ type: 'callOff', item: 'gloves' })).toBe('job-paused');
    expect(p.does({ type: 'note', says: 'The telephone.' })).toBe('kit');
    expect(p.now.context.notes).toHaveLength(1);
    expect(p.does({ type: 'resume' })).toBe('kit');
    expect(p.does({ type: 'resume' })).toBe('not-paused');
    expect(p.does({ type: 'stop', says: 'Frame is cracked.' })).toBe('stopped');
  });
});
