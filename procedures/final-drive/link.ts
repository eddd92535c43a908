import { fork, hold, reading, step } from '../../src/procedure/index.ts';

/*
 * The joining link. Order of seals and plate, grease and clip: instructions for connecting O-ring chains, stored at
 * beamcoupling.com/how-you-can-connect-o-ring-chains-remarks-to-connect-standard-o-ring-chains/. Closed end of the clip
 * first in the direction of travel: msgroup.org/forums/mtt/topic.asp?TOPIC_ID=383.
 */
/** Each pin is measured twice, square to each other: first up to the least flare, then, as a hold, within both limits. */
const reached = { unit: 'mm', min: { figure: 'flareMin' }, tool: 'caliper' } as const;
const within = { ...reached, max: { figure: 'flareMax' } } as const;

export const link = {
  sealsBehind: step({
    say: 'Grease both link pins. One seal on each pin, against the back plate.',
    drawing: 'seals-order.svg',
    next: 'pinsSealed',
  }),
  pinsSealed: step({ say: 'Push the link through both chain ends from behind.', next: 'sealsFront' }),
  sealsFront: step({
    say: 'In front: one greased seal on each pin.',
    drawing: 'seals-order.svg',
    next: 'sealsPlaced',
  }),
  sealsPlaced: hold({
    say: 'Count the seals: two behind, two in front, none twisted.',
    phrase: 'all four seals placed',
    why: 'A missing seal lets the grease out. That one joint runs dry, seizes and breaks.',
    drawing: 'seals-order.svg',
    applies: { sealed: true },
    witness: 'apprentice',
    pass: 'plateOn',
    fail: 'sealsAgain',
  }),
  sealsAgain: step({
    say: 'Draw the link out. Begin with new seals.',
    rework: true,
    next: 'sealsBehind',
  }),
  pinsPlain: step({
    say: 'Oil both link pins. Push the link through both chain ends from behind.',
    next: 'plateOn',
  }),
  plateOn: step({
    say: 'Press the side plate on, straight and a little at a time.',
    drawing: 'side-plate.svg',
    why: 'Knocked on with a hammer it bends the pins, or nips the joint tight.',
    next: 'plateHome',
  }),
  plateHome: hold({
    // The plate goes down far enough to lay the groove open: motorcycle.in.th, motorcycle chain and master link keeper.
    say: 'Sight along the chain: the new plate must stand level with its neighbours.',
    phrase: 'level with its neighbours',
    why: 'A plate that stands proud keeps clip or rivet from holding it. It walks off and the chain flies.',
    drawing: 'side-plate.svg',
    witness: 'apprentice',
    pass: 'close',
    fail: 'plateAgain',
  }),
  plateAgain: step({ say: 'Press again, square on both pins.', rework: true, next: 'plateHome' }),
  close: fork({
    say: 'Clip link, or riveted link?',
    fact: 'link',
    ways: [
      { value: 'clip', phrase: 'clip link', to: 'clipSound' },
      { value: 'rivet', phrase: 'riveted link', to: 'flareFirst' },
    ],
  }),
  clipSound: hold({
    say: 'Look at the clip: flat, legs alike, never used. In any doubt take a new one.',
    phrase: 'flat unbent clip',
    why: 'A clip that was opened once has lost its spring. It falls off and takes the chain with it.',
    applies: { link: 'clip' },
    pass: 'clipOn',
    fail: 'clipNew',
  }),
  clipNew: step({ say: 'Scrap that clip. Take a new one.', rework: true, next: 'clipSound' }),
  clipOn: step({
    say: 'Slide the clip on, closed end towards the direction of travel.',
    drawing: 'clip-way.svg',
    next: 'clipWay',
  }),
  clipWay: hold({
    say: 'Turn the wheel forward by its tyre. The open end of the clip must come last.',
    phrase: 'open end trails',
    why: 'A clip with its open end leading is knocked off by the first thing that touches it.',
    drawing: 'clip-way.svg',
    applies: { link: 'clip' },
    witness: 'apprentice',
    pass: 'clipSeated',
    fail: 'clipTurn',
  }),
  clipTurn: step({
    say: 'Slide it off. Take a new clip, closed end forward.',
    rework: true,
    next: 'clipSound',
  }),
  clipSeated: hold({
    say: 'Push the clip with a pick: both legs in the grooves, no gap under it.',
    phrase: 'legs in both grooves',
    why: 'A clip that sits on one pin only springs off, and the link opens at speed.',
    drawing: 'clip-seated.svg',
    applies: { link: 'clip' },
    witness: 'apprentice',
    pass: 'jointFree',
    fail: 'clipSeat',
  }),
  clipSeat: step({
    say: 'Take it off. Press the plate home, then start with a new clip.',
    rework: true,
    next: 'plateHome',
  }),
  flareFirst: step({
    say: 'Rivet tool square on the first pin. Flare it a little at a time.',
    drawing: 'rivet-flare.svg',
    next: 'sizeFirst',
  }),
  sizeFirst: reading({
    say: 'Measure across the first flare.',
    drawing: 'rivet-flare.svg',
    measure: { name: 'flareFirst', label: 'First flare across', ...reached },
    inside: 'acrossFirst',
    outside: 'moreFirst',
  }),
  moreFirst: step({ say: 'Flare the first pin a little more.', rework: true, next: 'sizeFirst' }),
  acrossFirst: hold({
    say: 'Turn the caliper square to that, measure again. No split anywhere.',
    phrase: 'leading rivet round and whole',
    why: 'Too small, and the plate walks off the pin. Too large, and the pin has split.',
    drawing: 'rivet-flare.svg',
    applies: { link: 'rivet' },
    witness: 'apprentice',
    measure: { name: 'flareFirstAcross', label: 'First flare, square to that', ...within },
    pass: 'flareSecond',
    fail: 'linkScrap',
  }),
  flareSecond: step({
    say: 'Rivet tool square on the second pin. Flare it a little at a time.',
    drawing: 'rivet-flare.svg',
    next: 'sizeSecond',
  }),
  sizeSecond: reading({
    say: 'Measure across the second flare.',
    drawing: 'rivet-flare.svg',
    measure: { name: 'flareSecond', label: 'Second flare across', ...reached },
    inside: 'acrossSecond',
    outside: 'moreSecond',
  }),
  moreSecond: step({ say: 'Flare the second pin a little more.', rework: true, next: 'sizeSecond' }),
  acrossSecond: hold({
    say: 'Turn the caliper square to that, measure again. No split anywhere.',
    phrase: 'other pin flared to size',
    why: 'One good rivet does not hold a link: the plate swings out on the bad one.',
    drawing: 'rivet-flare.svg',
    applies: { link: 'rivet' },
    witness: 'apprentice',
    measure: { name: 'flareSecondAcross', label: 'Second flare, square to that', ...within },
    pass: 'jointFree',
    fail: 'linkScrap',
  }),
  linkScrap: step({
    say: 'Press the pins out and scrap this link. Take a new one, with new seals.',
    rework: true,
    next: 'ends',
  }),
  jointFree: step({
    say: 'Bend the new joint both ways. It must swing like its neighbours.',
    why: 'A stiff joint hammers over the sprockets and works its own plates loose.',
    next: 'slackFor',
  }),
};
