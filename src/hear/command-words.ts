import { CALL_WORDS } from './call-word.ts';
import { FIGURE_WORDS } from './numbers.ts';
import { TURNS } from './refusals.ts';

/** Ends a voice note; while one is recorded nothing else is heard. */
export const END_OF_NOTE = 'end of note';

/** Everything that can be said whatever the procedure. */
export const commandWords: readonly string[] = [
  'stop work',
  'next step',
  'one step back',
  'say again',
  'what can I say',
  'how much',
  'tell me why',
  'pause the job',
  'resume the job',
  'trouble here',
  'show the drawing',
  'take note',
  'figure correct',
  'that is wrong',
  'leave it',
  'keep reading',
  'number one',
  'number two',
  'number three',
  'number four',
  'number five',
  'number six',
  'number seven',
  'number eight',
  'number nine',
  'not passed',
  END_OF_NOTE,
  ...CALL_WORDS,
  ...FIGURE_WORDS,
  ...TURNS,
];
