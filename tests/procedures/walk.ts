import type { JobInput } from '../../src/procedure/context.ts';
import { decide } from '../../src/procedure/decide.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import type { Stamped } from '../../src/procedure/events.ts';
import { type Machine, machineFor, type Snapshot } from '../../src/procedure/machine.ts';
import { rightMove } from './driver.ts';

export interface Walk {
  readonly end: Snapshot;
  /** Every event in turn, all accepted. */
  readonly events: readonly Stamped[];
  /** The station that each event was given at. */
  readonly stations: readonly string[];
}

const machines = new Map<Definition, Machine>();

/** Machines are made once for each definition: XState takes a while over a hundred stations. */
export function machineOf(definition: Definition): Machine {
  const made = machines.get(definition) ?? machineFor(definition);
  machines.set(definition, made);
  return made;
}

export interface WalkOptions {
  readonly doer: string;
  /** Something done before the right event: returns an event, or null for none. Must be accepted. */
  readonly instead?: (snapshot: Snapshot) => Partial<Stamped> | null;
  /** Called at every station before the right event. */
  readonly look?: (snapshot: Snapshot, machine: Machine, at: number) => void;
  readonly most?: number;
}

/** Runs a job from its opening to its end with every event right. @throws Error when an event is refused, or too many are needed */
export function walk(definition: Definition, input: JobInput, options: WalkOptions): Walk {
  const { doer, instead = () => null, look = () => undefined, most = 2000 } = options;
  const machine = machineOf(definition);
  const events: Stamped[] = [];
  const stations: string[] = [];
  let end = machine.start(input);
  let at = input.at;
  while (end.outcome === 'open') {
    if (events.length >= most)
      throw new Error(`The job is still open at ${end.station} after ${most} events.`);
    look(end, machine, at);
    const other = instead(end);
    const move = other
      ? ({ by: doer, via: 'keys', at: at + 1000, ...other } as Stamped)
      : rightMove(definition, end, doer, at);
    const decision = decide(machine, end, move);
    if (decision.outcome === 'refused') throw new Error(`${end.station}: ${decision.reason.sentence}`);
    events.push(move);
    stations.push(end.station);
    at = move.at;
    end = decision.snapshot;
  }
  return { end, events, stations };
}
