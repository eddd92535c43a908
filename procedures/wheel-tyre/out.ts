import { fork, hold, step } from '../../src/procedure/index.ts';

/** The wheel out, the old tyre off. Fasteners are broken free while the machine still stands on its wheels. */
export const out = {
  freeFork: fork({
    say: 'Front wheel, or rear wheel?',
    fact: 'end',
    ways: [
      { value: 'front', phrase: 'front wheel', to: 'freePinch' },
      { value: 'rear', phrase: 'rear wheel', to: 'freeAxle' },
    ],
  }),
  freePinch: step({ say: 'Slacken the axle pinch bolts. Leave them in.', next: 'freeAxle' }),
  freeAxle: step({
    say: 'Split pin out if there is one. Break the axle free, half a turn.',
    // Fasteners are broken free with the machine's weight on its wheels: lamotorcyclist.com/chainsnsprockets016.html
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
    why: 'Drawing the wheel takes its weight off one end. What only just stood then falls on you.',
    pass: 'brakeFree',
    fail: 'raiseAgain',
  }),
  raiseAgain: step({
    say: 'Lower it, move the stand, and raise it once more.',
    rework: true,
    next: 'standFirm',
  }),
  brakeFree: fork({
    say: 'Disc brake, or brake drum?',
    fact: 'wheelBrake',
    ways: [
      { value: 'disc', phrase: 'disc brake', to: 'caliperOff' },
      { value: 'drum', phrase: 'brake drum', to: 'armOff' },
    ],
  }),
  caliperOff: step({
    say: 'Caliper off. Hang it on a wire, never on its hose.',
    cautions: [
      {
        word: 'notice',
        text: 'From now on nobody touches the brake: the pads would close up.',
        why: 'Without a disc between them the pads meet, and the wheel does not go back in.',
      },
    ],
    why: 'A hose that has carried the caliper splits inside, and nobody sees it.',
    next: 'chainFree',
  }),
  armOff: step({
    say: 'Undo torque arm and brake rod. Lay nuts and washers out in order.',
    next: 'chainFree',
  }),
  chainFree: fork({
    say: 'Front wheel, or rear wheel?',
    fact: 'end',
    ways: [
      { value: 'front', phrase: 'front wheel', to: 'axleOut' },
      { value: 'rear', phrase: 'rear wheel', to: 'chainOff' },
    ],
  }),
  chainOff: step({
    say: 'Push the wheel forward. Lift the chain off its sprocket.',
    cautions: [
      {
        word: 'caution',
        text: 'A finger between chain and sprocket is lost: turn by the tyre.',
        why: 'Where the chain runs on to the sprocket there is no way out, even turned by hand.',
      },
    ],
    next: 'axleOut',
  }),
  axleOut: step({
    say: 'Draw the axle. Lower the wheel out, spacers lying as they came.',
    cautions: [
      {
        word: 'caution',
        text: 'Fingers get crushed under the hub: lift by the tyre.',
        why: 'The wheel drops as the axle leaves, with its whole weight on what lies under it.',
      },
    ],
    next: 'chalkRim',
  }),
  chalkRim: step({
    // Common practice, no source.
    say: 'Chalk an arrow on the rim: the way it turns when the machine goes forward.',
    why: 'On the floor left and right look the same. The chalk does not forget.',
    drawing: 'tyre-arrow.svg',
    next: 'airOut',
  }),
  airOut: step({
    say: 'Valve core out. Wait for the last of the air.',
    cautions: [
      {
        word: 'warning',
        text: 'The core flies like a bullet: turn the valve away from your face.',
        why: 'The air of the whole tyre leaves behind it in an instant.',
      },
    ],
    next: 'airGone',
  }),
  airGone: hold({
    say: 'Press the tyre in with your knee, all round. It must give everywhere.',
    phrase: 'tyre gives like cloth',
    why: 'Air that is left throws the lever into your face as the bead comes off.',
    pass: 'stemNut',
    fail: 'airStays',
  }),
  airStays: step({
    say: 'Valve core right out, a wire through the stem. Wait.',
    rework: true,
    next: 'airGone',
  }),
  stemNut: step({
    say: 'Valve nut off and rim lock slack, where there are any. Push both inward.',
    next: 'beadsBreak',
  }),
  beadsBreak: step({
    say: 'Press both beads down into the well, all the way round.',
    cautions: [
      {
        word: 'notice',
        text: 'A disc that bears on the floor bends: wheel on blocks, disc clear.',
        why: 'A disc bent by a hair makes the lever pulse, and it cannot be bent back.',
      },
    ],
    next: 'firstBead',
  }),
  firstBead: step({
    say: 'Lever the first bead over the rim in small bites, far side in the well.',
    cautions: [
      {
        word: 'warning',
        text: 'A lever that springs back breaks teeth: face away, both hands on it.',
        why: 'The bead is a steel hoop: a lever that slips off it comes back with all its force.',
      },
    ],
    why: 'The far bead in the well gives the slack. Force without it tears the bead.',
    next: 'tubeOut',
  }),
  tubeOut: step({ say: 'Pull the tube out if there is one, its valve last.', next: 'tyreOff' }),
  tyreOff: step({ say: 'Lever the second bead over. Old tyre off the rim.', next: 'rimLook' }),
  rimLook: step({ say: 'Wipe the rim. Turn it past one eye.', next: 'rimSound' }),
  rimSound: hold({
    say: 'No dent in the bead seat, no crack, no rust that flakes, no loose spoke.',
    phrase: 'rim whole and true',
    why: 'At a dented bead seat the tyre comes off the rim in a bend.',
    pass: 'rimFork',
    fail: 'rimRepair',
  }),
  rimRepair: step({
    say: 'Fetch the supervisor. The rim is trued or renewed before a tyre goes on.',
    rework: true,
    next: 'rimLook',
  }),
};
