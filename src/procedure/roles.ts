import type { Role } from './context.ts';

/** What can be done on a job, or with its record, only by some. Everything else is anybody's who is on the job. */
export type Act = 'witness' | 'rework' | 'scrap' | 'concession' | 'bundle';

/** The one table of who may do what: the machine's guards and the people's screens read it. */
const allowed: Readonly<Record<Act, readonly Role[]>> = {
  witness: ['mechanic', 'supervisor'],
  rework: ['mechanic', 'supervisor'],
  scrap: ['mechanic', 'supervisor'],
  concession: ['supervisor'],
  bundle: ['supervisor'],
};

export const may = (role: Role, act: Act): boolean => allowed[act].includes(role);
