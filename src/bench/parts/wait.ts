import { css, html, type TemplateResult } from 'lit';

const two = (value: number) => String(value).padStart(2, '0');

/** Minutes and seconds to go, counted from the moment in the journal and not by a running timer. */
export function waitClock(endsAt: number, now: number): TemplateResult {
  const seconds = Math.max(0, Math.ceil((endsAt - now) / 1000));
  const hours = Math.floor(seconds / 3600);
  const left = `${hours > 0 ? `${hours}:` : ''}${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
  return html`<p class="wait" data-block="lower" role="timer">${seconds > 0 ? left : 'Time is up'}</p>`;
}

// The line is as high as its glyphs: a lower one counts as overflowing, and the clock would go to a page of its own.
export const waitStyle = css`
  .wait { font-family: "B612 Mono", monospace; font-weight: 700; font-size: var(--digits); line-height: normal; }
`;
