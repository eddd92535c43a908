import { fork, hold, kit, lookUp, step } from '../../src/procedure/index.ts';

/** Making safe, and the fluid first of all: the wrong one cannot be seen afterwards, and takes the seals with it. */
export const makeSafe = {
  protect: kit({
    say: 'First yourself. Call each one off.',
    cautions: [
      {
        word: 'warning',
        text: 'Brake dust harms the lungs, brake fluid the eyes: mask, goggles and gloves on.',
        why: 'Dust that is breathed in stays. Fluid in the eye burns until it is rinsed out.',
      },
    ],
    items: {
      eyes: { calls: 'Goggles on', kind: 'protective' },
      gloves: { calls: 'Chemical gloves on', kind: 'protective' },
      mask: { calls: 'Dust mask on', kind: 'protective' },
      water: { calls: 'Eye wash within reach', kind: 'protective' },
      helper: { calls: 'Helper here for the lever', kind: 'person' },
    },
    next: 'engineOff',
  }),
  engineOff: step({ say: 'Engine off. Put the ignition key in your pocket.', next: 'discCold' }),
  discCold: step({
    say: 'Feel for heat near the disc: it must be cold.',
    cautions: [
      {
        word: 'caution',
        text: 'A hot disc burns through a glove. Wait until it is cold.',
        why: 'After a ride a disc may be hotter than a stove, and does not look it.',
      },
    ],
    next: 'lookEnd',
  }),
  lookEnd: fork({
    say: 'Which brake: front, or rear?',
    fact: 'end',
    look: true,
    ways: [
      { value: 'front', phrase: 'front end', to: 'lookFluid' },
      { value: 'rear', phrase: 'back wheel', to: 'lookFluid' },
    ],
  }),
  lookFluid: fork({
    // Grades that do not mix: engineerfix.com/how-to-bleed-the-brakes-on-a-motorcycle; mineral oil: common practice, no source.
    say: 'Read the reservoir cap. Dot four, dot five point one, or mineral oil?',
    fact: 'fluid',
    look: true,
    ways: [
      { value: 'DOT 4', phrase: 'dot four', to: 'kit' },
      { value: 'DOT 5.1', phrase: 'dot five point one', to: 'kit' },
      { value: 'mineral oil', phrase: 'mineral oil', to: 'kit' },
    ],
  }),
  kit: kit({
    say: 'Lay everything out. Call off each item as you put it down.',
    why: 'An open brake system drinks water from the air. It must not wait for a part.',
    items: {
      torqueWrench: { calls: 'Torque wrench that covers every figure', kind: 'tool', tool: 'torqueWrench' },
      caliper: { calls: 'Caliper for the pads', kind: 'tool', tool: 'caliper' },
      micrometer: { calls: 'Micrometer for the disc', kind: 'tool', tool: 'micrometer' },
      steelRule: { calls: 'Steel rule', kind: 'tool', tool: 'steelRule', when: { end: 'rear' } },
      hose: { calls: 'Clear hose and a jar', kind: 'tool' },
      spanner: { calls: 'Ring spanner for the nipple', kind: 'tool' },
      stand: { calls: 'Stand for this end', kind: 'tool' },
      strap: { calls: 'Strap for the lever', kind: 'tool' },
      pads: { calls: 'New pads', kind: 'part' },
      dotFour: { calls: 'Sealed bottle, dot four', kind: 'consumable', when: { fluid: 'DOT 4' } },
      dotFiveOne: {
        calls: 'Sealed bottle, dot five point one',
        kind: 'consumable',
        when: { fluid: 'DOT 5.1' },
      },
      mineral: { calls: 'Sealed bottle, mineral oil', kind: 'consumable', when: { fluid: 'mineral oil' } },
      cleaner: { calls: 'Brake cleaner and lint-free rags', kind: 'consumable' },
      slideGrease: { calls: 'Grease for the slides, safe for rubber', kind: 'consumable' },
      covers: { calls: 'Covers for paint and tyre', kind: 'consumable' },
    },
    next: 'card',
  }),
  card: lookUp({
    say: "The card lacks a figure. Read it from the maker's service manual.",
    needs: [
      { figure: 'padNew' },
      { figure: 'padLeast' },
      { figure: 'discLeast' },
      { figure: 'caliperTorque' },
      { figure: 'nippleTorque' },
    ],
    next: 'fluidRight',
  }),
  fluidRight: hold({
    say: 'Point at the grade on the cap, then on the bottle. The same, and the seal whole.',
    phrase: 'bottle matches the cap',
    why: 'The wrong fluid swells the seals and the brake locks or fails, days later, on the road.',
    witness: 'apprentice',
    pass: 'covers',
    fail: 'otherBottle',
  }),
  otherBottle: step({
    say: 'Put that bottle away. Fetch a sealed one of the grade on the cap.',
    rework: true,
    next: 'fluidRight',
  }),
  covers: step({
    say: 'Cover tank, tyre and paint under reservoir and hose.',
    cautions: [
      {
        word: 'notice',
        text: 'Brake fluid eats paint: wash a drop off with water at once.',
        why: 'Wiped only, it creeps under the paint and lifts it days later.',
      },
    ],
    next: 'freeCaliper',
  }),
  freeCaliper: step({
    say: 'Machine on its wheels: break the caliper bolts free, half a turn.',
    why: 'On the stand a hard pull on the spanner tips the machine.',
    next: 'raise',
  }),
  raise: step({
    say: 'Chock the other wheel. Raise the machine until this wheel hangs clear.',
    cautions: [
      {
        word: 'warning',
        text: 'A falling machine can crush you: lift with your helper.',
        why: 'Once it tips past its stand one person cannot stop it, and lies under it.',
      },
    ],
    next: 'standFirm',
  }),
  standFirm: hold({
    say: 'Rock the machine by hand. It must not tip, roll or creep.',
    phrase: 'rock steady on stand',
    why: 'You kneel beside it with both hands in the brake. It must not come down.',
    pass: 'dustOff',
    fail: 'raiseAgain',
  }),
  raiseAgain: step({
    say: 'Lower it, move the stand, and raise it once more.',
    rework: true,
    next: 'standFirm',
  }),
};
