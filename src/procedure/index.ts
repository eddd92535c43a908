/** The words a procedure is written in. */
export { oneOf, yesNo } from './facts.ts';
export { procedure } from './procedure.ts';
export { fork, hold, kit, lookUp, reading, round, step, wait, working } from './vocabulary.ts';
