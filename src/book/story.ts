import { eventInWords } from '../job/event-words.ts';
import type { JournalRecord } from '../journal/record.ts';
import { stationOf } from '../procedure/definition.ts';
import { typedLabelInWords } from '../trade/part-label.ts';
import type { Digest } from './digest.ts';
import { nameOf, sayOf } from './digest.ts';

/** One record as a sentence. */
export interface StoryLine {
  readonly seq: number;
  /** Time of day, UTC, to the second. */
  readonly time: string;
  readonly who: string;
  readonly words: string;
  readonly via: string;
  /** Why it was refused, or null. */
  readonly refused: string | null;
}

/** What happened at one station, from arriving to leaving. */
export interface Chapter {
  readonly station: string;
  readonly says: string;
  readonly kind: string;
  /** Day, UTC, of its first line. */
  readonly day: string;
  readonly lines: readonly StoryLine[];
}

/** The event in words, with names where the record has ids. */
export function recordInWords(digest: Digest, { event }: JournalRecord, station: string): string {
  switch (event.type) {
    case 'job.opened':
      return `opened the job “${event.procedure.meta.title}” on ${event.machine.says}`;
    case 'handOver':
      return `handed the work over to ${nameOf(digest, event.to)}`;
    case 'callOff': {
      const meta = stationOf(digest.definition, station);
      const item = meta?.kind === 'kit' ? meta.items.find(({ key }) => key === event.item) : undefined;
      const label = event.label === undefined ? '' : `, ${typedLabelInWords(event.label)}`;
      return `called off ${item?.calls ?? event.item}${event.toolId ? `, ${event.toolId}` : ''}${label}`;
    }
    case 'lookUp': {
      const declared = digest.definition.meta.figures[event.figure];
      return `${eventInWords(event)}${declared ? ` (${declared.says})` : ''}`;
    }
    case 'open':
      return `went back to “${sayOf(digest, event.station)}”`;
    case 'choose': {
      const meta = stationOf(digest.definition, station);
      const choice =
        meta?.kind === 'fork' ? meta.choices.find(({ value }) => value === event.value) : undefined;
      return choice ? `chose “${choice.phrase}”` : eventInWords(event);
    }
    case 'witness':
      return event.evidence.kind === 'press'
        ? `witnessed: pedal held ${(event.evidence.heldMs / 1000).toFixed(1)} s`
        : `witnessed: said “${event.evidence.phrase}”`;
    case 'attach':
      return `${eventInWords(event)} (${event.media}, ${event.bytes} bytes, SHA-256 ${event.sha256.slice(0, 12)}…)`;
    default:
      return eventInWords(event);
  }
}

/** The station where each record was made: that after the record before it. */
export const stationsOf = (records: readonly JournalRecord[]): string[] =>
  records.map((record, at) => records[at - 1]?.station ?? record.station);

/** A record as a story: a chapter a station, a line a record. Refusals stay in it. */
export function storyOf(digest: Digest): Chapter[] {
  const stations = stationsOf(digest.records);
  const chapters: (Omit<Chapter, 'lines'> & { readonly lines: StoryLine[] })[] = [];
  for (const [at, record] of digest.records.entries()) {
    const station = stations[at] ?? '';
    const last = chapters[chapters.length - 1];
    const line: StoryLine = {
      seq: record.seq,
      time: record.at.slice(11, 19),
      who: nameOf(digest, record.by),
      words: recordInWords(digest, record, station),
      via: record.via,
      refused: record.outcome === 'refused' ? (record.reason?.sentence ?? '') : null,
    };
    if (last?.station === station) last.lines.push(line);
    else {
      const kind = stationOf(digest.definition, station)?.kind ?? 'end';
      chapters.push({
        station,
        says: sayOf(digest, station),
        kind,
        day: record.at.slice(0, 10),
        lines: [line],
      });
    }
  }
  return chapters;
}
