import { fork, hold, kit, lookUp, step } from '../../src/procedure/index.ts';

const code = { name: 'tyreRim', unit: 'in' } as const;
// Common practice, no source: the code on the tyre and the one in the rim are read, not trusted to the parcel's label.
const size = {
  say: 'Read the rim code on the new tyre, then in the rim. Give the number on the tyre.',
  why: 'A tyre for another rim never seats. Pumped up until it does, it bursts and kills.',
  drawing: 'tyre-code.svg',
  witness: 'apprentice',
} as const;

/** Making safe, looking at the wheel that is really there, and the one thing that cannot be put right later: the size. */
export const makeSafe = {
  protect: kit({
    say: 'First yourself. Call each one off.',
    cautions: [
      {
        word: 'warning',
        text: 'Levers slip and valve cores fly: eye protection on until the wheel is in.',
        why: "A lever under load comes back at the face, and a core leaves with the tyre's pressure.",
      },
    ],
    items: {
      eyes: { calls: 'Eye protection on', kind: 'protective' },
      ears: { calls: 'Hearing protection at hand', kind: 'protective' },
      gloves: { calls: 'Close-fitting gloves on', kind: 'protective' },
      helper: { calls: 'Helper here for the lift', kind: 'person' },
    },
    next: 'engineOff',
  }),
  engineOff: step({
    say: 'Engine off. Put the ignition key in your pocket.',
    cautions: [
      {
        word: 'danger',
        text: 'A wheel driven by the engine takes fingers off. Never run it here.',
        why: 'The engine does not feel a finger, and the spokes come round faster than a hand goes.',
      },
    ],
    next: 'engineCold',
  }),
  engineCold: step({
    say: 'Feel for heat: engine, silencer and brake must be cold to the touch.',
    cautions: [
      {
        word: 'caution',
        text: 'A hot silencer or disc burns through a glove.',
        why: 'Both stay hot long after the ride. A burnt hand drops the wheel that it holds.',
      },
    ],
    next: 'lookEnd',
  }),
  lookEnd: fork({
    say: 'Which wheel comes out: front, or rear?',
    fact: 'end',
    look: true,
    ways: [
      { value: 'front', phrase: 'front wheel', to: 'lookTyre' },
      { value: 'rear', phrase: 'rear wheel', to: 'lookTyre' },
    ],
  }),
  lookTyre: fork({
    say: 'Look at the valve. A nut on its stem means a tube. Tube, or tubeless?',
    fact: 'tyre',
    look: true,
    ways: [
      { value: 'tube', phrase: 'inner tube', to: 'lookBrake' },
      { value: 'tubeless', phrase: 'tubeless rim', to: 'lookBrake' },
    ],
  }),
  lookBrake: fork({
    say: 'What brakes this wheel: a disc, or a drum?',
    fact: 'wheelBrake',
    look: true,
    ways: [
      { value: 'disc', phrase: 'disc brake', to: 'lookBalance' },
      { value: 'drum', phrase: 'brake drum', to: 'lookBalance' },
    ],
  }),
  lookBalance: fork({
    say: 'Does it run on the road, and is to be balanced? Or not?',
    fact: 'balance',
    look: true,
    why: 'Off the road a rim lock outweighs everything. On the road an unbalanced wheel shakes the bars.',
    ways: [
      { value: true, phrase: 'balance it', to: 'kit' },
      { value: false, phrase: 'leave unbalanced', to: 'kit' },
    ],
  }),
  kit: kit({
    say: 'Lay everything out. Call off each item as you put it down.',
    why: 'With the wheel out the machine stands on one leg. It must not wait for a part.',
    items: {
      torqueWrench: { calls: 'Torque wrench that covers every figure', kind: 'tool', tool: 'torqueWrench' },
      pressureGauge: { calls: 'Tyre pressure gauge', kind: 'tool', tool: 'pressureGauge' },
      steelRule: { calls: 'Steel rule', kind: 'tool', tool: 'steelRule', when: { end: 'rear' } },
      levers: { calls: 'Three tyre levers and rim protectors', kind: 'tool' },
      coreTool: { calls: 'Valve core tool', kind: 'tool' },
      chuck: { calls: 'Clip-on chuck with a long hose', kind: 'tool' },
      balancer: { calls: 'Balancing stand', kind: 'tool', when: { balance: true } },
      stand: { calls: 'Stand for this end', kind: 'tool' },
      tyre: { calls: 'New tyre', kind: 'part' },
      tube: { calls: 'New tube of the same size', kind: 'part', when: { tyre: 'tube' } },
      rimTape: { calls: 'New rim tape', kind: 'part', when: { tyre: 'tube' } },
      valve: { calls: 'New rubber valve', kind: 'part', when: { tyre: 'tubeless' } },
      splitPin: { calls: 'New split pins', kind: 'part' },
      weights: { calls: 'Balance weights', kind: 'part', when: { balance: true } },
      soap: { calls: 'Bead soap and a brush', kind: 'consumable' },
      grease: { calls: 'Axle grease', kind: 'consumable' },
      chalk: { calls: 'Chalk', kind: 'consumable' },
    },
    next: 'card',
  }),
  card: lookUp({
    say: "The card lacks a figure. Read it from the maker's service manual.",
    needs: [
      { figure: 'frontRim', when: { end: 'front' } },
      { figure: 'rearRim', when: { end: 'rear' } },
      { figure: 'seatPressure' },
      { figure: 'frontPressure', when: { end: 'front' } },
      { figure: 'frontAxleTorque', when: { end: 'front' } },
      { figure: 'pinchTorque', when: { end: 'front' } },
      { figure: 'pinchBolts', when: { end: 'front' } },
      { figure: 'rearPressure', when: { end: 'rear' } },
      { figure: 'axleTorque', when: { end: 'rear' } },
      { figure: 'slackMin', when: { end: 'rear' } },
      { figure: 'slackMax', when: { end: 'rear' } },
      { figure: 'caliperTorque', when: { wheelBrake: 'disc' } },
      { figure: 'armTorque', when: { wheelBrake: 'drum' } },
    ],
    next: 'sizeFork',
  }),
  sizeFork: fork({
    say: 'Front wheel, or rear wheel?',
    fact: 'end',
    ways: [
      { value: 'front', phrase: 'front wheel', to: 'sizeFront' },
      { value: 'rear', phrase: 'rear wheel', to: 'sizeRear' },
    ],
  }),
  sizeFront: hold({
    ...size,
    phrase: 'front rim and tyre agree',
    applies: { end: 'front' },
    measure: { ...code, label: 'Rim code, front', min: { figure: 'frontRim' }, max: { figure: 'frontRim' } },
    pass: 'freeFork',
    fail: 'otherTyre',
  }),
  sizeRear: hold({
    ...size,
    phrase: 'tyre belongs on this rear',
    applies: { end: 'rear' },
    measure: { ...code, label: 'Rim code, rear', min: { figure: 'rearRim' }, max: { figure: 'rearRim' } },
    pass: 'freeFork',
    fail: 'otherTyre',
  }),
  otherTyre: step({
    say: 'Put that tyre back. Fetch one of the size on the card.',
    rework: true,
    next: 'sizeFork',
  }),
};
