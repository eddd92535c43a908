import { describe, expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import { passes } from '../../src/procedure/context.ts';
import { COMPLETE } from '../../src/procedure/definition.ts';
import { combinations, type Facts, factsInWords } from '../../src/procedure/facts.ts';
import { openedJob } from './training-machine.ts';
import { walk } from './walk.ts';
import { wholeJobTests } from './whole-job.ts';

const everyJob = combinations(finalDrive.meta.facts);
const named = everyJob.map((facts) => [factsInWords(facts), facts] as const);
/** Stations in the order in which they were left for good. */
const order = (facts: Facts) => walk(finalDrive, openedJob(finalDrive, facts), { doer: 'p1' }).stations;

wholeJobTests(finalDrive, 48);

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
