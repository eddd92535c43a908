import { css } from 'lit';

/** What every part of the page shares. Read at a desk: type as large as a letter, ruled lines, nothing by colour alone. */
export const pageStyle = css`
  :host { display: block; font-size: 1.06rem; line-height: 1.35; color: var(--ink); }
  * { box-sizing: border-box; }
  h2 { font-size: 1.5rem; margin: 1.4em 0 0.4em; }
  h2:first-child { margin-top: 0; }
  table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
  caption { text-align: left; padding: 0 0 0.5em; color: var(--ink-2); }
  th, td { text-align: left; vertical-align: top; padding: 0.45em 1.1em 0.45em 0; border-bottom: 1px solid var(--rule); }
  th { color: var(--ink-2); font-weight: 400; }
  td.number, th.number { text-align: right; }
  td strong { display: block; }
  small { color: var(--ink-2); font-size: 0.92em; }
  button, input, select { font: inherit; color: inherit; background: var(--paper); border: 2px solid var(--ink); border-radius: 0.3em; padding: 0.35em 0.8em; min-height: 2.4em; }
  button { font-weight: 700; cursor: pointer; white-space: nowrap; }
  button.quiet { border-color: var(--rule); font-weight: 400; }
  button:focus-visible, input:focus-visible, select:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
  form { display: flex; flex-wrap: wrap; gap: 0.8em 1.2em; align-items: end; margin: 0 0 1.2em; }
  label { display: grid; gap: 0.2em; color: var(--ink-2); }
  .state { font-weight: 700; }
  .bad { color: var(--bad); font-weight: 700; }
  .code { font-family: "B612 Mono", monospace; font-weight: 700; font-size: 1.3rem; overflow-wrap: anywhere; }
  .empty { color: var(--ink-2); }
  [hidden] { display: none !important; }
`;
