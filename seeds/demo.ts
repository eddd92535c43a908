import { openingRecord } from '../src/job/open-job.ts';
import { rightMove } from '../src/job/rehearsal.ts';
import { progressOf } from '../src/job/road.ts';
import { type JobState, jobFrom, step } from '../src/job/runner.ts';
import type { MachineCard } from '../src/job/workshop.ts';
import type { JournalRecord } from '../src/journal/record.ts';
import type { Definition } from '../src/procedure/definition.ts';
import type { JobEvent, Stamped } from '../src/procedure/events.ts';
import { pins, workshop, workshopAt } from './workshop.ts';

export { pins as demoPins, workshop as demoWorkshop, workshopAt as demoWorkshopAt };

const DAY = 86_400_000;

interface Script {
  readonly job: string;
  readonly machine: string;
  readonly by: string;
  readonly daysAgo: number;
  /** Done once, on first arriving at the station named, before the right event. */
  readonly trouble?: Readonly<Record<string, readonly JobEvent[]>>;
  /** The job is left open half-way. */
  readonly half?: true;
}

/** Stands for a person reading and doing: seconds between two events. */
const PACE = 40_000;

function isHalfWay({ machine, snapshot }: JobState): boolean {
  const { place, stations } = progressOf(machine.definition, snapshot.context, snapshot.station);
  return place >= stations / 2;
}

function play(
  definition: Definition,
  card: MachineCard,
  script: Script,
  now: number,
  app: string,
): JournalRecord[] {
  const openedAt = now - script.daysAgo * DAY;
  const opened = openingRecord(
    script.job,
    { definition, card, workshop: workshopAt(now) },
    { at: openedAt, by: script.by, via: 'keys' },
    app,
  );
  let state: JobState = jobFrom([opened]);
  let at = openedAt;
  const told = new Set<string>();
  const give = (event: JobEvent, by: string) => {
    state = step(state, event, { at, by, via: 'pedal' }).state;
  };
  while (state.snapshot.outcome === 'open' && state.records.length < 600) {
    const here = state.snapshot.station;
    if (script.half && isHalfWay(state)) return [...state.records];
    if (!told.has(here)) {
      told.add(here);
      for (const event of script.trouble?.[here] ?? []) {
        at += PACE;
        give(event, script.by);
      }
    }
    const {
      at: next,
      by,
      via: _,
      ...event
    } = rightMove(definition, state.snapshot, script.by, at + PACE) as Stamped;
    at = next;
    give(event as JobEvent, by);
  }
  return [...state.records];
}

/** Jobs that the demo workshop has behind it, made by really running the engine: finished ones and one left half-way. */
export function demoJobs(procedures: readonly Definition[], now: number, app: string): JournalRecord[][] {
  const definition = procedures.find(({ id }) => id === 'final-drive');
  if (!definition) return [];
  const [firstHold] =
    Object.entries(definition.states).find(([, state]) => state.meta?.kind === 'hold') ?? [];
  const scripts: Script[] = [
    { job: '7d0b3f52-6c1e-4a8e-9a55-1f2f6c0e1a01', machine: 'LF-01', by: 'w-tomas', daysAgo: 41 },
    {
      job: '7d0b3f52-6c1e-4a8e-9a55-1f2f6c0e1a02',
      machine: 'LF-07',
      by: 'w-pia',
      daysAgo: 12,
      trouble: firstHold
        ? { [firstHold]: [{ type: 'advance' }, { type: 'note', says: 'First time at a hold point.' }] }
        : {},
    },
    {
      job: '7d0b3f52-6c1e-4a8e-9a55-1f2f6c0e1a03',
      machine: 'LF-04',
      by: 'w-ilse',
      daysAgo: 1,
      half: true,
    },
  ];
  return scripts.flatMap((script) => {
    const card = workshopAt(now).machines.find(({ id }) => id === script.machine);
    return card ? [play(definition, card, script, now, app)] : [];
  });
}
