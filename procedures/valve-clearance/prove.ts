import { fork, hold, step } from '../../src/procedure/index.ts';

const inlet = {
  unit: 'mm',
  min: { figure: 'inletMin' },
  max: { figure: 'inletMax' },
  tool: 'feelerGauge',
} as const;
const exhaust = {
  unit: 'mm',
  min: { figure: 'exhaustMin' },
  max: { figure: 'exhaustMax' },
  tool: 'feelerGauge',
} as const;

/** Two turns by hand before anything else turns it, then every gap once more, each as a hold of its own. */
export const prove = {
  handTurns: hold({
    say: 'Turn the crank by hand, two full turns, slowly. Nothing may bring it up.',
    phrase: 'two turns nothing touches',
    why: 'If a valve meets the piston your hand feels it. The starter does not, and bends it.',
    cautions: [
      {
        word: 'danger',
        text: 'Never with the starter: bent valves, and fingers at the chain.',
        why: 'By hand you feel a valve touch the piston. The starter bends it before you hear it.',
      },
    ],
    witness: 'apprentice',
    pass: 'topAgain',
    fail: 'itTouches',
  }),
  itTouches: step({
    say: 'Do not force it. Leave it there, and look at the marks.',
    rework: true,
    next: 'touchFork',
  }),
  touchFork: fork({
    say: 'Was the clearance set today, or was every gap good?',
    fact: 'outside',
    ways: [
      { value: true, phrase: 'one lies outside', to: 'adjustFork' },
      { value: false, phrase: 'every gap good', to: 'handTurns' },
    ],
  }),
  topAgain: hold({
    say: 'Top mark in the window again. Every lobe away, camshaft marks level.',
    phrase: 'back at the top',
    why: 'Marks that agreed before the turns and not after them mean a chain that jumped.',
    drawing: 'cam-lobes.svg',
    pass: 'inletOneGood',
    fail: 'topMissed',
  }),
  topMissed: step({
    say: 'Another turn, its running way. Still out: the marks were not right.',
    rework: true,
    next: 'touchFork',
  }),
  inletOneGood: hold({
    say: 'First inlet valve, measured again. Give the gap.',
    phrase: 'first inlet within limits',
    why: 'Too tight it never closes, and burns. What was set is believed only when measured.',
    measure: { ...inlet, name: 'inletOneEnd', label: 'First inlet' },
    pass: 'inletMoreEnd',
    fail: 'stillOut',
  }),
  inletMoreEnd: fork({
    say: 'Two valves, or four?',
    fact: 'valves',
    ways: [
      { value: 'two', phrase: 'two valves', to: 'exhaustOneGood' },
      { value: 'four', phrase: 'twice two valves', to: 'inletTwoGood' },
    ],
  }),
  inletTwoGood: hold({
    say: 'Second inlet valve, measured again. Give the gap.',
    phrase: 'second intake gap good',
    why: 'Too tight it never closes, and burns. What was set is believed only when measured.',
    applies: { valves: 'four' },
    measure: { ...inlet, name: 'inletTwoEnd', label: 'Second inlet' },
    pass: 'exhaustOneGood',
    fail: 'stillOut',
  }),
  exhaustOneGood: hold({
    say: 'First exhaust valve, measured again. Give the gap.',
    phrase: 'exhaust gap proven',
    why: 'The exhaust valve is the hottest. Without its gap it burns first.',
    measure: { ...exhaust, name: 'exhaustOneEnd', label: 'First exhaust' },
    pass: 'exhaustMoreEnd',
    fail: 'stillOut',
  }),
  exhaustMoreEnd: fork({
    say: 'Two valves, or four?',
    fact: 'valves',
    ways: [
      { value: 'two', phrase: 'two valves', to: 'gasket' },
      { value: 'four', phrase: 'twice two valves', to: 'exhaustTwoGood' },
    ],
  }),
  exhaustTwoGood: hold({
    say: 'Second exhaust valve, measured again. Give the gap.',
    phrase: 'last valve measured right',
    why: 'The exhaust valve is the hottest. Without its gap it burns first.',
    applies: { valves: 'four' },
    measure: { ...exhaust, name: 'exhaustTwoEnd', label: 'Second exhaust' },
    pass: 'gasket',
    fail: 'stillOut',
  }),
  stillOut: step({
    say: 'It is still outside. Every gap is measured from the first on.',
    rework: true,
    next: 'inletOne',
  }),
};
