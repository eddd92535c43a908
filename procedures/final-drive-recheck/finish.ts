import { step } from '../../src/procedure/index.ts';
import { finish as full } from '../final-drive/finish.ts';

const { lubricate, spin, painted, brakeFirm, secondLook, guardOn, guarded, guardAgain, wiringBack } = full;

/** As after the full job, since the cover was off and fasteners may have been moved. */
export const finish = {
  wiringBack,
  guardOn,
  guarded,
  guardAgain,
  lubricate,
  spin,
  findNoise: step({
    say: 'Wheel still. Find what rubs, ticks or swings, and put it right.',
    rework: true,
    next: 'reach',
  }),
  paint: step({
    say: 'New split pin where the axle has one. Renew each paint line you broke.',
    drawing: 'paint-mark.svg',
    next: 'painted',
  }),
  painted,
  paintAgain: full.paintAgain,
  pumpBrake: full.pumpBrake,
  brakeFirm,
  brakeLook: full.brakeLook,
  lower: full.lower,
  secondLook,
  secondFinds: step({
    say: 'Put right what was found. From the axle on, everything is read once more.',
    rework: true,
    next: 'reach',
  }),
  handOver: step({
    say: 'Hand over. From now on the chain is looked at as the manual says.',
    next: 'complete',
  }),
};
