import { procedure } from '../../src/procedure/index.ts';
import { chain } from './chain.ts';
import { finish } from './finish.ts';
import { gearing } from './gearing.ts';
import { head } from './head.ts';
import { link } from './link.ts';
import { makeSafe } from './make-safe.ts';
import { readings } from './readings.ts';
import { setting } from './setting.ts';
import { sprockets } from './sprockets.ts';
import { strip } from './strip.ts';

/** Renew chain and sprockets. */
export default procedure({
  id: 'final-drive',
  ...head,
  initial: 'protect',
  states: {
    ...makeSafe,
    ...gearing,
    ...strip,
    ...sprockets,
    ...chain,
    ...link,
    ...setting,
    ...readings,
    ...finish,
  },
});
