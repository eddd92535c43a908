import { FIGURE_WORDS } from './numbers.ts';
import { TURNS } from './refusals.ts';

/** Everything that can be said whatever the procedure. */
export const commandWords: readonly string[] = [
  'stop work',
  'stop',
  'next step',
  'go back',
  'say again',
  'what can I say',
  'how much',
  'tell me why',
  'pause job',
  'resume job',
  'trouble here',
  'show me',
  'take note',
  'correct',
  'wrong',
  'not passed',
  ...FIGURE_WORDS,
  ...TURNS,
];
