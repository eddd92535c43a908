import type { Gesture } from '../../press/gesture.ts';

const MOST_DIGITS = 8;

/** Digits of a PIN as they are typed, and what a gesture asks for. */
export class PinEntry {
  #pin = '';

  get typed(): number {
    return this.#pin.length;
  }

  /** The digits, which are forgotten here. */
  take(): string {
    const pin = this.#pin;
    this.#pin = '';
    return pin;
  }

  /** `pin`: what was typed is given; `passkey`: a tap or Enter with nothing typed, where there is one. */
  pressed(gesture: Gesture, passkey: boolean): 'leave' | 'pin' | 'passkey' | null {
    if (gesture.kind === 'escape') return 'leave';
    if (gesture.kind === 'digit' && this.#pin.length < MOST_DIGITS) this.#pin += gesture.digit;
    if (gesture.kind === 'erase') this.#pin = this.#pin.slice(0, -1);
    if (gesture.kind === 'enter' && this.#pin !== '') return 'pin';
    const asks = gesture.kind === 'enter' || (gesture.kind === 'tap' && gesture.key === 'go');
    return asks && passkey && this.#pin === '' ? 'passkey' : null;
  }
}
