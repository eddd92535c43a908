import type { StrokeSource } from './source.ts';

/** One look at all gamepads; the pads of the browser unless a test brings its own. */
export type ReadPads = () => readonly (Pick<Gamepad, 'index' | 'buttons'> | null)[];

/** A pause this long between two looks, ms, means the page was frozen: what was down may have been up in between. */
const FROZEN_MS = 250;

/**
 * Buttons of gamepads as pedals: "Pad0" is the first button of any of them. Looks once a frame, and only while one is
 * connected. Between two looks a button's real time is unknown, so a press is taken from the look that first saw it
 * to the last look that still did: never longer than it was.
 */
export function padSource(read: ReadPads = () => navigator.getGamepads()): StrokeSource {
  return (sink) => {
    /** Buttons that are down, by pad and number, with the code they go by. */
    const held = new Map<string, string>();
    let frame = 0;
    let lookedAt: number | null = null;

    const stroke = (phase: 'down' | 'up', code: string, at: number) =>
      sink.stroke({ phase, code, key: code, at, repeat: false, chord: false, shift: false });

    function look(at: number, baseline: boolean) {
      const down = new Map<string, string>();
      for (const pad of read()) {
        pad?.buttons.forEach((button, i) => {
          if (button.pressed) down.set(`${pad.index}:${i}`, `Pad${i}`);
        });
      }
      for (const [id, code] of [...held]) {
        if (down.has(id)) continue;
        held.delete(id);
        if (!baseline) stroke('up', code, lookedAt ?? at);
      }
      for (const [id, code] of down) {
        if (held.has(id)) continue;
        held.set(id, code);
        // What is down at the first look was pressed before us and for something else.
        if (!baseline) stroke('down', code, at);
      }
      lookedAt = at;
    }

    function onFrame() {
      const at = performance.now();
      const frozen = lookedAt !== null && at - lookedAt > FROZEN_MS;
      if (frozen) dropAll(at);
      look(at, lookedAt === null || frozen);
      frame = requestAnimationFrame(onFrame);
    }

    function dropAll(at: number) {
      held.clear();
      sink.lost(at);
    }

    const connected = () => read().some((pad) => pad !== null);
    const start = () => {
      if (frame !== 0) return;
      lookedAt = null;
      frame = requestAnimationFrame(onFrame);
    };
    const end = () => {
      cancelAnimationFrame(frame);
      frame = 0;
      if (held.size > 0) dropAll(performance.now());
    };
    const onGone = () => {
      if (held.size > 0) dropAll(performance.now());
      if (!connected()) end();
    };

    window.addEventListener('gamepadconnected', start);
    window.addEventListener('gamepaddisconnected', onGone);
    if (connected()) start();
    return () => {
      window.removeEventListener('gamepadconnected', start);
      window.removeEventListener('gamepaddisconnected', onGone);
      end();
    };
  };
}
