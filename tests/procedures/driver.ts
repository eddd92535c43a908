export { rightEvent, rightMove } from '../../src/job/rehearsal.ts';
