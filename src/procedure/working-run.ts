import { TradeError } from '../trade/fault.ts';
import { runWorking } from '../trade/workings.ts';
import { outputAt } from './amounts.ts';
import type { WorkingResult } from './context.ts';
import type { WorkingStation } from './station.ts';

const NOTHING_FITS = {
  code: 'nothing-fits',
  sentence: 'Nothing fits these figures: check them, or choose other parts.',
} as const;

/**
 * Runs a station's working: an output, or the fault that says why there is none. Never throws for bad figures. An output
 * that lacks a figure which the station is there to set is no answer: the job would go on without it and be stuck later.
 */
export function runFor(station: WorkingStation, inputs: unknown): Pick<WorkingResult, 'output' | 'fault'> {
  try {
    const output = runWorking(station.working, inputs);
    const lacking = Object.values(station.gives ?? {}).some(
      (key) => typeof outputAt(output, key) !== 'number',
    );
    return lacking ? { output: null, fault: NOTHING_FITS } : { output };
  } catch (error) {
    if (!(error instanceof TradeError)) throw error;
    return { output: null, fault: { code: error.code, sentence: error.message } };
  }
}
