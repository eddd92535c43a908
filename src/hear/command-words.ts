import { CALL_WORDS } from './call-word.ts';
import { FIGURE_WORDS } from './numbers.ts';
import { TURNS } from './refusals.ts';

/** Ends a voice note; while one is recorded nothing else is heard. */
export const END_OF_NOTE = 'end of note';

/** Everything that can be said whatever the procedure. */
export const commandWords: readonly string[] = [
  'stop work',
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
  'that is wrong',
  'leave it',
  'read on',
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
