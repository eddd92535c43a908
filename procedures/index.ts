import type { Definition } from '../src/procedure/definition.ts';

/**
 * A procedure on the list: enough to choose it. The definition is fetched when a job is opened; a job in progress carries
 * its own in its journal, so none is fetched while work goes on.
 */
export interface Listed {
  readonly id: string;
  readonly title: string;
  readonly revision: number;
  load(): Promise<Definition>;
}

const from = (module: { readonly default: Definition }): Definition => module.default;

/** Every procedure that the bench offers, the most frequent job first. A test holds the list against the definitions. */
export const procedures: readonly Listed[] = [
  {
    id: 'final-drive',
    title: 'Renew chain and sprockets',
    revision: 1,
    load: () => import('./final-drive/index.ts').then(from),
  },
  {
    id: 'final-drive-recheck',
    title: 'Re-check chain and sprockets after the first ride',
    revision: 1,
    load: () => import('./final-drive-recheck/index.ts').then(from),
  },
  {
    id: 'wheel-tyre',
    title: 'Change a tyre, wheel out and back',
    revision: 1,
    load: () => import('./wheel-tyre/index.ts').then(from),
  },
  {
    id: 'brake',
    title: 'Brake: pads, disc and fluid',
    revision: 1,
    load: () => import('./brake/index.ts').then(from),
  },
  {
    id: 'valve-clearance',
    title: 'Valve clearance, with shims',
    revision: 1,
    load: () => import('./valve-clearance/index.ts').then(from),
  },
  {
    id: 'fork-sag',
    title: 'Fork oil and sag',
    revision: 1,
    load: () => import('./fork-sag/index.ts').then(from),
  },
];

/** The procedure that takes over the sprockets chosen in the gearing planner. */
export const TAKES_GEARING = 'final-drive';
