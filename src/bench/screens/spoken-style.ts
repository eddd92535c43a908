import { css } from 'lit';

/** Screens that ask for something to be said: heading above, the asking in the middle, level and keys at the foot. */
export const spokenStyle = css`
  :host { grid-template: auto minmax(0, 1fr) auto / minmax(0, 1fr); gap: calc(1.6 * var(--u)); padding: var(--edge) calc(1.4 * var(--edge)) calc(0.8 * var(--edge)); overflow: hidden; }
  h1 { font-size: max(calc(3.4 * var(--u)), var(--reading)); line-height: 1.05; }
  .ask { align-content: center; display: grid; min-height: 0; }
  .told { font-size: var(--text); }
  .bad { color: var(--bad); font-weight: 700; font-size: var(--text); }
  .ear .meter { width: min(60vw, calc(60 * var(--u))); height: max(calc(3 * var(--u)), 16px); }
  footer { font-size: var(--small); color: var(--ink-2); border-top: calc(0.3 * var(--u)) solid var(--rule); padding-top: calc(0.9 * var(--u)); display: grid; gap: 0.4em; }
  .keys { display: flex; flex-wrap: wrap; gap: 0.3em calc(2.2 * var(--u)); line-height: 1.75; }
`;
