import { cssText } from './markup.ts';

/** The look of a job report on paper and on screen; `foot` stands at the foot of every printed page. */
export const reportCss = (foot: string): string => `
@page {
  margin: 15mm 14mm 17mm;
  @bottom-left { content: ${cssText(foot)}; font: 8pt "B612", "DejaVu Sans", sans-serif; color: #333; }
  @bottom-right { content: counter(page) " of " counter(pages); font: 8pt "B612", "DejaVu Sans", sans-serif; color: #333; }
}
.report { font: var(--report-size, 9.5pt)/1.35 "B612", "DejaVu Sans", sans-serif; color: #15181d; background: #fff; max-width: 190mm; margin: 0 auto; }
.report * { box-sizing: border-box; }
.report h1 { font-size: 1.8em; line-height: 1.1; margin: 0 0 1mm; }
.report h2 { font-size: 1.16em; margin: 6mm 0 1.5mm; break-after: avoid; }
.report p { margin: 0 0 1.5mm; }
.report .head { display: grid; grid-template-columns: 1fr auto; gap: 2mm 8mm; border-bottom: 0.7mm solid #15181d; padding-bottom: 3mm; }
.report .outcome { font-weight: 700; font-size: 1.26em; border: 0.5mm solid; padding: 1.5mm 3mm; align-self: start; }
.report .outcome.complete { color: #0a5a34; }
.report .outcome.stopped, .report .outcome.open { color: #9c1c14; }
.report .code { font-family: "B612 Mono", "DejaVu Sans Mono", monospace; font-weight: 700; letter-spacing: 0.04em; }
.report .hash { font-family: "B612 Mono", "DejaVu Sans Mono", monospace; font-size: 0.82em; overflow-wrap: anywhere; }
.report dl { display: grid; grid-template-columns: auto 1fr; gap: 0.6mm 4mm; margin: 2mm 0 0; }
.report dt { color: #454b55; }
.report dd { margin: 0; overflow-wrap: anywhere; }
.report table { border-collapse: collapse; width: 100%; font-size: 0.9em; }
.report caption { text-align: left; color: #454b55; padding-bottom: 1mm; }
.report tbody th { font-weight: 400; }
.report th, .report td { text-align: left; vertical-align: top; padding: 0.9mm 2.5mm 0.9mm 0; border-bottom: 0.2mm solid #b9b09c; overflow-wrap: break-word; }
.report thead th { white-space: nowrap; }
.report thead th { border-bottom: 0.4mm solid #15181d; }
.report thead { display: table-header-group; }
.report tr { break-inside: avoid; }
.report .number { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
.report .who, .report .time { white-space: nowrap; font-variant-numeric: tabular-nums; }
.report .bad { color: #9c1c14; font-weight: 700; }
.report .conceded > :first-child { border-left: 1.2mm solid #9c1c14; padding-left: 2mm; }
.report .past { color: #454b55; }
.report .photos { display: flex; flex-wrap: wrap; gap: 4mm; margin-top: 2mm; }
.report figure { margin: 0; width: 58mm; break-inside: avoid; }
.report img { width: 100%; display: block; }
.report figcaption { font-size: 0.85em; }
.report .by-hand td { height: 12mm; }
.report .keep { break-inside: avoid; }
.report .note { font-size: 0.86em; color: #454b55; margin-top: 2mm; }
`;
