import { fork, reading, step } from '../../src/procedure/index.ts';

const inlet = {
  unit: 'mm',
  min: { figure: 'inletMin' },
  max: { figure: 'inletMax' },
  tool: 'feelerGauge',
} as const;
const exhaust = {
  unit: 'mm',
  min: { figure: 'exhaustMin' },
  max: { figure: 'exhaustMax' },
  tool: 'feelerGauge',
} as const;

/** Each gap as found, within or without its limits: what is found decides nothing by itself, the person who looks does. */
export const measure = {
  inletOne: reading({
    say: 'First inlet valve: the blade that just drags. Give the gap.',
    measure: { ...inlet, name: 'inletOne', label: 'First inlet' },
    inside: 'inletMore',
    outside: 'inletMore',
  }),
  inletMore: fork({
    say: 'Two valves, or four?',
    fact: 'valves',
    ways: [
      { value: 'two', phrase: 'two valves', to: 'exhaustOne' },
      { value: 'four', phrase: 'twice two valves', to: 'inletTwo' },
    ],
  }),
  inletTwo: reading({
    say: 'Second inlet valve: the blade that just drags. Give the gap.',
    measure: { ...inlet, name: 'inletTwo', label: 'Second inlet' },
    inside: 'exhaustOne',
    outside: 'exhaustOne',
  }),
  exhaustOne: reading({
    say: 'First exhaust valve: the blade that just drags. Give the gap.',
    measure: { ...exhaust, name: 'exhaustOne', label: 'First exhaust' },
    inside: 'exhaustMore',
    outside: 'exhaustMore',
  }),
  exhaustMore: fork({
    say: 'Two valves, or four?',
    fact: 'valves',
    ways: [
      { value: 'two', phrase: 'two valves', to: 'judge' },
      { value: 'four', phrase: 'twice two valves', to: 'exhaustTwo' },
    ],
  }),
  exhaustTwo: reading({
    say: 'Second exhaust valve: the blade that just drags. Give the gap.',
    measure: { ...exhaust, name: 'exhaustTwo', label: 'Second exhaust' },
    inside: 'judge',
    outside: 'judge',
  }),
  judge: fork({
    say: 'Every gap within its limits? Or one outside?',
    fact: 'outside',
    look: true,
    why: 'You decide, and the last readings hold you to it: each gap is measured again as a hold.',
    shows: [
      { label: 'Inlet, least', amount: { figure: 'inletMin' }, unit: 'mm' },
      { label: 'Inlet, most', amount: { figure: 'inletMax' }, unit: 'mm' },
      { label: 'Exhaust, least', amount: { figure: 'exhaustMin' }, unit: 'mm' },
      { label: 'Exhaust, most', amount: { figure: 'exhaustMax' }, unit: 'mm' },
    ],
    ways: [
      { value: true, phrase: 'one lies outside', to: 'adjustFork' },
      { value: false, phrase: 'every gap good', to: 'handTurns' },
    ],
  }),
  adjustFork: fork({
    say: 'Bucket shims, or screws?',
    fact: 'valveAdjuster',
    ways: [
      { value: 'shim', phrase: 'bucket shims', to: 'paintChain' },
      { value: 'screw', phrase: 'lock nut and screw', to: 'screws' },
    ],
  }),
  screws: step({
    say: 'Lock nut slack. Turn the screw until the blade just drags. Hold it, nut snug.',
    shows: [
      { label: 'Inlet, least', amount: { figure: 'inletMin' }, unit: 'mm' },
      { label: 'Exhaust, least', amount: { figure: 'exhaustMin' }, unit: 'mm' },
    ],
    why: 'The nut pulls the screw as it tightens. That is why each gap is measured again.',
    next: 'lockNuts',
  }),
};
