import { describe, expect, test } from 'vitest';
import wheelTyre from '../../procedures/wheel-tyre/index.ts';
import { decide } from '../../src/procedure/decide.ts';
import { combinations, factsInWords } from '../../src/procedure/facts.ts';
import { orderOf } from './order.ts';
import { openedJob } from './training-machine.ts';
import { walk } from './walk.ts';
import { wholeJobTests } from './whole-job.ts';

wholeJobTests(wheelTyre, 16);

const everyJob = combinations(wheelTyre.meta.facts).map((facts) => [factsInWords(facts), facts] as const);

describe('the order of the work', () => {
  test.each(everyJob)('%s', (_, facts) => {
    const { inTurn } = orderOf(wheelTyre, facts);
    const size = facts.end === 'front' ? 'sizeFront' : 'sizeRear';
    inTurn(size, 'freeAxle', 'raise', 'standFirm', 'axleOut', 'airOut', 'airGone', 'beadsBreak', 'rimSound');
    // What cannot be seen any more once the second bead is on comes before it.
    inTurn('tyreWay', 'arrowRight', 'beadTwo', 'inflate', 'beadEven', 'coreIn', 'airTight', 'spacersIn');
    inTurn(facts.end === 'front' ? 'axleFront' : 'axleRear', 'brakeFirm', 'spin', 'lower');
    // The brake is firm before the machine moves, and after the last thing that could make it soft.
    inTurn(facts.wheelBrake === 'disc' ? 'caliperTight' : 'armTight', 'brakeFirm', 'lower', 'secondLook');
    if (facts.tyre === 'tube') inTurn('nipplesCovered', 'tubePlace', 'beadTwo', 'tubeFree', 'inflate');
    if (facts.balance) inTurn('airTight', 'balanced', 'spacersIn');
    if (facts.end === 'front') inTurn('lower', 'bounce', 'pinchRound', 'pinchTight', 'secondLook');
    if (facts.end === 'rear') inTurn('axleRear', 'slack', 'brakeFirm');
  });
});

test('a tyre for another rim is not fitted: one inch out goes back for another', () => {
  const facts = { end: 'front', tyre: 'tube', wheelBrake: 'disc', balance: false };
  let tried = 0;
  const { stations } = walk(wheelTyre, openedJob(wheelTyre, facts), {
    doer: 'p1',
    instead: ({ station }) =>
      station === 'sizeFront' && tried++ === 0 ? { type: 'reading', value: 19, unit: 'in' } : null,
  });
  expect(stations.slice(stations.indexOf('sizeFront')).slice(0, 3)).toEqual([
    'sizeFront',
    'otherTyre',
    'sizeFront',
  ]);
});

test('a torque wrench whose calibration has lapsed is refused before anything is loosened', () => {
  const facts = { end: 'front', tyre: 'tube', wheelBrake: 'disc', balance: false };
  const job = openedJob(wheelTyre, facts);
  const old = { id: 'TW9', kind: 'torqueWrench', says: 'Old wrench', calibratedUntil: '2026-04-30' };
  let asked = false;
  walk(
    wheelTyre,
    { ...job, tools: [...job.tools, old] },
    {
      doer: 'p1',
      look(snapshot, machine, at) {
        if (snapshot.station !== 'kit' || asked) return;
        asked = true;
        const event = { type: 'callOff', item: 'torqueWrench', toolId: 'TW9' } as const;
        const decision = decide(machine, snapshot, { ...event, by: 'p1', via: 'scanner', at: at + 1 });
        expect(decision.outcome === 'refused' && decision.reason.code).toBe('tool-out-of-calibration');
      },
    },
  );
  expect(asked).toBe(true);
});
