import type { ClockReading } from '../job/clock.ts';

/** Both clocks of the browser at once. */
export const readClocks = (): ClockReading => ({ wall: Date.now(), run: performance.now() });
