import { hold, step } from '../../src/procedure/index.ts';
import { TORQUE_TOLERANCE } from './head.ts';

const wrench = { unit: 'N·m', tolerancePercent: TORQUE_TOLERANCE, tool: 'torqueWrench' } as const;

/** Pads and caliper back together: linings to the disc, thickness known, bolts at their figure. */
export const build = {
  discClean: step({
    say: 'Degrease both faces of the disc with a clean rag.',
    cautions: [
      {
        word: 'notice',
        text: 'Fingers off from now on: one print squeals for a week.',
        why: 'Grease from the skin burns into the pad and glazes it: the brake is weaker there.',
      },
    ],
    next: 'padsThick',
  }),
  padsThick: hold({
    say: 'Measure the thinner of the pads that go in. Give its lining.',
    phrase: 'lining thick enough',
    why: 'Worn through, steel runs on steel: the brake fades and the piston comes out.',
    measure: {
      name: 'padsIn',
      label: 'Thinner lining that goes in',
      unit: 'mm',
      min: { figure: 'padLeast' },
      tool: 'caliper',
    },
    pass: 'slides',
    fail: 'padsOthers',
  }),
  padsOthers: step({
    say: 'Those pads are scrap, both of them. Take the new pair.',
    fits: 'pads',
    rework: true,
    next: 'padsThick',
  }),
  slides: step({
    say: 'A smear of grease on slides and pin, none on lining or piston.',
    next: 'padsIn',
  }),
  padsIn: step({
    say: 'Spring in, pads in, linings facing each other.',
    drawing: 'pads-face.svg',
    next: 'padsFace',
  }),
  padsFace: hold({
    say: 'Look in from the end. Every lining towards the disc, steel backs towards the pistons.',
    phrase: 'linings face the disc',
    why: 'A pad fitted backwards has no grip at all, and ruins the disc at the first stop.',
    drawing: 'pads-face.svg',
    witness: 'apprentice',
    pass: 'padPin',
    fail: 'padsTurn',
  }),
  padsTurn: step({ say: 'Pads out, turn them, in again.', rework: true, next: 'padsIn' }),
  padPin: step({
    say: 'Pin in through pads and spring, its clip or plug on.',
    why: 'Without its pin a pad drops out on the road.',
    next: 'caliperOn',
  }),
  caliperOn: step({
    say: 'Caliper over the disc, both bolts in by hand, hose not twisted.',
    next: 'caliperTight',
  }),
  caliperTight: hold({
    say: 'Tighten the caliper bolts with the torque wrench. Give the figure.',
    phrase: 'caliper bolts at torque',
    why: 'A caliper that comes off winds itself round the wheel and throws the rider.',
    witness: 'apprentice',
    measure: {
      ...wrench,
      name: 'caliperTorque',
      label: 'Caliper bolts',
      target: { figure: 'caliperTorque' },
    },
    pass: 'reach',
    fail: 'caliperAgain',
  }),
  caliperAgain: step({
    say: 'Bolts out, threads clean. Caliper over the disc once more.',
    rework: true,
    next: 'caliperTight',
  }),
  reach: step({
    say: 'Lever in short slow strokes until the pads touch. Keep the reservoir full.',
    why: 'A reservoir that runs dry draws air, and the bleeding begins anew.',
    next: 'hoseOn',
  }),
};
