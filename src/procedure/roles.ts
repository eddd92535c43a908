import type { Role } from './context.ts';
import type { SignOnWay } from './events.ts';

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

/**
 * Ways by which a person may show who they are for an act that is not one of a job. A badge is one component, and whoever
 * found it has it. A PIN goes with the id that was chosen; a passkey is had and unlocked (PIN, finger or face), so it is two
 * components by itself.
 */
const ways: Readonly<Partial<Record<Act, readonly SignOnWay[]>>> = { bundle: ['pin', 'passkey'] };

export const showsEnough = (how: SignOnWay, act: Act): boolean => ways[act]?.includes(how) ?? true;
