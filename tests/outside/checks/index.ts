import type { Check } from '../register.ts';
import { chainChecks } from './chain.ts';
import { gearingChecks } from './gearing.ts';
import { serviceChecks } from './service.ts';
import { sizeChecks } from './sizes.ts';
import { sprocketChecks } from './sprockets.ts';
import { torqueChecks } from './torque.ts';
import { unitChecks } from './units.ts';

/** Every check of a working against the outside, in the order of the workings' parts. */
export const allChecks: readonly Check[] = [
  ...gearingChecks,
  ...sprocketChecks,
  ...chainChecks,
  ...torqueChecks,
  ...unitChecks,
  ...serviceChecks,
  ...sizeChecks,
];
