import { procedure } from '../../src/procedure/index.ts';
import { bleed } from './bleed.ts';
import { build } from './build.ts';
import { disc } from './disc.ts';
import { finish } from './finish.ts';
import { head } from './head.ts';
import { makeSafe } from './make-safe.ts';
import { wear } from './wear.ts';

/** Brake: pads, disc and fluid. */
export default procedure({
  id: 'brake',
  ...head,
  initial: 'protect',
  states: { ...makeSafe, ...wear, ...disc, ...build, ...bleed, ...finish },
});
