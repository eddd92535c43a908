import { type Return, spokenReturn } from '../job/return.ts';
import { spokenAt, spokenFigure, spokenUnit } from '../job/spoken.ts';
import type { StationView } from '../job/view.ts';
import { readBack } from '../press/number-entry.ts';
import type { Ask, Console } from './console.ts';
import { pictureInWords } from './parts/picture.ts';
import { type LivePhrase, wordsSpoken } from './voice.ts';
import { whySpoken } from './whereabouts.ts';

/** What is said to a person who asks; `live`: what can be said at the station itself. */
export function answerTo(
  what: Ask,
  view: StationView,
  console: Console,
  back: Return | null,
  live: () => readonly LivePhrase[],
): string[] {
  switch (what) {
    case 'again':
      return back ? spokenReturn(back) : spokenAt(view);
    case 'howMuch':
      return view.figures.map(spokenFigure);
    case 'readBack':
      return [`${readBack(console.entry)} ${spokenUnit(view.asked?.unit ?? '')}. Is that right?`];
    case 'why':
      return whySpoken(view);
    case 'picture':
      return [pictureInWords(view) ?? 'There is no drawing for this station.'];
    case 'words':
      return wordsSpoken(live());
  }
}
