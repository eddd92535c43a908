import { css } from 'lit';

/**
 * The page of a station: heading, band and cautions, the instruction with its figure or drawing, and at the foot what
 * was taken last and what can be done now. A hold turns the page over: ink becomes paper, and a frame closes it.
 *
 * `data-tier` says how much stands around the work, `data-closeness` how close the type is set; both by `pages.ts`.
 */
export const jobStyle = css`
  :host { grid-template: minmax(0, 1fr) / minmax(0, 1fr); overflow: hidden; }
  .station {
    --body: var(--text);
    --digits: max(calc(14 * var(--u)), var(--figure));
    position: relative;
    display: flex;
    flex-direction: column;
    gap: calc(1.5 * var(--u));
    padding: calc(0.8 * var(--edge)) var(--edge) calc(0.7 * var(--edge));
    min-width: 0;
    min-height: 0;
    overflow: hidden;
    background: var(--paper);
    color: var(--ink);
    overflow-wrap: normal;
  }
  .station[data-closeness="reading"] { --body: var(--reading); --digits: var(--figure); }
  .station[data-closeness="least"] { --body: var(--least); --digits: var(--reading); }
  .station[data-break] { overflow-wrap: anywhere; }
  .station > header { display: flex; justify-content: space-between; align-items: center; gap: calc(2 * var(--u)); min-width: 0; font-size: var(--small); }
  /* What does not fit on the line wraps out of sight as a whole. */
  .station > header h1 { display: flex; flex-wrap: wrap; min-width: 0; flex: 1 1 0; height: 1.15em; overflow: hidden; font-size: inherit; font-weight: 700; white-space: nowrap; }
  .station > header h1 i { width: 1px; height: 1.4em; }

  .station > header h1 span { font-weight: 400; color: var(--ink-2); }
  .station > header h1 .machine { padding-right: 0.5em; font-weight: 700; color: inherit; }
  .station > header h1 .dark { padding-right: 0.5em; font-weight: 700; color: var(--bad); }
  /* Out of sight where there is no room, and still there for whoever has the screen read out. */
  [data-tier="lean"] > header h1, [data-tier="bare"] > header { position: absolute; inset: 0 var(--edge) auto; clip-path: inset(50%); }

  .body { flex: 1 1 0; display: grid; gap: calc(1.5 * var(--u)) calc(3 * var(--u)); min-height: 0; min-width: 0; grid-template: minmax(0, 1fr) / minmax(0, 1fr); }
  .body:has(> .main:not([hidden])):has(> aside:not([hidden])) { grid-template-columns: minmax(0, 1.25fr) minmax(0, 1fr); }
  .main { display: flex; flex-direction: column; gap: calc(1.4 * var(--u)); min-height: 0; min-width: 0; }
  .kind { font-size: var(--body); font-weight: 700; color: var(--bad); }
  .say { flex: 1 1 auto; display: grid; align-content: safe center; min-width: 0; font-weight: 700; font-size: var(--fit, var(--reading)); line-height: 1.12; text-wrap: balance; }
  .lower { display: grid; gap: calc(1.2 * var(--u)); align-content: safe center; min-width: 0; grid-template-columns: minmax(0, 1fr); }
  .main:has(> .say[hidden]) .lower { flex: 1 1 auto; }
  aside { display: flex; flex-direction: column; justify-content: safe center; gap: calc(1.6 * var(--u)); min-height: 0; min-width: 0; }
  aside > * { flex: none; }
  aside > .picture { flex: 1 1 calc(26 * var(--u)); }
  .station > footer { margin-top: auto; display: grid; gap: calc(0.7 * var(--u)); padding-top: calc(0.9 * var(--u)); border-top: max(calc(0.3 * var(--u)), 2px) solid var(--rule); min-width: 0; }
  [data-tier="lean"] > footer .yes, [data-tier="bare"] > footer .yes { display: none; }
  .station:has(> .body[hidden]) > :is(.cautions, .refusals, .told) { margin-block: auto; }
  .told { font-size: var(--body); font-weight: 700; }
  .fault { font-size: var(--body); font-weight: 700; color: var(--bad); }
  .rework .say { border-left: calc(1 * var(--u)) solid var(--bad); padding-left: calc(2 * var(--u)); }
  .page-place { font-weight: 400; color: var(--ink-2); padding-left: 0.3em; }

  .station.hold {
    --paper: var(--over-paper);
    --paper-2: var(--over-paper-2);
    --ink: var(--over-ink);
    --ink-2: var(--over-ink-2);
    --rule: var(--over-rule);
    --good: var(--over-good);
    --bad: var(--over-bad);
    --accent: var(--over-accent);
    --hold: var(--over-hold);
    border: calc(1.1 * var(--u)) solid var(--hold-band);
  }
  @media (orientation: portrait) {
    .body:has(> .main:not([hidden])):has(> aside:not([hidden])) { grid-template-columns: minmax(0, 1fr); grid-template-rows: minmax(0, 1fr) minmax(0, 1fr); }
  }
  @media (forced-colors: active) {
    .station.hold { border: calc(1.1 * var(--u)) double Highlight; }
  }
`;
