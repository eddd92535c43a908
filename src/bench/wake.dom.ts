/**
 * Does the screen stay on? `kept`: yes; `lost`: it was, and will be asked for again; `refused`: the browser or the
 * device (a low battery) says no; `none`: this browser cannot.
 */
export type WakeState = 'kept' | 'lost' | 'refused' | 'none';

export interface Wake {
  readonly state: WakeState;
  /** Asks once more; called by itself whenever the page comes into view. */
  ask(): Promise<void>;
  stop(): void;
}

/** After the system took the lock away from a page that is in view, ms until it is asked for again. */
const AGAIN_MS = 10_000;

/**
 * Keeps the screen on while the page is in view. The lock is lost whenever the page is hidden, and may be taken away at
 * any time: it is asked for on each return, on each loss in view after a pause, and its state is always told.
 */
export function keepAwake(
  changed: () => void,
  lock: Pick<WakeLock, 'request'> | null = globalThis.navigator?.wakeLock ?? null,
): Wake {
  let state: WakeState = lock ? 'lost' : 'none';
  let held: WakeLockSentinel | null = null;
  let timer = 0;
  let stopped = false;

  function tell(next: WakeState): void {
    if (next === state) return;
    state = next;
    changed();
  }

  async function ask(): Promise<void> {
    window.clearTimeout(timer);
    if (stopped || !lock || (held && !held.released) || document.visibilityState !== 'visible') return;
    try {
      const got = await lock.request('screen');
      if (stopped) return void got.release();
      held = got;
      got.addEventListener('release', () => {
        if (held !== got || stopped) return;
        held = null;
        tell('lost');
        timer = window.setTimeout(() => void ask(), AGAIN_MS);
      });
      tell('kept');
    } catch {
      tell('refused');
    }
  }

  const onVisible = () => void ask();
  document.addEventListener('visibilitychange', onVisible);
  void ask();
  return {
    get state() {
      return state;
    },
    ask,
    stop() {
      stopped = true;
      window.clearTimeout(timer);
      document.removeEventListener('visibilitychange', onVisible);
      void held?.release();
      held = null;
    },
  };
}
