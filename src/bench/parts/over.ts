import { css, html, nothing, type TemplateResult } from 'lit';
import type { Return } from '../../job/return.ts';
import type { StationView } from '../../job/view.ts';
import { allOffersAt } from '../../job/words.ts';
import { breaths } from '../breaths.ts';
import { asksDecision, type Console, STOP_REASONS } from '../console.ts';
import type { TalkNext } from '../talk.ts';
import { optionList } from './options.ts';
import { pictureInWords, pictureOf } from './picture.ts';
import { pinPanel } from './pin.ts';
import { returnFoot, returnPanel } from './return.ts';

/** What lies over the station until it is answered: why, the words, the question before going back, the reason to stop. */
export function overPanel(
  view: StationView,
  console: Console,
  before: string | null,
  voided: number,
  talk: TalkNext | null,
  hint: string | null,
  back: Return | null,
  most = 60,
): TemplateResult | typeof nothing {
  const panel = panelOf(most);
  if (console.over === 'talk' || asksDecision(view)) return talkPanel(console, talk, hint, most);
  if (back)
    return panel('Paused', returnPanel(back, console.press?.heldMs ?? null, most), ...returnFoot(back));
  switch (console.over) {
    case 'why':
      return panel('Why', whyText(view, most), 'any key closes this');
    case 'picture':
      return picturePanel(view, most);
    case 'words':
      return panel('What can be done now', wordsText(view), 'any key closes this');
    case 'back': {
      const holds = voided === 1 ? 'One hold point' : `${voided} hold points`;
      const text = html`<p data-part>${holds} will have to be passed again.</p><p class="big" data-holds>${parts(`Back to: ${before}`, most)}</p>`;
      return panel('One step back?', text, 'back again to go back · tap to stay', 'back again · tap: stay');
    }
    case 'stop':
      return panel(
        'Stop the job: why?',
        optionList(
          STOP_REASONS.map((text) => ({ text })),
          console.at,
          'Reasons to stop',
        ),
        'tap: next · hold down or number: stop · Esc: stay',
        'tap: next · hold down: stop',
      );
    case 'tools':
      return panel(
        view.kit?.next ? `Which one? ${view.kit.next.calls}` : 'Which one?',
        optionList(
          (view.kit?.next?.tools ?? []).map(({ id, says, calibratedUntil }) => ({
            text: `${id} · ${says}`,
            ...(calibratedUntil ? { detail: `calibrated until ${calibratedUntil}` } : {}),
          })),
          console.at,
          'Tools',
        ),
        'tap: next · hold down or number: take it',
        TAKES,
      );
    case 'label':
      return panel(
        'What does the label say?',
        html`<textarea aria-label="Label" rows="2" maxlength="120"></textarea>`,
        'type it, then Enter · Esc to leave it',
      );
    case 'note':
      return panel(
        'Note',
        html`<textarea aria-label="Note" rows="4" maxlength="500"></textarea>`,
        'type it, then Enter · Esc to leave it',
      );
    default:
      return nothing;
  }
}

function talkPanel(
  console: Console,
  talk: TalkNext | null,
  hint: string | null,
  most: number,
): TemplateResult | typeof nothing {
  if (!talk || talk.kind === 'done') return nothing;
  const panel = panelOf(most);
  if (talk.kind === 'pin') {
    const body = pinPanel(talk.person.name, console.pin.length, console.pinFault, hint, talk.passkey);
    return panel('Sign on', body, 'digits, then Enter · Del erases · Esc to leave it', 'digits, Enter');
  }
  const foot = 'tap: next · hold down or number: take it · Esc: leave it';
  return panel(talk.heading, optionList(talk.options, console.at, talk.heading), foot, TAKES);
}

const TAKES = 'tap: next · hold down: take';

/** A text cut where a page may end; a piece is no longer than what fits on a page by itself. */
const parts = (text: string, most: number) =>
  breaths(text, most).map((piece) => html`<span data-part>${piece}</span> `);

/** `brief`: what the foot says where it has little room. */
const panelOf =
  (most: number) =>
  (title: string, body: unknown, foot: string, brief = foot): TemplateResult =>
    html`<section class="over" role="dialog" aria-label=${title}>
    <h2>${breaths(title, most).map((piece) => html`<span data-piece>${piece}</span> `)}</h2>
    <div class="text">${body}</div>
    <p class="foot"><span class="full">${foot}</span><span class="brief">${brief}</span></p>
  </section>`;

/** The drawing as large as the screen. */
function picturePanel(view: StationView, most: number): TemplateResult {
  const picture = pictureOf(view);
  if (!picture)
    return panelOf(most)(
      'Drawing',
      html`<p>There is no drawing for this station.</p>`,
      'any key closes this',
    );
  return html`<section class="over full" role="dialog" aria-label=${pictureInWords(view) ?? 'Drawing'}>${picture}</section>`;
}

/** Why this station, and why each of its cautions: the failure that is prevented. */
function whyText(view: StationView, most: number): TemplateResult {
  const lines = view.result?.formula ?? [];
  const cautions = view.cautions.filter(({ why }) => why !== undefined);
  return html`${view.why ? html`<p class="big" data-holds>${parts(view.why, most)}</p>` : nothing}
    ${cautions.map(({ word, text, why }) => html`<section class="reason ${word}" data-holds><h3 data-holds>${parts(`${word}: ${text}`, most)}</h3><p data-holds>${parts(why ?? '', most)}</p></section>`)}
    ${lines.map((line) => html`<p class="formula" data-holds>${parts(line, Math.min(most, 60))}</p>`)}
    ${view.why || cautions.length > 0 || lines.length > 0 ? nothing : html`<p data-part>Nothing was written about this station.</p>`}`;
}

function wordsText(view: StationView): TemplateResult {
  return html`<ul class="words">
    ${allOffersAt(view).map(
      ({ press, says, does }) =>
        html`<li data-holds><span data-part><kbd>${press}</kbd> ${does}</span>${says ? html` <q data-part>${says}</q>` : nothing}</li>`,
    )}
  </ul>`;
}

export const overStyle = css`
  .over {
    position: absolute;
    inset: 0;
    display: grid;
    grid-template: auto minmax(0, 1fr) auto / minmax(0, 1fr);
    gap: calc(1.2 * var(--u));
    padding: calc(1.6 * var(--u)) calc(2.4 * var(--u));
    border: max(calc(0.5 * var(--u)), 4px) solid var(--ink);
    background: var(--paper);
    color: var(--ink);
    font-size: var(--text);
    z-index: 1;
  }
  .over h2 { font-size: max(calc(3.4 * var(--u)), var(--reading)); line-height: 1; min-width: 0; }
  [data-tier="bare"] .over { inset: 0; padding: calc(1.4 * var(--u)) calc(1.6 * var(--u)); font-size: var(--reading); }
  [data-tier="bare"] .over h2 { font-size: var(--least); }
  .over .options { gap: calc(0.5 * var(--u)); }
  .over .options li { font-size: max(calc(2.6 * var(--u)), var(--reading)); padding-block: calc(0.4 * var(--u)); }
  .over .text { overflow: hidden; display: grid; gap: calc(1.2 * var(--u)); align-content: start; grid-template-columns: minmax(0, 1fr); }
  .over .big { font-size: max(calc(4.6 * var(--u)), var(--reading)); font-weight: 700; line-height: 1.15; text-wrap: balance; }
  .over .foot { font-size: var(--small); color: var(--ink-2); }
  .over .foot .brief, [data-tier="lean"] .over .foot .full, [data-tier="bare"] .over .foot .full { display: none; }
  [data-tier="lean"] .over .foot .brief, [data-tier="bare"] .over .foot .brief { display: inline; }
  .over[data-apart] { grid-template-rows: minmax(0, 1fr) auto; }
  .over:is([data-set="least"], [data-set="break"]) { font-size: var(--least); }
  .over:is([data-set="least"], [data-set="break"]) :is(h2, .big, .options li, .who) { font-size: var(--least); }
  .over[data-set="break"] { overflow-wrap: anywhere; }
  .over[data-set="break"] kbd { white-space: normal; }
  [data-tier="bare"] .over .options li { display: block; padding: calc(0.3 * var(--u)) calc(0.8 * var(--u)); }
  [data-tier="bare"] .over .options li[hidden] { display: none; }
  [data-tier="bare"] .over .options .number { padding-right: 0.4em; }
  .over[data-set="break"] .options::before, .over[data-set="break"] .options::after { display: none; }
  .over:not([data-more=""])[data-more] .foot { font-size: 0; }
  .over:not([data-more=""])[data-more] .foot::before { content: attr(data-more); font-size: var(--small); font-weight: 700; color: var(--ink); }
  .over .reason { border-left: max(calc(1 * var(--u)), 8px) solid var(--z); padding-left: 0.6em; }
  .over .reason h3 { margin: 0; font-size: var(--small); font-weight: 400; color: var(--ink-2); }
  .over .reason h3::first-letter { text-transform: uppercase; }
  .over .reason p { font-weight: 700; }
  .reason.danger { --z: var(--z-danger); }
  .reason.warning { --z: var(--z-warning); }
  .reason.caution { --z: var(--z-caution); }
  .reason.notice { --z: var(--z-notice); }
  .over .formula { font-family: "B612 Mono", monospace; font-size: var(--small); overflow-wrap: anywhere; }
  .over.full { inset: 0; padding: calc(2 * var(--u)); grid-template: minmax(0, 1fr) / minmax(0, 1fr); border: 0; }
  .over.full > * { height: 100%; min-height: 0; }
  .over.full .adjuster { align-content: center; }
  .over.full .adjuster svg { max-height: none; }
  .words { display: grid; gap: calc(0.7 * var(--u)); font-size: var(--text); }
  .words li { display: flex; flex-wrap: wrap; gap: 0 0.8em; align-items: baseline; min-width: 0; }
  .words kbd { display: inline-block; box-sizing: border-box; min-width: 6em; text-align: center; margin-right: 0.4em; }
  @media (orientation: portrait) {
    .words li > span { display: grid; grid-template-columns: max-content minmax(0, 1fr); gap: 0.8em; align-items: baseline; flex: 1 0 100%; }
    .words li > span[hidden] { display: none; }
    .words li > q { padding-left: 7.2em; }
  }
  [data-tier="bare"] .words li > span { display: inline; }
  [data-tier="bare"] .words kbd { min-width: 0; }
  [data-tier="bare"] .words li > q { padding-left: 0; }
  .words q { color: var(--ink-2); font-style: italic; }
  textarea { font: inherit; font-size: var(--text); padding: 0.5em; width: 100%; background: var(--paper-2); color: inherit; border: 0.1em solid var(--ink-2); }
`;
