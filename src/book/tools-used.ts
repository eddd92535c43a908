import type { Tool } from '../procedure/context.ts';
import { dayOf } from '../procedure/day.ts';
import type { Walk } from './walk.ts';

/** A tool with a number that was used on a job. */
export interface ToolUse {
  readonly tool: Tool;
  /** What the procedure calls its kind, and whether only a calibrated one will do. */
  readonly kind: string;
  readonly mustBeCalibrated: boolean;
  /** Readings that were taken with it. */
  readonly readings: number;
  /** Last day (UTC) of its use. */
  readonly lastUsed: string;
  /** In calibration on that day; null where it needs none. */
  readonly inDate: boolean | null;
}

/** The tools of a job, those called off and not used included, in the order of the workshop's list. */
export function toolsUsed({ definition, opened, steps }: Walk): ToolUse[] {
  const last = new Map<string, number>();
  const readings = new Map<string, number>();
  for (const { record, at } of steps) {
    const { event, outcome } = record;
    const used = event.type === 'callOff' || event.type === 'reading' ? event.toolId : undefined;
    if (outcome === 'refused' || used === undefined) continue;
    last.set(used, at);
    if (event.type === 'reading') readings.set(used, (readings.get(used) ?? 0) + 1);
  }
  return opened.tools.flatMap((tool): ToolUse[] => {
    const at = last.get(tool.id);
    if (at === undefined) return [];
    const declared = definition.meta.tools[tool.kind];
    const lastUsed = dayOf(at);
    const until = tool.calibratedUntil;
    const mustBeCalibrated = declared?.calibrated === true;
    return [
      {
        tool,
        kind: declared?.says ?? tool.kind,
        mustBeCalibrated,
        readings: readings.get(tool.id) ?? 0,
        lastUsed,
        inDate: until === undefined ? (mustBeCalibrated ? false : null) : until >= lastUsed,
      },
    ];
  });
}
