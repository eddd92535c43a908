import { fork, hold, kit, lookUp, reading, step } from '../../src/procedure/index.ts';

const clicks = { unit: '', min: 0, max: 60 } as const;

/** Making safe, looking, and writing down every setting before it is lost. */
export const makeSafe = {
  protect: kit({
    say: 'First yourself. Call each one off.',
    cautions: [
      {
        word: 'warning',
        text: 'Fork caps and springs jump at the face: goggles on.',
        why: 'The spring stands under load until the last thread, and the face is above it.',
      },
    ],
    items: {
      eyes: { calls: 'Goggles on', kind: 'protective' },
      gloves: { calls: 'Gloves on', kind: 'protective' },
      helper: { calls: 'Helper here', kind: 'person' },
      rider: { calls: 'Rider here in full gear', kind: 'person' },
    },
    next: 'engineOff',
  }),
  engineOff: step({ say: 'Engine off. Put the ignition key in your pocket.', next: 'lookOil' }),
  lookOil: fork({
    say: 'Is the fork oil to be changed? Or does it stay in?',
    fact: 'oil',
    look: true,
    ways: [
      { value: 'change', phrase: 'change the oil', to: 'lookPreload' },
      { value: 'keep', phrase: 'sag alone', to: 'lookPreload' },
    ],
  }),
  lookPreload: fork({
    // Spacers where there is no adjuster: docstoc.com/docs/14826882
    say: 'Look at the fork caps. Preload adjusters, or spacers inside?',
    fact: 'preload',
    look: true,
    ways: [
      { value: 'adjuster', phrase: 'preload adjusters', to: 'lookClickers' },
      { value: 'spacer', phrase: 'spacers inside', to: 'lookClickers' },
    ],
  }),
  lookClickers: fork({
    say: 'Do the legs have damping adjusters that click?',
    fact: 'clickers',
    look: true,
    ways: [
      { value: true, phrase: 'clickers fitted', to: 'kit' },
      { value: false, phrase: 'nothing clicks', to: 'kit' },
    ],
  }),
  kit: kit({
    say: 'Lay everything out. Call off each item as you put it down.',
    why: 'With the fork out nothing holds the machine but the stand. It must not wait for a part.',
    items: {
      torqueWrench: { calls: 'Torque wrench that covers every figure', kind: 'tool', tool: 'torqueWrench' },
      steelRule: { calls: 'Steel rule', kind: 'tool', tool: 'steelRule' },
      depthGauge: {
        calls: 'Depth gauge for the oil',
        kind: 'tool',
        tool: 'depthGauge',
        when: { oil: 'change' },
      },
      capSpanner: { calls: 'Spanner that fits the caps all round', kind: 'tool' },
      stand: { calls: 'Front stand under the engine', kind: 'tool' },
      tray: { calls: 'Drain tray', kind: 'tool', when: { oil: 'change' } },
      oil: { calls: 'Fork oil, grade as the manual says', kind: 'consumable', when: { oil: 'change' } },
      rings: { calls: 'New cap sealing rings', kind: 'part', when: { oil: 'change' } },
      spacers: { calls: 'Spacer tube and a saw', kind: 'part', when: { preload: 'spacer' } },
      tape: { calls: 'Tape to mark the fork', kind: 'consumable' },
    },
    next: 'card',
  }),
  card: lookUp({
    say: "The card lacks a figure. Read it from the maker's service manual.",
    needs: [
      { figure: 'forkTravel' },
      { figure: 'sagTarget' },
      { figure: 'sagMin' },
      { figure: 'sagMax' },
      { figure: 'pinchTorque' },
      { figure: 'pinchBolts' },
      { figure: 'forkOilLevel', when: { oil: 'change' } },
      { figure: 'legHeight', when: { oil: 'change' } },
      { figure: 'lowerClampTorque', when: { oil: 'change' } },
      { figure: 'lowerClampBolts', when: { oil: 'change' } },
      { figure: 'frontAxleTorque', when: { oil: 'change' } },
      { figure: 'caliperTorque', when: { oil: 'change' } },
      { figure: 'forkCapTorque' },
      { figure: 'upperClampTorque' },
    ],
    next: 'clicksWere',
  }),
  clicksWere: fork({
    say: 'Do the legs have damping adjusters that click?',
    fact: 'clickers',
    ways: [
      { value: true, phrase: 'clickers fitted', to: 'reboundWas' },
      { value: false, phrase: 'nothing clicks', to: 'preloadWas' },
    ],
  }),
  reboundWas: reading({
    // Settings written down before the work: dirtbikemagazine.com/suspension-tech-in-your-own-garage
    say: 'Rebound: count the clicks to full in, then back out. Give the count.',
    why: 'It is what the rider is used to. Written down it can be given back.',
    cautions: [
      {
        word: 'notice',
        text: 'Gently: forced home, the needle cuts its seat.',
        why: 'With a cut seat the damper cannot be set any more, and that part is not sold apart.',
      },
    ],
    measure: { ...clicks, name: 'rebound', label: 'Rebound clicks from full in' },
    inside: 'compressionWas',
    outside: 'clicksAgain',
  }),
  compressionWas: reading({
    say: 'Compression: count the clicks to full in, then back out. Give the count.',
    measure: { ...clicks, name: 'compression', label: 'Compression clicks from full in' },
    inside: 'preloadWas',
    outside: 'clicksAgain',
  }),
  clicksAgain: step({ say: 'That is too many. Count once more.', rework: true, next: 'reboundWas' }),
  preloadWas: fork({
    say: 'Preload adjusters, or spacers inside?',
    fact: 'preload',
    ways: [
      { value: 'adjuster', phrase: 'preload adjusters', to: 'turnsWere' },
      { value: 'spacer', phrase: 'spacers inside', to: 'oilFork' },
    ],
  }),
  turnsWere: reading({
    say: 'Preload: count the turns to full out, then back in. Give the turns.',
    measure: { name: 'turnsWere', label: 'Preload turns as found', unit: 'turns', min: 0, max: 40 },
    inside: 'oilFork',
    outside: 'turnsAgain',
  }),
  turnsAgain: step({ say: 'That is too many. Count once more.', rework: true, next: 'turnsWere' }),
  oilFork: fork({
    say: 'Change the oil, or sag alone?',
    fact: 'oil',
    ways: [
      { value: 'change', phrase: 'change the oil', to: 'capsFree' },
      { value: 'keep', phrase: 'sag alone', to: 'raise' },
    ],
  }),
  capsFree: step({
    // Upper clamp first, then the cap, with the leg still held: sonicsprings.com, damper rod forks
    say: 'Preload full out. Upper clamps slack, both caps free half a turn.',
    why: 'Once the leg is out nothing holds it for the spanner.',
    next: 'axleFree',
  }),
  axleFree: step({ say: 'Pinch bolts slack, axle free half a turn, caliper bolts too.', next: 'raise' }),
  raise: step({
    say: 'Chock the rear wheel. Raise the machine until the front wheel hangs clear.',
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
    why: 'Without its fork the machine stands on the engine alone. It must not come down.',
    pass: 'legsFork',
    fail: 'raiseAgain',
  }),
  raiseAgain: step({
    say: 'Lower it, move the stand, and raise it once more.',
    rework: true,
    next: 'standFirm',
  }),
  legsFork: fork({
    say: 'Change the oil, or sag alone?',
    fact: 'oil',
    ways: [
      { value: 'change', phrase: 'change the oil', to: 'wheelOff' },
      { value: 'keep', phrase: 'sag alone', to: 'tape' },
    ],
  }),
};
