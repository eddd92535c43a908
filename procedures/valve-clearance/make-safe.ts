import { fork, hold, kit, lookUp, step } from '../../src/procedure/index.ts';

/** Cold, clean and at the top of the compression stroke: none of the three can be made good by measuring well. */
export const makeSafe = {
  protect: kit({
    say: 'First yourself. Call each one off.',
    cautions: [
      {
        word: 'warning',
        text: 'Petrol vapour burns and springs fly: goggles on, no flame, no spark.',
        why: 'Vapour creeps along the floor to a flame that nobody thought of, and comes back as fire.',
      },
    ],
    items: {
      eyes: { calls: 'Eye protection on', kind: 'protective' },
      gloves: { calls: 'Thin clean gloves on', kind: 'protective' },
      air: { calls: 'Door open, extinguisher within reach', kind: 'protective' },
    },
    next: 'engineOff',
  }),
  engineOff: step({
    say: 'Engine off. Battery negative off. Key in your pocket.',
    cautions: [
      {
        word: 'danger',
        text: 'A starter that turns now takes the fingers at the camshaft.',
        why: 'The cams turn with the crank: a finger between cam and bucket is cut off.',
      },
    ],
    next: 'engineCold',
  }),
  engineCold: hold({
    // Under 35 °C: rentmotorcycletools.com/checking-valve-clearances-basic-procedures
    say: 'Hand flat on the cylinder head. Stone cold, stood overnight.',
    phrase: 'head cold overnight',
    why: 'Warm, every gap reads falsely. A valve set by that reading stays open and burns.',
    pass: 'lookValves',
    fail: 'coolDown',
  }),
  coolDown: step({
    say: 'Leave it until tomorrow, or blow air on it for hours.',
    rework: true,
    next: 'engineCold',
  }),
  lookValves: fork({
    say: 'How many valves has this cylinder: two, or four?',
    fact: 'valves',
    look: true,
    ways: [
      { value: 'two', phrase: 'two valves', to: 'lookAdjuster' },
      { value: 'four', phrase: 'twice two valves', to: 'lookAdjuster' },
    ],
  }),
  lookAdjuster: fork({
    say: 'What sets the clearance: shims under buckets, or screws with lock nuts?',
    fact: 'valveAdjuster',
    look: true,
    ways: [
      { value: 'shim', phrase: 'bucket shims', to: 'kit' },
      { value: 'screw', phrase: 'lock nut and screw', to: 'kit' },
    ],
  }),
  kit: kit({
    say: 'Lay everything out. Call off each item as you put it down.',
    why: 'An open engine collects whatever flies about. It must not wait for a part.',
    items: {
      feelerGauge: { calls: 'Feeler gauges, clean and not bent', kind: 'tool', tool: 'feelerGauge' },
      micrometer: {
        calls: 'Micrometer for the shims',
        kind: 'tool',
        tool: 'micrometer',
        when: { valveAdjuster: 'shim' },
      },
      torqueWrench: { calls: 'Small torque wrench', kind: 'tool', tool: 'torqueWrench' },
      magnet: { calls: 'Magnet for the buckets', kind: 'tool', when: { valveAdjuster: 'shim' } },
      tray: { calls: 'Tray with a place for each valve', kind: 'tool', when: { valveAdjuster: 'shim' } },
      wire: { calls: 'Wire for the cam chain', kind: 'tool', when: { valveAdjuster: 'shim' } },
      plugSocket: { calls: 'Spark plug socket', kind: 'tool' },
      gasket: { calls: 'New head cover gasket', kind: 'part' },
      washers: { calls: 'New sealing washers', kind: 'part' },
      rags: { calls: 'Two red rags, counted', kind: 'consumable' },
      oil: { calls: 'Clean engine oil', kind: 'consumable' },
      degreaser: { calls: 'Degreaser and a brush', kind: 'consumable' },
      paint: { calls: 'Paint marker', kind: 'consumable' },
    },
    next: 'card',
  }),
  card: lookUp({
    say: "The card lacks a figure. Read it from the maker's service manual.",
    needs: [
      { figure: 'inletMin' },
      { figure: 'inletMax' },
      { figure: 'exhaustMin' },
      { figure: 'exhaustMax' },
      { figure: 'headCoverBolts' },
      { figure: 'headCoverTorque' },
      { figure: 'plugTorque' },
      { figure: 'shimStep', when: { valveAdjuster: 'shim' } },
      { figure: 'shimSmallest', when: { valveAdjuster: 'shim' } },
      { figure: 'shimLargest', when: { valveAdjuster: 'shim' } },
      { figure: 'camCapBolts', when: { valveAdjuster: 'shim' } },
      { figure: 'camCapTorque', when: { valveAdjuster: 'shim' } },
      { figure: 'lockNutTorque', when: { valveAdjuster: 'screw' } },
    ],
    next: 'fuelOff',
  }),
  fuelOff: step({
    say: 'Fuel tap closed, hose off, tank off. Plug the hose.',
    cautions: [
      {
        word: 'danger',
        text: 'Petrol vapour explodes: door open, no lamp with a flame, no grinder.',
        why: 'It is heavier than air and fills the pit first. One spark sets all of it off.',
      },
    ],
    next: 'washDown',
  }),
  washDown: step({
    // Clean around the cover before it comes off: motorcyclistonline.com/features/checking_valve_clearance
    say: 'Degrease and blow clean all round the cover and the spark plug.',
    cautions: [
      {
        word: 'caution',
        text: 'Compressed air drives grit into the eye: goggles on.',
        why: 'Grit blown out of a corner comes straight back at the face.',
      },
    ],
    why: 'What lies up there falls into the engine as soon as the cover is off.',
    next: 'plugOut',
  }),
  plugOut: step({ say: 'Spark plug out. A clean plug or tape on its hole.', next: 'coverOff' }),
  coverOff: step({ say: 'Cylinder head cover off. Lay its bolts out in order.', next: 'windowOff' }),
  windowOff: step({ say: 'Crank plug and timing window plug off.', next: 'turnTop' }),
  turnTop: step({
    say: 'Turn the crank its running way until the top mark stands in the window.',
    cautions: [
      {
        word: 'notice',
        text: 'Never backwards: the cam chain tensioner lets go a tooth.',
        why: 'One tooth out and the valves meet the piston at the first start.',
      },
    ],
    drawing: 'cam-lobes.svg',
    next: 'compression',
  }),
  compression: hold({
    // Slack at the followers tells compression from exhaust; else one turn more: rentmotorcycletools.com, as above
    say: 'Mark in the window. Every lobe away from its valve, play at each one.',
    phrase: 'lobes look away',
    why: 'One turn off, the lobes press. You would set gaps that are not there, and burn the valves.',
    drawing: 'cam-lobes.svg',
    witness: 'apprentice',
    pass: 'inletOne',
    fail: 'turnOnce',
  }),
  turnOnce: step({ say: 'One more turn of the crank, its running way.', rework: true, next: 'compression' }),
};
