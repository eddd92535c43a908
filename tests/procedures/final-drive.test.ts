import { describe, expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import { passes } from '../../src/procedure/context.ts';
import { decide } from '../../src/procedure/decide.ts';
import { COMPLETE, stationOf } from '../../src/procedure/definition.ts';
import type { Stamped } from '../../src/procedure/events.ts';
import { combinations, type Facts, factsInWords } from '../../src/procedure/facts.ts';
import { holdsThatApply } from '../../src/procedure/guards.ts';
import { reachable } from './removal.ts';
import { openedJob } from './training-machine.ts';
import { walk } from './walk.ts';

const everyJob = combinations(finalDrive.meta.facts);
const named = everyJob.map((facts) => [factsInWords(facts), facts] as const);
const holds = Object.keys(finalDrive.states).filter((name) => stationOf(finalDrive, name)?.kind === 'hold');

/** Stations in the order in which they were left for good. */
const order = (facts: Facts) => walk(finalDrive, openedJob(finalDrive, facts), { doer: 'p1' }).stations;

describe('the whole job', () => {
  test('has at most 96 combinations of facts', () => {
    expect(everyJob).toHaveLength(48);
  });

  test.each(named)('%s: done right it completes, every hold that applies passed, no other', (_, facts) => {
    const refused = new Set<string>();
    const { end } = walk(finalDrive, openedJob(finalDrive, facts), {
      doer: 'p1',
      look(snapshot, machine, at) {
        if (stationOf(finalDrive, snapshot.station)?.kind !== 'hold') return;
        const advance: Stamped = { type: 'advance', by: 'p1', via: 'voice', at: at + 1 };
        const decision = decide(machine, snapshot, advance);
        expect(decision.outcome, snapshot.station).toBe('refused');
        refused.add(snapshot.station);
      },
    });
    expect(end.outcome).toBe(COMPLETE);
    const applying = holdsThatApply(finalDrive, facts);
    expect(Object.keys(passes(end.context)).sort()).toEqual([...applying].sort());
    expect([...refused].sort()).toEqual([...applying].sort());
  });

  test('every hold point passes for some combination', () => {
    const passed = new Set(everyJob.flatMap((facts) => holdsThatApply(finalDrive, facts)));
    expect([...passed].sort()).toEqual([...holds].sort());
  });

  test('each hold that applies stands on every way to the end, and from each station the end can be reached', () => {
    for (const facts of everyJob) {
      for (const hold of holdsThatApply(finalDrive, facts)) {
        const without = reachable(finalDrive, facts, finalDrive.initial, hold);
        expect(without.has(COMPLETE), `${hold}: ${factsInWords(facts)}`).toBe(false);
      }
      for (const station of reachable(finalDrive, facts, finalDrive.initial))
        expect(reachable(finalDrive, facts, station).has(COMPLETE) || station === 'stopped', station).toBe(
          true,
        );
    }
  });

  test('every station is reached by some job', () => {
    const met = new Set(everyJob.flatMap((facts) => [...reachable(finalDrive, facts, finalDrive.initial)]));
    expect(Object.keys(finalDrive.states).filter((name) => !met.has(name) && name !== 'stopped')).toEqual([]);
  });
});

describe('what fails is put right', () => {
  test.each(named)('%s: every hold failed once, and the job still completes', (_, facts) => {
    const failed = new Set<string>();
    const { end } = walk(finalDrive, openedJob(finalDrive, facts), {
      doer: 'p1',
      most: 6000,
      instead({ station }) {
        if (stationOf(finalDrive, station)?.kind !== 'hold' || failed.has(station)) return null;
        failed.add(station);
        return { type: 'fail' };
      },
    });
    expect(end.outcome).toBe(COMPLETE);
    expect([...failed].sort()).toEqual([...holdsThatApply(finalDrive, facts)].sort());
  });

  test('a hold fails to a step marked as rework, from which the same hold is met on every way to the end', () => {
    for (const hold of holds) {
      const target = finalDrive.states[hold]?.on?.fail?.[0]?.target ?? '';
      const station = stationOf(finalDrive, target);
      expect(station?.kind === 'step' && station.rework, hold).toBe(true);
      for (const facts of everyJob.filter((one) => holdsThatApply(finalDrive, one).includes(hold)))
        expect(reachable(finalDrive, facts, target, hold).has(COMPLETE), hold).toBe(false);
    }
  });
});

describe('the order of the work', () => {
  test.each(named)('%s', (_, facts) => {
    const stations = order(facts);
    const inTurn = (first: string, then: string) => {
      const [one, other] = [stations.indexOf(first), stations.indexOf(then)];
      expect(one, first).toBeGreaterThanOrEqual(0);
      expect(other, `${first} before ${then}`).toBeGreaterThan(one);
    };
    for (const [first, then] of [
      ['protect', 'engineOff'],
      ['engineOff', 'coverOff'],
      ['kit', 'brakeOn'],
      ['brakeOn', 'freeRear'],
      ['brokenFree', 'parting'],
      ['parting', 'chainOff'],
      ['standFirm', 'wheelOut'],
      ['frontWay', 'rearOff'],
      ['locker', 'rearRound'],
      ['rearRound', 'rearTight'],
      ['sideBySide', 'pinOut'],
      ['plateHome', 'setSlackOrNew'],
      ['tightest', 'slack'],
      ['guarded', 'spin'],
      ['painted', 'secondLook'],
      ['brakeFirm', 'lower'],
      ['secondLook', 'handOver'],
    ] as const)
      inTurn(first, then === 'setSlackOrNew' ? (facts.regear ? 'setSlackNew' : 'setSlack') : then);
    const axle = facts.adapter ? 'axleAdapted' : 'axleTight';
    inTurn(axle, 'line');
    inTurn(axle, 'slack');
    inTurn(facts.regear ? 'countNew' : 'countSame', 'pinOut');
    if (facts.retainer === 'bolt') inTurn('freeBolt', 'chainOff');
    if (facts.retainer === 'tab nut') inTurn('unbendTab', 'chainOff');
    if (facts.retainer === 'tab nut') inTurn('nutTight', 'tabOver');
    if (facts.retainer === 'circlip') inTurn('circlipSeated', 'bead');
    if (facts.sealed) inTurn('sealsPlaced', 'plateHome');
    if (facts.sealed) inTurn('caseGap', 'rearOff');
    if (facts.link === 'clip') inTurn('clipWay', 'clipSeated');
  });
});

describe('who and what a job needs', () => {
  const facts: Facts = { retainer: 'bolt', link: 'clip', sealed: true, regear: true, adapter: true };

  test('an apprentice is witnessed at the holds that keep the rider alive, a mechanic only at the release', () => {
    const witnessed = (doer: string) => {
      const standing = passes(walk(finalDrive, openedJob(finalDrive, facts), { doer }).end.context);
      return Object.keys(standing).filter((hold) => standing[hold]?.witness);
    };
    expect(witnessed('p1')).toEqual(['secondLook']);
    expect(witnessed('p2')).toEqual(
      expect.arrayContaining(['rearTight', 'sealsPlaced', 'plateHome', 'clipWay', 'clipSeated', 'slack']),
    );
  });

  test('an empty card is filled from the manual, each figure under the name of who read it', () => {
    const names = Object.keys(finalDrive.meta.figures);
    const job = openedJob(finalDrive, { ...facts, regear: false }, names);
    const { end, events } = walk(finalDrive, job, { doer: 'p1' });
    expect(end.outcome).toBe(COMPLETE);
    const asked = events.flatMap((event) => (event.type === 'lookUp' ? [event.figure] : []));
    expect(new Set(asked).size).toBe(asked.length);
    expect(asked).toContain('axleTorque');
    expect(asked).not.toContain('newRear');
  });

  test('the cut is where the working says, one pitch short of the finished chain', () => {
    const { end } = walk(finalDrive, openedJob(finalDrive, facts), { doer: 'p1' });
    const visit = (name: string) => end.context.visits.find(({ station }) => station === name);
    const cut = visit('chainCut')?.result?.output?.cutAfterPitch;
    expect(cut).toBe(121);
    expect(visit('countNew')?.reading?.taken.value).toBe(cut);
  });

  test('sizes that no chain fits lead to the supervisor and to other sizes, not on', () => {
    const job = openedJob(finalDrive, facts);
    // An adjuster with three millimetres of travel: no even count ends there with these sizes.
    const adjusterMax = { value: 568, unit: 'mm', source: 'card' } as const;
    let asked = false;
    const { stations } = walk(
      finalDrive,
      { ...job, figures: { ...job.figures, adjusterMax } },
      {
        doer: 'p1',
        instead({ station }) {
          if (station === 'noLength') asked = true;
          return station === 'lookSizes' && asked ? { type: 'choose', value: false } : null;
        },
      },
    );
    expect(asked).toBe(true);
    expect(stations.indexOf('noLength')).toBeLessThan(stations.indexOf('brakeOn'));
  });
});
