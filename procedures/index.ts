import type { Definition } from '../src/procedure/definition.ts';
import finalDrive from './final-drive/index.ts';
import recheck from './final-drive-recheck/index.ts';

/** Every procedure that the bench offers. */
export const procedures: readonly Definition[] = [finalDrive, recheck];
