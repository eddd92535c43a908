import { OfficeError } from '../../sync/fault.ts';

/** Conditions of PostgreSQL (appendix A of its manual) after which the same work may succeed later. */
const FULL = ['53100'];
const AWAY = /^(08|57P0|53300|40001|40P01|25006)/;
const NETWORK = ['ECONNREFUSED', 'ECONNRESET', 'EPIPE', 'ENOENT', 'ETIMEDOUT', 'ENOTFOUND', 'EAI_AGAIN'];

/** A fault of the database in the office's own words; a fault of ours is passed on as it is. */
export function databaseFault(error: unknown): OfficeError {
  if (error instanceof OfficeError) return error;
  const { code, message } = error as { code?: unknown; message?: unknown };
  const says = typeof message === 'string' ? message : '';
  const named = typeof code === 'string' ? code : '';
  if (FULL.includes(named) || named === 'ENOSPC' || /No space left on device/i.test(says))
    return new OfficeError('storage-full', {}, error);
  const away =
    AWAY.test(named) ||
    NETWORK.includes(named) ||
    /Connection terminated|timeout exceeded when trying to connect|Client has encountered a connection error|database is closed|PGlite is closed/i.test(
      says,
    );
  return new OfficeError(away ? 'database-away' : 'office-fault', {}, error);
}

/** Condition of a unique constraint that somebody else's row was in the way of. */
export const isDuplicate = (error: unknown): boolean => (error as { code?: unknown }).code === '23505';
