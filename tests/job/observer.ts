import type { JournalRecord } from '../../src/journal/record.ts';

/*
 * Somebody who stands by with a notebook. They see who did what and where the job stood afterwards, know the procedure
 * as it is printed, and nothing of guards, snapshots or contexts: every rule below is their own. Where they cannot see
 * something (stations that pass by themselves leave no record) they give the app the benefit of the doubt.
 */

interface Hold {
  readonly phrase: string;
  readonly witness: 'never' | 'apprentice' | 'always';
  readonly byFigure: boolean;
  readonly applies: Readonly<Record<string, unknown>>;
  readonly onward: readonly string[];
}

interface Stop {
  readonly station: string;
  passed: boolean;
  awaits: string | null;
}

function holdsOf(opened: JournalRecord): Map<string, Hold> {
  if (opened.event.type !== 'job.opened') throw new Error('No job was opened.');
  const holds = new Map<string, Hold>();
  for (const [name, { meta, on }] of Object.entries(opened.event.procedure.states)) {
    if (meta?.kind !== 'hold') continue;
    const ways = [...(on?.confirm ?? []), ...(on?.reading ?? []), ...(on?.witness ?? [])];
    const failing = new Set((on?.fail ?? []).map(({ target }) => target));
    holds.set(name, {
      phrase: meta.phrase,
      witness: meta.witness,
      byFigure: meta.measure !== undefined,
      applies: meta.applies ?? {},
      onward: ways.flatMap(({ target }) => (target === undefined || failing.has(target) ? [] : [target])),
    });
  }
  return holds;
}

const meets = (wanted: unknown, value: unknown): boolean =>
  Array.isArray(wanted) ? wanted.includes(value) : wanted === value;

/** Everything that ought not to have happened, in plain words; empty for an honest job. */
export function observe(records: readonly JournalRecord[]): string[] {
  const [opened, ...rest] = records;
  if (opened?.event.type !== 'job.opened') return ['no job was opened'];
  const { people, procedure, facts: onCard } = opened.event;
  const holds = holdsOf(opened);
  const roleOf = (id: string) => people.find((person) => person.id === id)?.role;
  const wrong: string[] = [];
  const facts: Record<string, unknown> = { ...onCard };
  let trail: Stop[] = [{ station: opened.station, passed: false, awaits: null }];
  let paused = false;

  for (const { seq, event, outcome, station, by } of rest) {
    const here = trail[trail.length - 1];
    if (!here) break;
    const say = (what: string) => wrong.push(`${seq}: ${event.type} at ${here.station}: ${what}`);
    const moved = station !== here.station;
    if (outcome === 'refused') {
      if (moved) say('refused, and yet the job moved');
      continue;
    }
    if (here.station === 'complete' || here.station === 'stopped') say('the job was closed');
    if (!roleOf(by)) say(`${by} is not on this job`);
    if (paused && moved && event.type !== 'stop') say('the job was paused');
    if (event.type === 'pause') paused = true;
    if (event.type === 'resume') paused = false;

    const hold = holds.get(here.station);
    if (event.type === 'advance' && hold) say('a hold point was left by going on');
    if (event.type === 'choose') {
      const meta = procedure.states[here.station]?.meta;
      if (meta?.kind === 'fork') facts[meta.fact] = event.value;
    }
    if (hold && (event.type === 'confirm' || event.type === 'witness')) {
      const { evidence } = event;
      const enough =
        evidence.kind === 'press'
          ? evidence.heldMs >= 1200
          : evidence.phrase.trim().toLowerCase() === hold.phrase.toLowerCase();
      if (!enough) say('that was no evidence');
      if (event.type === 'confirm' && hold.byFigure) say('it opens for a figure only');
    }
    if (hold && ['confirm', 'reading', 'witness'].includes(event.type)) {
      const second =
        hold.witness === 'always' || (hold.witness === 'apprentice' && roleOf(by) === 'apprentice');
      if (event.type === 'witness') {
        if (here.awaits === null) say('there was nothing to witness');
        if (here.awaits === by) say('nobody witnesses their own work');
        if (roleOf(by) === 'apprentice') say('an apprentice does not witness');
        here.passed = moved;
      } else if (!moved) {
        here.awaits = by;
      } else if (second && hold.onward.includes(station)) {
        say('it was passed without its witness');
      } else {
        // A figure outside its limits leads to rework, which is not among the ways onward.
        here.passed =
          event.type === 'confirm' || hold.onward.includes(station) || passesBy(procedure, hold, station);
      }
    } else if (hold && moved && !['fail', 'open', 'stop', 'decide'].includes(event.type)) {
      say('a hold point was left without evidence');
    }
    if (!moved) continue;
    const back = trail.findIndex((stop) => stop.station === station);
    trail = [...(back < 0 ? trail : trail.slice(0, back)), { station, passed: false, awaits: null }];
    if (station !== 'complete') continue;
    for (const [name, { applies }] of holds) {
      const applying = Object.entries(applies).every(([fact, wanted]) => meets(wanted, facts[fact]));
      if (applying && !trail.some((stop) => stop.station === name && stop.passed))
        wrong.push(`${seq}: complete, and hold point ${name} was never passed`);
    }
  }
  return wrong;
}

/** May the hold's way onward have led to `station` over stations that pass by themselves? */
function passesBy(
  procedure: {
    readonly states: Readonly<
      Record<string, { readonly always?: readonly { readonly target?: string | undefined }[] | undefined }>
    >;
  },
  hold: Hold,
  station: string,
): boolean {
  const seen = new Set<string>();
  const queue = [...hold.onward];
  for (let at = queue.pop(); at !== undefined; at = queue.pop()) {
    if (at === station) return true;
    if (seen.has(at)) continue;
    seen.add(at);
    for (const { target } of procedure.states[at]?.always ?? []) if (target !== undefined) queue.push(target);
  }
  return false;
}
