import { fork, hold, round, step } from '../../src/procedure/index.ts';

/** Everything is broken free while the old chain and the brake still hold the shafts; only then does the chain come off. */
export const strip = {
  brakeOn: step({
    say: 'Helper: rear brake on, and keep it on.',
    drawing: 'brake-helper.svg',
    why: 'The brake and the old chain are the only things that hold both sprockets still.',
    next: 'freeFront',
  }),
  freeFront: fork({
    say: 'A bolt, a circlip, or a nut with a tab washer?',
    fact: 'retainer',
    ways: [
      { value: 'bolt', phrase: 'centre bolt', to: 'freeBolt' },
      { value: 'circlip', phrase: 'circlip ring', to: 'freeRear' },
      { value: 'tab nut', phrase: 'nut with tab', to: 'unbendTab' },
    ],
  }),
  freeBolt: step({ say: 'Break the front sprocket bolt free: half a turn, no more.', next: 'freeRear' }),
  unbendTab: step({
    say: 'Bend the tab washer back, flat off the nut.',
    drawing: 'tab-washer.svg',
    cautions: [
      {
        word: 'caution',
        text: 'A slipping chisel goes into the other hand: tap away from it.',
        why: 'A tab lets go all at once. The chisel then goes on with the whole blow behind it.',
      },
    ],
    next: 'freeNut',
  }),
  freeNut: step({ say: 'Break the front sprocket nut free: half a turn, no more.', next: 'freeRear' }),
  freeRear: round({
    say: 'Break each rear sprocket bolt free: a quarter turn, by its nut.',
    // The nut is turned, not the bolt: dirtbikemagazine.com/tech-chain-and-sprocket-done-right-sink-your-teeth-into-the-job/
    why: 'Turned by its head, a countersunk bolt rounds off in its seat.',
    fasteners: { figure: 'rearBolts' },
    passes: ['break free'],
    fastener: 'bolt',
    next: 'freeAxle',
  }),
  freeAxle: step({
    say: 'Split pin out if there is one. Break the axle nut free.',
    next: 'brokenFree',
  }),
  brokenFree: hold({
    say: 'Try every fastener you have broken free. Each must turn with a plain spanner.',
    phrase: 'every fastener moves',
    why: 'With the chain off nothing holds the shafts. Then people jam bars in the spokes and break them.',
    pass: 'brakeOff',
    fail: 'freeAgain',
  }),
  freeAgain: step({
    say: 'Helper: brake on. Break free whatever still sticks.',
    rework: true,
    next: 'brokenFree',
  }),
  brakeOff: step({ say: 'Helper: brake off, and stand clear.', next: 'raise' }),
  raise: step({
    say: 'Raise the machine on its stand until the rear wheel hangs clear.',
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
    why: 'You are about to lie beside it and take out the wheel. It must not come down.',
    pass: 'slacken',
    fail: 'raiseAgain',
  }),
  raiseAgain: step({
    say: 'Lower it, move the stand, and raise it once more.',
    rework: true,
    next: 'standFirm',
  }),
  slacken: step({ say: 'Slacken both adjusters. Push the wheel fully forward.', next: 'parting' }),
  parting: step({
    say: 'Part the old chain: clip off, or press a pin right out.',
    cautions: [
      {
        word: 'warning',
        text: 'A clip or a broken pin can blind you: eye protection on.',
        why: 'Parting a chain loads the pin until something gives. It flies towards the face above it.',
      },
    ],
    next: 'chainOff',
  }),
  chainOff: step({ say: 'Draw the old chain off. Lay it straight on the bench.', next: 'wheelOut' }),
  wheelOut: step({
    say: 'Draw the axle. Lay the wheel on blocks, sprocket up, disc touching nothing.',
    cautions: [
      {
        word: 'notice',
        text: 'Keep the brake released while the wheel is out, or the pads close up.',
        why: 'Without a disc between them the pads meet, and the wheel does not go back in.',
      },
    ],
    next: 'outerFace',
  }),
};
