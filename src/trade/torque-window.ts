import { newtonMetres, type Percent, percent, type Torque } from './quantity.ts';

export interface TorqueWindow {
  /** Torque the fastener may have. */
  readonly low: Torque;
  readonly high: Torque;
  /** Wrench settings that stay within it even if the tool is off by its whole class; null when none does. */
  readonly setLow: Torque | null;
  readonly setHigh: Torque | null;
  readonly toolFits: boolean;
}

/**
 * Permissible deviation of a setting torque wrench (type II, class A): 6 % up to 10 N·m, 4 % above.
 * Source: ISO 6789 as restated in a torque tool's user manual.
 */
export function toolClass(target: Torque): Percent {
  return percent(target <= 10 ? 6 : 4);
}

/**
 * Limits of a torque with a tolerance either way, and the settings that are safe with a tool that may
 * deviate by its class from what it is set to: s(1 − c) ≥ low and s(1 + c) ≤ high.
 */
export function torqueWindow(target: Torque, tolerance: Percent, tool: Percent): TorqueWindow {
  const low = newtonMetres(target * (1 - tolerance / 100));
  const high = newtonMetres(target * (1 + tolerance / 100));
  const setLow = newtonMetres(low / (1 - tool / 100));
  const setHigh = newtonMetres(high / (1 + tool / 100));
  // A tolerance equal to the class leaves one setting, the target; rounding must not lose it.
  const toolFits = setLow <= setHigh * (1 + 4 * Number.EPSILON);
  return { low, high, setLow: toolFits ? setLow : null, setHigh: toolFits ? setHigh : null, toolFits };
}
