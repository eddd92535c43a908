import type { StationView } from './view.ts';

/** What a person may want at a station, whichever way it is asked for. */
export type Command =
  | 'go'
  | 'confirm'
  | 'fail'
  | 'back'
  | 'pause'
  | 'resume'
  | 'why'
  | 'again'
  | 'howMuch'
  | 'words'
  | 'showMe'
  | 'note'
  | 'label'
  | 'trouble'
  | 'stop';

/** One thing that can be done now: its exact spoken words, how it is pressed, and what it does. */
export interface Offer {
  readonly command: Command;
  readonly says: string;
  readonly press: string;
  readonly does: string;
  /** The words say what it does: beside them no caption is needed. */
  readonly plain?: true;
}

const why: Offer = { command: 'why', says: 'tell me why', press: 'W', does: 'why', plain: true };

const always: readonly Offer[] = [
  { command: 'back', says: 'one step back', press: 'back', does: 'go back', plain: true },
  { command: 'words', says: 'what can I say', press: '?', does: 'everything else' },
];

const elsewhere: readonly Offer[] = [
  { command: 'trouble', says: 'trouble here', press: 'T', does: 'something is wrong' },
  { command: 'again', says: 'say again', press: 'A', does: 'read it again' },
  { command: 'pause', says: 'pause the job', press: 'P', does: 'pause' },
  { command: 'note', says: 'take note', press: 'N', does: 'add a note' },
  { command: 'stop', says: 'stop work', press: 'S', does: 'stop the job' },
];

/** A label that no scanner reads is typed by hand. */
const label: Offer = { command: 'label', says: '', press: 'L', does: 'type the label of the part' };

const howMuch: Offer = { command: 'howMuch', says: 'how much', press: 'M', does: 'say the figure' };

const showMe: Offer = {
  command: 'showMe',
  says: 'show the drawing',
  press: 'G',
  does: 'drawing',
  plain: true,
};

const go = (does: string): Offer => ({ command: 'go', says: 'next step', press: 'tap', does });

/** What moves the job on at this station: the first thing a person looks for. */
function mainOffers(view: StationView): Offer[] {
  if (view.hold) return holdOffers(view);
  switch (view.kind) {
    case 'kit':
      return [go(view.kit?.next ? 'call it off' : 'go on')];
    case 'fork':
      return [
        { command: 'go', says: '', press: 'tap', does: 'next choice' },
        { command: 'confirm', says: '', press: 'hold down', does: 'take it' },
      ];
    case 'reading':
    case 'lookUp':
      return [
        { command: 'confirm', says: 'figure correct', press: 'digits, then Enter', does: 'give the figure' },
      ];
    case 'round':
      return [go(view.round ? `${view.round.fastener} ${view.round.now} done` : 'go on')];
    case 'working':
      return [go(view.result?.fault ? 'go on without it' : 'take this result')];
    case 'wait':
      return [go('go on when the time is up')];
    default:
      return [go('done, go on')];
  }
}

function holdOffers(view: StationView): Offer[] {
  const fail: Offer = {
    command: 'fail',
    says: 'not passed',
    press: 'F',
    does: 'not right: put it right',
  };
  if (view.hold?.awaitingFor) {
    const does = 'the witness confirms';
    return [{ command: 'confirm', says: view.hold.phrase, press: 'number, then hold down', does }, fail];
  }
  if (view.hold?.byFigure) {
    return [
      { command: 'confirm', says: 'figure correct', press: 'digits, then Enter', does: 'give the figure' },
      fail,
    ];
  }
  const does = 'checked: open the hold';
  return [{ command: 'confirm', says: view.hold?.phrase ?? '', press: 'hold down', does }, fail];
}

/** What stands at the foot of the station: the way on first, then what is wanted most often. */
export function offersAt(view: StationView): readonly Offer[] {
  if (view.outcome !== 'open') return [];
  if (view.paused) {
    return [{ command: 'resume', says: 'resume the job', press: 'tap', does: 'go on with the job' }];
  }
  const figure = view.figures.length > 0 ? [howMuch] : [];
  const reason = view.why || view.result || view.cautions.some(({ why }) => why) ? [why] : [];
  const picture = view.round || view.drawing || view.adjuster ? [showMe] : [];
  return [...mainOffers(view), ...figure, ...reason, ...picture, ...always];
}

/** Everything that can be said or pressed at this station now. */
export function allOffersAt(view: StationView): readonly Offer[] {
  const offers = offersAt(view).filter(({ command }) => command !== 'words');
  if (view.outcome !== 'open' || view.paused) return offers;
  return [...offers, ...(view.fit || view.kit?.next?.scans ? [label] : []), ...elsewhere];
}
