import { hold, round, step } from '../../src/procedure/index.ts';
import { TORQUE_TOLERANCE } from './head.ts';

const wrench = { unit: 'N·m', tolerancePercent: TORQUE_TOLERANCE, tool: 'torqueWrench' } as const;

/** Closed up, fuel tight, and started only now. */
export const finish = {
  gasket: step({
    say: 'New gasket in the cover, sealant only where the manual says.',
    next: 'coverRound',
  }),
  coverRound: round({
    say: 'Cover on, new washers. Tighten crosswise.',
    shows: [{ label: 'Full torque', amount: { figure: 'headCoverTorque' }, unit: 'N·m' }],
    fasteners: { figure: 'headCoverBolts' },
    passes: ['snug', 'full torque'],
    fastener: 'bolt',
    next: 'coverTight',
  }),
  coverTight: hold({
    say: 'Once round with the wrench at its figure. Give the figure.',
    phrase: 'cover sealed to torque',
    why: 'Oil from the cover runs down on the exhaust and burns, or on the rear tyre.',
    measure: {
      ...wrench,
      name: 'headCoverTorque',
      label: 'Cover bolts',
      target: { figure: 'headCoverTorque' },
    },
    pass: 'plugIn',
    fail: 'coverAgain',
  }),
  coverAgain: step({ say: 'Cover off. Look at the gasket, begin once more.', rework: true, next: 'gasket' }),
  plugIn: step({ say: 'Spark plug in by hand, all its thread.', next: 'plugTight' }),
  plugTight: hold({
    say: 'Tighten the spark plug with the torque wrench. Give the figure.',
    phrase: 'spark plug seated',
    why: 'Loose it blows out with its thread. Too tight it strips the head.',
    measure: { ...wrench, name: 'plugTorque', label: 'Spark plug', target: { figure: 'plugTorque' } },
    pass: 'windowOn',
    fail: 'plugAgain',
  }),
  plugAgain: step({ say: 'Plug out. Look at thread and washer.', rework: true, next: 'plugIn' }),
  windowOn: step({ say: 'Crank plug and window plug on, new rings.', next: 'tankOn' }),
  tankOn: step({ say: 'Tank on, hose on, clip closed. Open the fuel tap.', next: 'fuelDry' }),
  fuelDry: hold({
    say: 'Wipe the hose and look under the tank: dry, no smell.',
    phrase: 'fuel line bone dry',
    why: 'Petrol on a hot engine sets fire to machine and rider.',
    pass: 'oilLevel',
    fail: 'fuelAgain',
  }),
  fuelAgain: step({
    say: 'Tap closed. New clip or new hose. Dry everything.',
    cautions: [
      {
        word: 'danger',
        text: 'Nobody starts anything while petrol lies about.',
        why: 'The first spark of the plug or of the starter sets it alight under the tank.',
      },
    ],
    rework: true,
    next: 'tankOn',
  }),
  oilLevel: step({ say: 'Oil level between its marks. Battery on.', next: 'start' }),
  start: step({
    say: 'Into the open air, neutral, hands clear. Start it.',
    cautions: [
      {
        word: 'danger',
        text: 'Exhaust gas kills indoors. Outside, or with the extractor on.',
        why: 'It cannot be smelt. It makes drowsy first, and then nobody gets out.',
      },
    ],
    next: 'runs',
  }),
  runs: hold({
    say: 'Listen and look: even idle, no knock, no oil. Then off.',
    phrase: 'quiet idle no leak',
    why: 'A knock now is a chain or a shim. One minute later it is an engine.',
    pass: 'secondLook',
    fail: 'runsBad',
  }),
  runsBad: step({
    say: 'Off at once. Let it go cold, and open it up again.',
    rework: true,
    next: 'engineCold',
  }),
  secondLook: hold({
    say: 'Second person: read the gaps in the record. Look at hose, cover and tools.',
    phrase: 'engine released to rider',
    why: 'Whoever did the work sees what he meant to do. A second pair of eyes sees what is there.',
    witness: 'always',
    pass: 'handOver',
    fail: 'secondFinds',
  }),
  secondFinds: step({
    say: 'Put right what was found, then from the cover on.',
    rework: true,
    next: 'gasket',
  }),
  handOver: step({
    say: 'Hand over with the gaps as found and as left. Look for oil after the first ride.',
    why: 'How fast the gaps close tells when to look next.',
    next: 'complete',
  }),
};
