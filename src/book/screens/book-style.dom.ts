import { css } from 'lit';

/** A page at a desk: type of ordinary size, ruled lines as in a ledger, everything within reach of the keyboard. */
export const bookStyle = css`
  :host { display: block; box-sizing: border-box; color: var(--ink); background: var(--paper); font-size: 1rem; line-height: 1.4; }
  * { box-sizing: border-box; }
  h1, h2, p, ul, ol, dl, dd, fieldset { margin: 0; padding: 0; }
  h1 { font-size: 1.5rem; line-height: 1.15; }
  h2 { font-size: 1.1rem; padding: 1.4rem 0 0.5rem; }
  p + p { padding-top: 0.4rem; }
  h1 + .lead { padding: 0.3rem 0 1rem; max-width: 60rem; }
  .row + p, form + p, .place + p { padding-top: 0.8rem; }
  table { border-collapse: collapse; width: 100%; font-size: 0.9375rem; }
  caption { text-align: left; color: var(--ink-2); padding-bottom: 0.4rem; }
  th, td { text-align: left; vertical-align: top; padding: 0.35rem 1rem 0.35rem 0; border-bottom: 1px solid var(--rule); }
  thead th { border-bottom: 2px solid var(--ink); white-space: nowrap; }
  tbody th { font-weight: 400; }
  .number { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
  .time { white-space: nowrap; font-variant-numeric: tabular-nums; }
  .lead, .quiet { color: var(--ink-2); }
  .bad { color: var(--bad); font-weight: 700; }
  .good { color: var(--good); font-weight: 700; }
  .code { font-family: "B612 Mono", monospace; font-weight: 700; white-space: nowrap; }
  .long { overflow-wrap: anywhere; }
  button, input, select {
    font: inherit;
    color: inherit;
    background: var(--paper);
    border: 2px solid var(--ink-2);
    border-radius: 0;
    padding: 0.35rem 0.7rem;
    min-height: 2.4rem;
  }
  button { cursor: pointer; font-weight: 700; }
  button:hover { background: var(--paper-2); }
  button[aria-current="page"], button[aria-pressed="true"] { background: var(--ink); color: var(--paper); border-color: var(--ink); }
  button:disabled { color: var(--ink-2); border-style: dashed; cursor: default; }
  td button, th button { min-height: 0; border: 0; padding: 0; background: none; text-decoration: underline; text-underline-offset: 0.2em; font-weight: 400; text-align: left; }
  :focus-visible { outline: 3px solid var(--hold); outline-offset: 2px; }
  input[type="checkbox"] { min-height: 0; width: 1.2rem; height: 1.2rem; margin: 0; accent-color: var(--ink); }
  label { display: grid; gap: 0.15rem; font-size: 0.875rem; color: var(--ink-2); }
  label > input, label > select { font-size: 1rem; color: var(--ink); }
  .row { display: flex; flex-wrap: wrap; gap: 0.8rem 1rem; align-items: end; }
  .wide { overflow-x: auto; }
  @media (forced-colors: active) {
    button[aria-current="page"], button[aria-pressed="true"] { forced-color-adjust: none; background: Highlight; color: HighlightText; border-color: Highlight; }
    button:disabled { color: GrayText; border-color: GrayText; }
  }
`;

/** Sends an event that the book listens for. */
export function tell<T>(from: EventTarget, name: string, detail: T): void {
  from.dispatchEvent(new CustomEvent<T>(name, { detail, bubbles: true, composed: true }));
}
