import { describe, expect, test } from 'vitest';
import valves from '../../procedures/valve-clearance/index.ts';
import { known, passes } from '../../src/procedure/context.ts';
import { combinations, factsInWords } from '../../src/procedure/facts.ts';
import { orderOf } from './order.ts';
import { openedJob } from './training-machine.ts';
import { walk } from './walk.ts';
import { wholeJobTests } from './whole-job.ts';

wholeJobTests(valves, 8);

const everyJob = combinations(valves.meta.facts).map((facts) => [factsInWords(facts), facts] as const);
const four = { valves: 'four', valveAdjuster: 'shim', outside: true };

describe('the order of the work', () => {
  test.each(everyJob)('%s', (_, facts) => {
    const { inTurn, stations } = orderOf(valves, facts);
    inTurn('engineCold', 'compression', 'inletOne', 'exhaustOne', 'judge');
    // By hand before anything else turns it, measured after that, closed up, and started last of all.
    inTurn(
      'judge',
      'handTurns',
      'topAgain',
      'inletOneGood',
      'exhaustOneGood',
      'coverTight',
      'fuelDry',
      'start',
    );
    const shim = facts.outside === true && facts.valveAdjuster === 'shim';
    expect(stations.includes('camsOut')).toBe(shim);
    if (shim) {
      inTurn('holesShut', 'tensionerOut', 'camsOut', 'bucketOut', 'shimInletOne', 'bucketsTurn', 'camsIn');
      inTurn('camsIn', 'marks', 'capsRound', 'capsTight', 'tensionerOn', 'ragsOut', 'handTurns');
    }
    if (facts.outside === true && facts.valveAdjuster === 'screw') inTurn('screws', 'lockNuts', 'handTurns');
    const count = facts.valves === 'four' ? 4 : 2;
    expect(stations.filter((name) => /^(inlet|exhaust)(One|Two)Good$/.test(name))).toHaveLength(count);
  });
});

const measured: Record<string, number> = {
  inletOne: 0.06,
  inletTwo: 0.12,
  exhaustOne: 0.14,
  exhaustTwo: 0.26,
  shimInletOne: 2.45,
  shimInletTwo: 2.4,
  shimExhaustOne: 2.3,
  shimExhaustTwo: 2.35,
};
const byHand = ({ station }: { readonly station: string }) =>
  measured[station] === undefined
    ? null
    : ({
        type: 'reading',
        value: measured[station],
        unit: 'mm',
        toolId: station.startsWith('shim') ? 'MI1' : 'FG1',
      } as const);

test('each new shim is worked out from its own gap and its own old shim, and stands in the record', () => {
  const { end } = walk(valves, openedJob(valves, four), { doer: 'p1', instead: byHand });
  const { figures } = known(end.context);
  const fitted = ['newInletOne', 'newInletTwo', 'newExhaustOne', 'newExhaustTwo'];
  // First inlet: 2.45 + 0.06 − 0.125 (middle) = 2.385; 2.35 would give 0.16, too much, so 2.40. Second inlet: within
  // limits, keeps its 2.40. First exhaust: 2.3 + 0.14 − 0.195 = 2.245; 2.20 would give 0.24, so 2.25. Second exhaust:
  // 2.35 + 0.26 − 0.195 = 2.415; the thinner 2.40 gives 0.21, within limits.
  expect(fitted.map((name) => figures[name]?.value)).toEqual([2.4, 2.4, 2.25, 2.4]);
  expect(figures.newInletOne).toEqual({ value: 2.4, unit: 'mm', source: 'working' });
});

test('a valve that is still outside after fitting goes back to the first measurement, and everything since is undone', () => {
  let out = 0;
  const { stations, end } = walk(valves, openedJob(valves, four), {
    doer: 'p1',
    instead: ({ station }) =>
      station === 'exhaustTwoGood' && out++ === 0
        ? { type: 'reading', value: 0.16, unit: 'mm', toolId: 'FG1' }
        : null,
  });
  expect(stations.filter((name) => name === 'handTurns')).toHaveLength(2);
  expect(stations.filter((name) => name === 'marks')).toHaveLength(2);
  expect(Object.keys(passes(end.context))).toContain('exhaustTwoGood');
});

test('saying that every gap is good does not make it so: the last readings are holds of their own', () => {
  let first = true;
  const { stations } = walk(valves, openedJob(valves, { ...four, outside: false }), {
    doer: 'p1',
    instead({ station }) {
      if (station !== 'inletOneGood' || !first) return null;
      first = false;
      return { type: 'reading', value: 0.05, unit: 'mm', toolId: 'FG1' };
    },
  });
  expect(stations).toContain('stillOut');
});
