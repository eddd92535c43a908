import type { StationView } from '../job/view.ts';
import type { JournalRecord } from '../journal/record.ts';
import type { Person } from '../procedure/context.ts';
import type { JobEvent } from '../procedure/events.ts';
import { may } from '../procedure/roles.ts';
import { typedLabelInWords } from '../trade/part-label.ts';
import type { Option } from './parts/options.ts';

/** A short conversation over the station, one question after the other, worked by pedal, digits or voice like any list. */
export interface Talk {
  readonly about: 'trouble' | 'decide' | 'handOver' | 'signOn' | 'label';
  readonly says?: string;
  readonly decision?: 'rework' | 'scrap' | 'concession' | 'stop';
  readonly station?: string;
  readonly person?: string;
  /** Is the label kept as a note? */
  readonly keep?: boolean;
}

export interface TalkAround {
  readonly view: StationView;
  readonly people: readonly Person[];
  readonly worker: string;
  /** Stations of this job that work can go back to, the latest first. */
  readonly visited: readonly { readonly station: string; readonly say: string }[];
  /** Ids of the people who have a passkey on this bench; absent: nobody. */
  readonly holders?: ReadonlySet<string>;
  /** Did this person sign on just now? Always true for people who need not. */
  fresh(person: string): boolean;
}

export type Capture = 'photo' | 'voice';

export type TalkNext =
  | {
      readonly kind: 'list';
      readonly heading: string;
      readonly options: readonly Option[];
      take(index: number): Talk | Capture;
    }
  /** `passkey`: this person may show a passkey in place of the PIN. */
  | { readonly kind: 'pin'; readonly person: Person; readonly passkey: boolean }
  | { readonly kind: 'done'; readonly event: JobEvent | null; readonly by: string };

export const TROUBLES = [
  'A part is damaged or worn out',
  'A part is wrong or missing',
  'A figure cannot be brought within its limits',
  'A thread or fastener is spoilt',
  'Something else on the machine is not safe',
  'Work done earlier was not right',
] as const;

const REASONS: Readonly<Record<'rework' | 'scrap' | 'concession' | 'stop', readonly string[]>> = {
  rework: [
    'It is done again from there',
    'It was put right and is looked at again',
    'Work done earlier was disturbed',
  ],
  scrap: [
    'The part is thrown away, a new one is fitted',
    'The part is kept aside and marked, a new one is fitted',
  ],
  concession: ['Safe for this machine until the next service', 'Within what the maker allows for used parts'],
  stop: ['Not safe to go on: the machine is marked and set aside', 'Waiting for a part or for advice'],
};

const list = (
  heading: string,
  options: readonly Option[],
  take: (index: number) => Talk | Capture,
): TalkNext => ({
  kind: 'list',
  heading,
  options,
  take,
});

const texts = (all: readonly string[]): Option[] => all.map((text) => ({ text }));

/** What a refusal asks for: who somebody is, or whether a label that nobody knows is kept as a note. Null: nothing. */
export function askedAfter(record: JournalRecord | undefined): Talk | null {
  const code = record?.reason?.code ?? '';
  if (code.startsWith('sign-on')) return { about: 'signOn', person: record?.by ?? '' };
  const event = record?.event;
  const label = event?.type === 'callOff' || event?.type === 'scan' ? event.label : undefined;
  return code === 'part-unknown' && label !== undefined ? { about: 'label', says: label } : null;
}

/** The next question of a talk, or what comes of it. Pure. */
export function nextInTalk(talk: Talk, around: TalkAround): TalkNext {
  switch (talk.about) {
    case 'trouble':
      return talk.says === undefined
        ? list('What is wrong?', texts(TROUBLES), (index) => ({
            ...talk,
            says: TROUBLES[index] ?? TROUBLES[0],
          }))
        : { kind: 'done', event: { type: 'trouble', says: talk.says }, by: around.worker };
    case 'decide':
      return decideTalk(talk, around);
    case 'handOver':
      return (
        who(talk, around, 'Who goes on?', (person) => person.id !== around.worker) ?? {
          kind: 'done',
          event: { type: 'handOver', to: talk.person ?? '' },
          by: talk.person ?? '',
        }
      );
    case 'label':
      return labelTalk(talk, around);
    case 'signOn':
      return (
        who(talk, around, 'Who are you?', () => true) ?? { kind: 'done', event: null, by: talk.person ?? '' }
      );
  }
}

/** A label on no list: kept as a note or left. */
function labelTalk(talk: Talk, { view, worker }: TalkAround): TalkNext {
  const words = typedLabelInWords(talk.says ?? '');
  if (talk.keep === undefined) {
    const options = [{ text: 'Keep it as a note' }, { text: 'Leave it' }];
    return list(`${words} is on no parts list. What now?`, options, (index) => ({
      ...talk,
      keep: index === 0,
    }));
  }
  const what = view.fit?.calls ?? view.kit?.next?.calls ?? view.say;
  const says = `Part label not on the list, at “${what}”: ${words}`;
  return { kind: 'done', event: talk.keep ? { type: 'note', says } : null, by: worker };
}

/** Asks for a person and then, unless they signed on just now, for their PIN; null when both are answered. */
function who(
  talk: Talk,
  around: TalkAround,
  heading: string,
  fits: (person: Person) => boolean,
): TalkNext | null {
  const people = around.people.filter(fits);
  const person = people.find(({ id }) => id === talk.person);
  if (!person) {
    const options = people.map(({ name, role }) => ({ text: name, detail: role }));
    return list(heading, options, (index) => ({
      ...talk,
      ...(people[index] ? { person: people[index].id } : {}),
    }));
  }
  return around.fresh(person.id)
    ? null
    : { kind: 'pin', person, passkey: around.holders?.has(person.id) ?? false };
}

const DECISIONS = {
  rework: { text: 'Rework', detail: 'go back and do it again' },
  scrap: { text: 'Scrap', detail: 'the part is not used; go back and fit another' },
  concession: { text: 'Concession', detail: 'this hold point is accepted as it is, for a recorded reason' },
  stop: { text: 'Stop and make safe', detail: 'the job ends not complete' },
} as const;

function decideTalk(talk: Talk, around: TalkAround): TalkNext {
  const { view } = around;
  if (!talk.decision) {
    const decisions = (['rework', 'scrap', 'concession', 'stop'] as const).filter(
      (decision) => decision !== 'concession' || view.hold?.concession,
    );
    const options: Option[] = [
      ...decisions.map((decision) => DECISIONS[decision]),
      { text: 'Take a photo' },
      { text: 'Record a voice note' },
    ];
    const files = view.trouble?.attached ?? 0;
    const kept = files === 0 ? '' : files === 1 ? ' (1 file kept)' : ` (${files} files kept)`;
    return list(`Trouble: ${view.trouble?.says ?? ''}${kept}. What is decided?`, options, (index) => {
      const decision = decisions[index];
      return decision ? { ...talk, decision } : index === decisions.length ? 'photo' : 'voice';
    });
  }
  const { decision } = talk;
  if ((decision === 'rework' || decision === 'scrap') && talk.station === undefined) {
    const { visited } = around;
    return list('Back to where?', texts(visited.map(({ say }) => say)), (index) => ({
      ...talk,
      station: visited[index]?.station ?? view.station,
    }));
  }
  if (talk.says === undefined) {
    const reasons = REASONS[decision];
    return list('For what reason?', texts(reasons), (index) => ({
      ...talk,
      says: reasons[index] ?? reasons[0] ?? '',
    }));
  }
  const { says } = talk;
  if (decision === 'stop') return { kind: 'done', event: { type: 'stop', says }, by: around.worker };
  const asked = who(talk, around, 'Who decides?', ({ role }) => may(role, decision));
  if (asked) return asked;
  const event: JobEvent =
    decision === 'concession'
      ? { type: 'decide', decision, says }
      : { type: 'decide', decision, station: talk.station ?? view.station, says };
  return { kind: 'done', event, by: talk.person ?? '' };
}
