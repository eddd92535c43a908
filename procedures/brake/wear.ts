import { fork, hold, reading, step, working } from '../../src/procedure/index.ts';

// No lining is thicker than new; two tenths allow for the caliper's jaws (our own).
const lining = { unit: 'mm', min: 0, max: { figure: 'padNew', plus: 0.2 }, tool: 'caliper' } as const;

/** Pads and disc measured; what is under its least is renewed, and what goes back in is measured once more as a hold. */
export const wear = {
  dustOff: step({
    // Never blown: common practice, no source.
    say: 'Wet the dust with brake cleaner and wipe it away.',
    cautions: [
      {
        word: 'warning',
        text: 'Never blow it out: the dust goes into your lungs.',
        why: 'The finest dust hangs in the air for hours, and everyone in the room breathes it.',
      },
    ],
    next: 'caliperOff',
  }),
  caliperOff: step({
    say: 'Caliper off. Hang it on a wire, never on its hose.',
    cautions: [
      {
        word: 'notice',
        text: 'From now on nobody touches the lever: the pistons would come out.',
        why: 'With nothing between the pads one pull pushes a piston out, and the fluid with it.',
      },
    ],
    next: 'padsOut',
  }),
  padsOut: step({
    say: 'Pin out, pads out. Lay them down as they sat, inner and outer.',
    cautions: [
      {
        word: 'caution',
        text: 'The pad spring can fly: goggles stay on.',
        why: 'It is loaded until the pin is out, and lies just before the face.',
      },
    ],
    next: 'padInner',
  }),
  padInner: reading({
    say: 'Measure the lining of the inner pad at its thinnest place.',
    measure: { ...lining, name: 'padInner', label: 'Inner lining' },
    inside: 'padOuter',
    outside: 'padsAgain',
  }),
  padOuter: reading({
    say: 'Measure the lining of the outer pad at its thinnest place.',
    measure: { ...lining, name: 'padOuter', label: 'Outer lining' },
    inside: 'padRun',
    outside: 'padsAgain',
  }),
  padsAgain: step({
    say: 'Measure the lining alone, without its backing plate.',
    rework: true,
    next: 'padInner',
  }),
  padRun: reading({
    say: 'Look in the job book: how far have these pads run? Give the distance.',
    measure: { name: 'padRun', label: 'Distance on these pads', unit: 'km', min: 1, max: 100_000 },
    inside: 'padLife',
    outside: 'padRunAgain',
  }),
  padRunAgain: step({ say: 'Look again: the distance since they were new.', rework: true, next: 'padRun' }),
  padLife: working({
    say: 'Look what is left of them.',
    why: 'Pads are ordered by what is left, and not when the plate grinds the disc.',
    working: 'brake-wear',
    inputs: {
      measured: [{ reading: 'padInner' }, { reading: 'padOuter' }],
      new: { figure: 'padNew' },
      least: { figure: 'padLeast' },
      distance: { reading: 'padRun' },
    },
    answers: [
      { key: 'verdict', label: 'The pads are', unit: '' },
      { key: 'wornPercent', label: 'Worn', unit: '%' },
      { key: 'taper', label: 'Difference inner to outer', unit: 'mm' },
      { key: 'distanceLeft', label: 'Left at this rate', unit: 'km' },
    ],
    next: 'padsFork',
    noAnswer: 'padsAgain',
  }),
  padsFork: fork({
    // Oil in the lining does not come out: vehiclefixing.com/clean-contaminated-brake-pads
    say: 'Oily, cracked, uneven or near their limit: renew. Else keep. Which?',
    fact: 'pads',
    look: true,
    ways: [
      { value: 'keep', phrase: 'pads stay in', to: 'pistonsClean' },
      { value: 'renew', phrase: 'new lining goes in', to: 'pistonsClean' },
    ],
  }),
  pistonsClean: step({
    // Clean before they go back: pressreader.com, a motorcycle newspaper, 2016-09-14, replace your brake pads.
    say: 'Wash the pistons and slides with brake cleaner. Look for rust and torn boots.',
    why: 'Dirt pushed back with the piston cuts the seal.',
    next: 'fluidLow',
  }),
  fluidLow: step({
    say: 'Reservoir open. Draw fluid off to the lower mark.',
    cautions: [
      {
        word: 'caution',
        text: 'Fluid irritates skin and eyes: rinse at once with water.',
        why: 'It goes on burning until it is rinsed out: minutes count.',
      },
    ],
    next: 'pistonsBack',
  }),
  pistonsBack: step({
    say: 'Push the pistons back, straight, by hand. Watch the reservoir rise.',
    next: 'discMeasure',
  }),
  discMeasure: reading({
    say: 'Measure the disc in its track at four places. Give the thinnest.',
    measure: {
      name: 'discNow',
      label: 'Disc as found',
      unit: 'mm',
      min: { figure: 'discLeast' },
      tool: 'micrometer',
    },
    inside: 'discFork',
    outside: 'discThin',
  }),
  discThin: step({
    say: 'It is under its least thickness. It comes off.',
    why: 'A thin disc overheats and cracks right through.',
    next: 'discFork',
  }),
  discFork: fork({
    say: 'Cracked, blue, grooved, bent or thin: renew. Else keep. Which?',
    fact: 'disc',
    look: true,
    ways: [
      { value: 'keep', phrase: 'disc stays on', to: 'discSound' },
      { value: 'renew', phrase: 'fit another rotor', to: 'discNeeds' },
    ],
  }),
  discSound: hold({
    say: 'Measure the disc that stays on once more. Give the thinnest.',
    phrase: 'disc above its least',
    why: 'Under its least thickness it cracks from the bolt holes outward and locks the wheel.',
    applies: { disc: 'keep' },
    measure: {
      name: 'discStays',
      label: 'Disc that stays on',
      unit: 'mm',
      min: { figure: 'discLeast' },
      tool: 'micrometer',
    },
    pass: 'discClean',
    fail: 'discDoubt',
  }),
  discDoubt: step({
    say: 'Wipe the track and the micrometer. Still thin: it is renewed.',
    rework: true,
    next: 'discFork',
  }),
};
