import { procedure } from '../../src/procedure/index.ts';
import { finish } from './finish.ts';
import { head } from './head.ts';
import { makeSafe } from './make-safe.ts';
import { measure } from './measure.ts';
import { prove } from './prove.ts';
import { shims } from './shims.ts';

/** Valve clearance, with shims or screws. */
export default procedure({
  id: 'valve-clearance',
  ...head,
  initial: 'protect',
  states: { ...makeSafe, ...measure, ...shims, ...prove, ...finish },
});
