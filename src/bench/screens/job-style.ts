import { css } from 'lit';

/**
 * The page of a station: heading, band and cautions, the instruction with its figure or drawing, and at the foot what
 * was taken last and what can be done now. A hold turns the page over: ink becomes paper, and a frame closes it.
 */
export const jobStyle = css`
  :host { --on-hold: #fff; grid-template: minmax(0, 1fr) / minmax(0, 1fr); overflow: hidden; }
  .station {
    position: relative;
    display: grid;
    grid-template-rows: auto auto auto minmax(0, 1fr) auto;
    gap: calc(1.6 * var(--u));
    padding: var(--edge);
    min-height: 0;
    background: var(--paper);
    color: var(--ink);
  }
  .station > header { grid-row: 1; display: flex; justify-content: space-between; align-items: center; gap: calc(2 * var(--u)); min-width: 0; }
  .station > header h1 { font-size: calc(2 * var(--u)); font-weight: 400; line-height: 1.15; }
  .station > header h1 b { display: block; font-weight: 700; }
  .band { grid-row: 2; }
  .cautions { grid-row: 3; }
  .body { grid-row: 4; display: grid; gap: calc(3 * var(--u)); min-height: 0; grid-template: minmax(0, 1fr) / minmax(0, 1fr); }
  .sided .body { grid-template-columns: minmax(0, 1.25fr) minmax(0, 1fr); }
  .main { display: grid; grid-template-rows: auto minmax(calc(11 * var(--u)), 1fr) auto; gap: calc(1.4 * var(--u)); min-height: 0; }
  .kind { grid-row: 1; font-size: calc(2.6 * var(--u)); font-weight: 700; color: var(--bad); }
  .say { grid-row: 2; min-height: 0; overflow: hidden; display: grid; align-content: center; font-weight: 700; font-size: var(--fit, 6vh); line-height: 1.1; text-wrap: balance; }
  .lower { grid-row: 3; min-height: 0; }
  aside { display: grid; grid-auto-rows: minmax(0, auto); gap: calc(1.6 * var(--u)); min-height: 0; align-content: center; }
  aside:has(.drawing), aside:has(.ring) { align-content: stretch; }
  .station > footer { grid-row: 5; display: grid; gap: calc(1 * var(--u)); padding-top: calc(1.2 * var(--u)); border-top: calc(0.3 * var(--u)) solid var(--rule); }
  .read-only { font-size: calc(2.9 * var(--u)); font-weight: 700; }
  .fault { font-size: calc(3 * var(--u)); font-weight: 700; color: var(--bad); }
  .rework .say { border-left: calc(1 * var(--u)) solid var(--bad); padding-left: calc(2 * var(--u)); }

  .station.hold {
    --paper: #15181d;
    --paper-2: #2a2f38;
    --ink: #fbf8f1;
    --ink-2: #d5d0c4;
    --rule: #656c78;
    --good: #6fdca4;
    --bad: #ff9d92;
    --accent: #ffb37a;
    --hold: #5b1a8b;
    outline: calc(1.1 * var(--u)) solid var(--hold);
    outline-offset: calc(-1.1 * var(--u));
    padding: calc(var(--edge) + 0.9 * var(--u));
  }
  @media (prefers-color-scheme: dark) {
    :host(:not([theme="light"])) .station.hold {
      --paper: #f3efe6;
      --paper-2: #e6dfd0;
      --ink: #15181d;
      --ink-2: #454b55;
      --rule: #b9b09c;
      --good: #0a5a34;
      --bad: #9c1c14;
      --accent: #7a2e00;
    }
  }
  @media (orientation: portrait) {
    .sided .body { grid-template-columns: minmax(0, 1fr); grid-template-rows: minmax(0, 1fr) minmax(0, 1fr); }
  }
`;
