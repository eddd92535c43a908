import { css } from 'lit';

/** What every screen shares: sizes that follow the screen, key caps, the strip of offers. */
export const shared = css`
  :host {
    --u: min(1vw, 1.6vh);
    --edge: calc(2.4 * var(--u));
    box-sizing: border-box;
    display: grid;
    height: 100%;
    background: var(--paper);
    color: var(--ink);
    line-height: 1.15;
  }
  * { box-sizing: border-box; }
  h1, h2, p, ul, ol, dl, dd { margin: 0; padding: 0; }
  ul, ol { list-style: none; }
  kbd {
    font: inherit;
    font-weight: 700;
    padding: 0.08em 0.42em 0.12em;
    border: 0.1em solid currentColor;
    border-radius: 0.28em;
    white-space: nowrap;
  }
  .small { font-size: calc(1.9 * var(--u)); color: var(--ink-2); }
  @media (orientation: portrait) {
    :host { --u: min(1.6vw, 1vh); }
  }
`;
