import type { Due, JobCard } from '../job/shelf.ts';
import type { Unreadable } from './desk.dom.ts';
import type { Option } from './parts/options.ts';

/** What can be taken from the shelf. */
export type ShelfItem =
  | { readonly kind: 'job'; readonly job: string }
  | { readonly kind: 'due'; readonly due: Due }
  | { readonly kind: 'remains'; readonly job: string }
  | {
      readonly kind:
        | 'start'
        | 'planner'
        | 'procedures'
        | 'pedal'
        | 'reading'
        | 'book'
        | 'bench'
        | 'people'
        | 'voice'
        | 'office';
    };

/**
 * The shelf: a new job always has the first line and the number 1, where a newcomer and an old hand find it; then what cannot
 * be read, open jobs, re-checks that are due, the set-up, and last what is finished.
 */
export function shelfList(
  cards: readonly JobCard[],
  due: readonly Due[],
  now: number,
  unreadable: readonly Unreadable[] = [],
  listening = false,
  office: string | null = null,
  passkeys = false,
): { item: ShelfItem; option: Option }[] {
  const place = ({ progress }: JobCard) => `station ${progress.place} of ${progress.stations}`;
  const day = (moment: string) => moment.slice(0, 10);
  const open = cards.filter((card) => card.outcome === 'open');
  const closed = cards.filter((card) => card.outcome !== 'open');
  return [
    { item: { kind: 'start' }, option: { text: 'Start a job' } },
    ...unreadable.map(({ job, says }) => ({
      item: { kind: 'remains' as const, job },
      option: {
        mark: '✕ cannot be read:',
        text: `job ${job.slice(0, 8)}`,
        detail: `${says} Take this line to save what is left.`,
      },
    })),
    ...open.map((card) => ({
      item: { kind: 'job' as const, job: card.job },
      option: {
        mark: 'Go on:',
        text: `${card.title}, ${card.machine.says}`,
        detail: `${place(card)} · since ${day(card.openedAt)}`,
      },
    })),
    ...due.map((one) => ({
      item: { kind: 'due' as const, due: one },
      option: {
        mark: Date.parse(one.dueAt) <= now ? 'Due now:' : 'Due:',
        text: one.machine.says.replace(/ (\d+)$/, '\u00a0$1'),
        detail: `${one.followUp.says} · ${day(one.dueAt)}`,
      },
    })),
    { item: { kind: 'planner' }, option: { text: 'Plan the gearing' } },
    {
      item: { kind: 'procedures' },
      option: { text: 'Procedures', detail: 'hold points, chart, practice; load a published one' },
    },
    {
      item: { kind: 'voice' },
      option: {
        text: listening ? 'Listening: switch it off' : 'Listen for spoken words',
        detail: 'the sound stays on this device',
      },
    },
    { item: { kind: 'pedal' }, option: { text: 'Set up the pedal' } },
    {
      item: { kind: 'reading' },
      option: { text: 'Set the reading distance', detail: 'how large letters are; light or dark' },
    },
    {
      item: { kind: 'bench' },
      option: { text: 'This bench', detail: 'records, clock, microphone, screen, signing key' },
    },
    ...(passkeys
      ? [
          {
            item: { kind: 'people' as const },
            option: { text: 'People', detail: 'enrol a passkey, or take one away' },
          },
        ]
      : []),
    ...(office === null
      ? []
      : [{ item: { kind: 'office' as const }, option: { text: 'The office', detail: office } }]),
    {
      item: { kind: 'book' },
      option: { text: 'Open the record book', detail: 'for the supervisor, at a desk' },
    },
    ...closed.map((card) => ({
      item: { kind: 'job' as const, job: card.job },
      option: {
        mark: card.outcome === 'complete' ? '✓' : '✕ stopped:',
        text: `${card.title}, ${card.machine.says}`,
        detail: `${day(card.lastAt)} · ${card.records} records`,
      },
    })),
  ];
}

/** The line that is lit at first: what cannot be read or an open job, since that is what waits; else a new job. */
export const firstLit = (items: readonly { readonly item: ShelfItem }[]): number =>
  ['remains', 'job'].includes(items[1]?.item.kind ?? '') ? 1 : 0;

/** What is due, in a line that stays in sight however long the list is; '' when nothing is. */
export function dueLine(due: readonly Due[], now: number): string {
  const count = due.filter(({ dueAt }) => Date.parse(dueAt) <= now).length;
  return count === 0 ? '' : count === 1 ? 'One re-check is due now.' : `${count} re-checks are due now.`;
}
