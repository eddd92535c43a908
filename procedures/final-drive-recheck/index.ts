import { procedure } from '../../src/procedure/index.ts';
import { finish } from './finish.ts';
import { head } from './head.ts';
import { look } from './look.ts';
import { read } from './read.ts';

/** Re-check chain and sprockets after the first ride: the follow-up of the renewal. */
export default procedure({
  id: 'final-drive-recheck',
  ...head,
  initial: 'protect',
  states: { ...look, ...read, ...finish },
});
