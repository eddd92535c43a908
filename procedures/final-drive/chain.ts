import { fork, hold, step } from '../../src/procedure/index.ts';

/** Cutting the new chain. A cut cannot be taken back, so the count is given as a figure before the pin moves. */
export const chain = {
  sideBySide: step({
    say: 'Lay the new chain beside the old one, both straight, first pins level.',
    why: 'The old chain shows a miscount at a glance. It is longer than new by its wear only.',
    drawing: 'cut-position.svg',
    next: 'countTo',
  }),
  countTo: fork({
    say: 'Like for like, or other sizes?',
    fact: 'regear',
    ways: [
      { value: false, phrase: 'like for like', to: 'markSame' },
      { value: true, phrase: 'other sizes', to: 'markNew' },
    ],
  }),
  // A chain cut for a joining link starts and ends on an inner link, one pitch short of its finished count:
  // adoz.cz/en/actualities/how-to-determine-the-proper-length-of-a-roller-chain
  markSame: step({
    say: 'Start at an inner link. Count this many pitches, paint the pin there.',
    drawing: 'cut-position.svg',
    shows: [
      { label: 'Pitches to the painted pin', amount: { figure: 'oldPitches', plus: -1 }, unit: 'pitches' },
      { label: 'With the joining link', amount: { figure: 'oldPitches' }, unit: 'pitches' },
    ],
    next: 'countSame',
  }),
  countSame: hold({
    say: 'Count once more, from the painted pin to the first. Give the number of pitches.',
    phrase: 'cut mark counted twice',
    why: 'A chain cut short is scrap, and a second link to mend it is a second weak place.',
    drawing: 'cut-position.svg',
    applies: { regear: false },
    witness: 'apprentice',
    measure: {
      name: 'cutCount',
      label: 'Pitches, first pin to painted pin',
      unit: 'pitches',
      min: { figure: 'oldPitches', plus: -1 },
      max: { figure: 'oldPitches', plus: -1 },
    },
    pass: 'pinOut',
    fail: 'countSameAgain',
  }),
  countSameAgain: step({
    say: 'Wipe the paint off. Start from the first inner link.',
    rework: true,
    next: 'markSame',
  }),
  markNew: step({
    say: 'Start at an inner link. Count this many pitches, paint the pin there.',
    drawing: 'cut-position.svg',
    shows: [
      { label: 'Pitches to the painted pin', amount: { figure: 'newPitches', plus: -1 }, unit: 'pitches' },
      { label: 'With the joining link', amount: { figure: 'newPitches' }, unit: 'pitches' },
    ],
    next: 'countNew',
  }),
  countNew: hold({
    say: 'Count once more, from the painted pin to the first. Give the number of pitches.',
    phrase: 'new length agrees',
    why: 'A chain cut short is scrap. Other sizes mean that the old chain cannot show a miscount.',
    drawing: 'cut-position.svg',
    applies: { regear: true },
    witness: 'apprentice',
    measure: {
      name: 'cutCount',
      label: 'Pitches, first pin to painted pin',
      unit: 'pitches',
      min: { figure: 'newPitches', plus: -1 },
      max: { figure: 'newPitches', plus: -1 },
    },
    pass: 'pinOut',
    fail: 'countNewAgain',
  }),
  countNewAgain: step({
    say: 'Wipe the paint off. Start from the first inner link.',
    rework: true,
    next: 'markNew',
  }),
  pinOut: step({
    say: 'Chain goes on past the painted pin? Press that pin right out of both plates.',
    why: 'A pin left half in tempts you to prise the plates. Prised plates crack.',
    cautions: [
      {
        word: 'warning',
        text: 'A breaker pin can snap and fly: eye protection on.',
        why: 'The pin of the breaker is harder than the chain: it does not bend, it bursts.',
      },
    ],
    next: 'wheelIn',
  }),
  wheelIn: step({
    say: 'Wheel in: spacers home, disc between the pads, axle through, nut on by hand.',
    cautions: [
      {
        word: 'caution',
        text: 'Fingers get crushed between disc and caliper: lift by the tyre.',
        why: 'The wheel drops the last bit by itself, and the disc cuts like a blade.',
      },
    ],
    next: 'chainOn',
  }),
  chainOn: step({
    say: 'Run the new chain on. Bring both ends together on the rear sprocket.',
    fits: 'chain',
    why: 'The teeth hold the ends at the right distance while you close the link.',
    next: 'ends',
  }),
  ends: fork({
    say: 'Sealed chain, or plain chain?',
    fact: 'sealed',
    ways: [
      { value: true, phrase: 'sealed chain', to: 'sealsBehind' },
      { value: false, phrase: 'plain chain', to: 'pinsPlain' },
    ],
  }),
};
