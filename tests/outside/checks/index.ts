import type { Check } from '../register.ts';
import { adapterChecks } from './adapter.ts';
import { chainChecks } from './chain.ts';
import { chainFitChecks } from './chain-fit.ts';
import { convertChecks } from './convert.ts';
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
  ...chainFitChecks,
  ...convertChecks,
  ...unitChecks,
  ...adapterChecks,
  ...torqueChecks,
  ...serviceChecks,
  ...sizeChecks,
];
