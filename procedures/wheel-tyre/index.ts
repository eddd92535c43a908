import { procedure } from '../../src/procedure/index.ts';
import { back } from './back.ts';
import { finish } from './finish.ts';
import { head } from './head.ts';
import { makeSafe } from './make-safe.ts';
import { out } from './out.ts';
import { tyre } from './tyre.ts';

/** Change a tyre, wheel out and back. */
export default procedure({
  id: 'wheel-tyre',
  ...head,
  initial: 'protect',
  states: { ...makeSafe, ...out, ...tyre, ...back, ...finish },
});
