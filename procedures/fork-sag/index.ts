import { procedure } from '../../src/procedure/index.ts';
import { finish } from './finish.ts';
import { head } from './head.ts';
import { legs } from './legs.ts';
import { makeSafe } from './make-safe.ts';
import { oil } from './oil.ts';
import { sag } from './sag.ts';

/** Fork oil and sag. */
export default procedure({
  id: 'fork-sag',
  ...head,
  initial: 'protect',
  states: { ...makeSafe, ...oil, ...legs, ...sag, ...finish },
});
