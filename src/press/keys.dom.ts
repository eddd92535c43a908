import type { StrokeSource } from './source.ts';
import type { Stroke } from './stroke.ts';

const TYPES_TEXT =
  'textarea, select, [role=textbox], [role=combobox], [role=searchbox], [role=listbox], [role=slider]';
const PRESSES =
  'button, a[href], summary, [role=button], [role=link], [role=checkbox], [role=switch], [role=tab]';
const PRESSED_INPUTS = ['button', 'submit', 'reset', 'checkbox', 'image', 'file', 'color'];

/** The element that has the focus, looked up through shadow roots. */
function focused(event: Event): HTMLElement | null {
  const [inner] = event.composedPath();
  return inner instanceof HTMLElement ? inner : null;
}

function edits(element: HTMLElement): boolean {
  if (element.isContentEditable || element.matches(TYPES_TEXT)) return true;
  return element instanceof HTMLInputElement && !PRESSED_INPUTS.includes(element.type);
}

/** Does the focused control itself answer this key? */
function answers(element: HTMLElement, event: KeyboardEvent): boolean {
  if (event.key !== 'Enter' && event.key !== ' ') return false;
  return element.matches(PRESSES) || element instanceof HTMLInputElement;
}

function strokeOf(event: KeyboardEvent): Stroke {
  return {
    phase: event.type === 'keyup' ? 'up' : 'down',
    code: event.code,
    key: event.key,
    at: event.timeStamp,
    repeat: event.repeat,
    chord: event.ctrlKey || event.altKey || event.metaKey,
    shift: event.shiftKey,
  };
}

/**
 * The window's keys. A field that is being edited keeps its keys, a focused button its Enter and Space, unless `mine`
 * says that the key is a pedal: whoever stands on a pedal is not looking for a button.
 */
export function keySource(mine: (code: string) => boolean = () => false): StrokeSource {
  return (sink) => {
    const stops = new AbortController();
    const { signal } = stops;

    const onDown = (event: KeyboardEvent) => {
      if (event.isComposing) return;
      const element = focused(event);
      if (element && (edits(element) || (answers(element, event) && !mine(event.code)))) return;
      if (sink.stroke(strokeOf(event))) event.preventDefault();
    };
    // A release always goes through: the press may have been ours before the focus moved.
    const onUp = (event: KeyboardEvent) => {
      sink.stroke(strokeOf(event));
    };
    const onLost = (event: Event) => sink.lost(event.timeStamp);

    // Capture: no element below can keep a release from us.
    window.addEventListener('keydown', onDown, { capture: true, signal });
    window.addEventListener('keyup', onUp, { capture: true, signal });
    window.addEventListener('blur', (event) => event.target === window && onLost(event), { signal });
    window.addEventListener('pagehide', onLost, { signal });
    document.addEventListener(
      'visibilitychange',
      (event) => document.visibilityState === 'hidden' && onLost(event),
      { signal },
    );
    return () => stops.abort();
  };
}
