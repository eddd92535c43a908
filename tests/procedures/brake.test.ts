import { describe, expect, test } from 'vitest';
import brake from '../../procedures/brake/index.ts';
import { passes } from '../../src/procedure/context.ts';
import { decide } from '../../src/procedure/decide.ts';
import { combinations, factsInWords } from '../../src/procedure/facts.ts';
import { orderOf } from './order.ts';
import { openedJob } from './training-machine.ts';
import { walk } from './walk.ts';
import { wholeJobTests } from './whole-job.ts';

wholeJobTests(brake, 24);

const everyJob = combinations(brake.meta.facts).map((facts) => [factsInWords(facts), facts] as const);
const keep = { end: 'front', fluid: 'DOT 4', pads: 'keep', disc: 'keep' };

describe('the order of the work', () => {
  test.each(everyJob)('%s', (_, facts) => {
    const { inTurn } = orderOf(brake, facts);
    inTurn('fluidRight', 'standFirm', 'caliperOff', 'padInner', 'padLife', 'padsFork', 'discFork');
    inTurn('padsThick', 'padsFace', 'caliperTight', 'hoseOn', 'bubbles', 'nippleTight', 'levelRight');
    // Firm, and dry under pressure, before the machine comes down; tried at a walk before it is handed over.
    inTurn('levelRight', 'leverFirm', 'underPressure', 'leak', 'spin', 'lower', 'bites', 'secondLook');
    if (facts.disc === 'renew')
      inTurn('discWay', 'locker', 'discRound', 'discTight', 'wheelIn', 'padsThick', 'cure', 'handOver');
  });
});

test('the lever is witnessed whoever does the work, and only another person can', () => {
  let refused = false;
  const { end } = walk(brake, openedJob(brake, keep), {
    doer: 'p1',
    look(snapshot, machine, at) {
      if (snapshot.station !== 'leverFirm' || !snapshot.context.visits.at(-1)?.awaiting) return;
      const evidence = { kind: 'phrase', phrase: 'lever hard as stone' } as const;
      const again = { type: 'witness', evidence, by: 'p1', via: 'voice', at: at + 1 } as const;
      const decision = decide(machine, snapshot, again);
      refused = decision.outcome === 'refused' && decision.reason.code === 'witness-same-person';
    },
  });
  expect(refused).toBe(true);
  expect(passes(end.context).leverFirm?.witness?.by).not.toBe('p1');
});

test('a disc under its least thickness cannot stay on: the hold leads back to the choice, and then off it comes', () => {
  let thin = 0;
  const { stations, end } = walk(brake, openedJob(brake, keep), {
    doer: 'p1',
    instead({ station }) {
      if (station === 'discSound' && thin++ === 0)
        return { type: 'reading', value: 2.9, unit: 'mm', toolId: 'MI1' };
      return station === 'discFork' && thin > 0 ? { type: 'choose', value: 'renew' } : null;
    },
  });
  expect(stations.indexOf('discDoubt')).toBeLessThan(stations.indexOf('discOff'));
  expect(passes(end.context)).toHaveProperty('discTight');
  expect(passes(end.context)).not.toHaveProperty('discSound');
});

test('what is left of the pads is worked out from both linings and the distance run', () => {
  const measured: Record<string, number> = { padInner: 2, padOuter: 2.6, padRun: 6000 };
  const { end } = walk(brake, openedJob(brake, keep), {
    doer: 'p1',
    instead: ({ station }) =>
      measured[station] === undefined
        ? null
        : {
            type: 'reading',
            value: measured[station],
            ...(station === 'padRun' ? { unit: 'km' } : { unit: 'mm', toolId: 'CA1' }),
          },
  });
  const output = end.context.visits.find(({ station }) => station === 'padLife')?.result?.output;
  // 4 mm new, 1 mm least, 2 mm the thinner: 2 mm worn in 6,000 km, 1 mm left, so half as far again.
  expect(output).toMatchObject({ thinnest: 2, taper: 0.6, left: 1, distanceLeft: 3000 });
});
