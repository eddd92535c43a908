import { TradeError } from '../trade/fault.ts';
import { runWorking } from '../trade/workings.ts';
import type { WorkingResult } from './context.ts';
import type { WorkingStation } from './station.ts';

/** Runs a station's working: an output, or the fault that says why there is none. Never throws for bad figures. */
export function runFor(station: WorkingStation, inputs: unknown): Pick<WorkingResult, 'output' | 'fault'> {
  try {
    return { output: runWorking(station.working, inputs) };
  } catch (error) {
    if (!(error instanceof TradeError)) throw error;
    return { output: null, fault: { code: error.code, sentence: error.message } };
  }
}
