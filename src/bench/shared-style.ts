import { css } from 'lit';
import './type-tokens.ts';

/**
 * What every screen shares: distances that follow the screen, type that follows the eye. No text is smaller than
 * `--small`; what has to be read is at least `--text`. `--near`: for screens that are worked with a hand on them.
 */
export const shared = css`
  :host {
    --u: min(1vw, 1.6vh);
    --edge: calc(2.4 * var(--u));
    --small: max(calc(1.9 * var(--u)), var(--least));
    --text: max(calc(2.5 * var(--u)), var(--reading));
    --hand: max(calc(1.9 * var(--u)), var(--near));
    box-sizing: border-box;
    display: grid;
    height: 100%;
    background: var(--paper);
    color: var(--ink);
    line-height: 1.15;
  }
  * { box-sizing: border-box; }
  [hidden] { display: none !important; }
  h1, h2, p, ul, ol, dl, dd, figure { margin: 0; padding: 0; }
  h1, h2 { text-wrap: balance; }
  ul, ol { list-style: none; }
  kbd {
    font: inherit;
    font-weight: 700;
    padding: 0.08em 0.42em 0.12em;
    border: max(0.1em, 2px) solid currentColor;
    border-radius: 0.28em;
    white-space: nowrap;
  }
  .small { font-size: var(--small); color: var(--ink-2); }
  @media (forced-colors: active) {
    tr[aria-current], button[aria-current] { forced-color-adjust: none; background: Highlight; color: HighlightText; border-color: Highlight; }
  }
  @media (orientation: portrait) {
    :host { --u: min(1.6vw, 1vh); }
  }
`;
