import { css, html, nothing, type TemplateResult } from 'lit';
import type { Return } from '../../job/return.ts';
import type { StationView } from '../../job/view.ts';
import { allOffersAt } from '../../job/words.ts';
import { type Console, STOP_REASONS } from '../console.ts';
import type { TalkNext } from '../talk.ts';
import { optionList } from './options.ts';
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
): TemplateResult | typeof nothing {
  if (console.over === 'talk' || view.trouble) return talkPanel(console, talk, hint);
  if (back) return panel('Paused', returnPanel(back, console.press?.heldMs ?? null), returnFoot(back));
  switch (console.over) {
    case 'why':
      return panel('Why', whyText(view), 'any key closes this');
    case 'words':
      return panel('What can be done now', wordsText(view), 'any key closes this');
    case 'back': {
      const holds = voided === 1 ? 'One hold point' : `${voided} hold points`;
      const text = html`<p class="big">Back to: ${before}</p><p>${holds} will have to be passed again.</p>`;
      return panel('Go back?', text, 'back again to go back · tap to stay');
    }
    case 'stop':
      return panel(
        'Stop the job: why?',
        optionList(
          STOP_REASONS.map((text) => ({ text })),
          console.at,
          'Reasons to stop',
        ),
        'tap for the next · hold down, Enter or the number to stop · Esc to stay',
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
        'tap for the next · hold down, Enter or the number to take it',
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
): TemplateResult | typeof nothing {
  if (!talk || talk.kind === 'done') return nothing;
  if (talk.kind === 'pin') {
    const body = pinPanel(talk.person.name, console.pin.length, console.pinFault, hint);
    return panel('Sign on', body, 'digits, then Enter · Del erases · Esc to leave it');
  }
  const foot = 'tap for the next · hold down, Enter or the number to take it · Esc to leave it';
  return panel(talk.heading, optionList(talk.options, console.at, talk.heading), foot);
}

function panel(title: string, body: unknown, foot: string): TemplateResult {
  return html`<section class="over" role="dialog" aria-label=${title}>
    <h2>${title}</h2>
    <div class="text">${body}</div>
    <p class="small">${foot}</p>
  </section>`;
}

function whyText(view: StationView): TemplateResult {
  const lines = view.result?.formula ?? [];
  return html`${view.why ? html`<p class="big">${view.why}</p>` : nothing}
    ${lines.map((line) => html`<p class="formula">${line}</p>`)}
    ${view.why || lines.length > 0 ? nothing : html`<p>Nothing was written about this station.</p>`}`;
}

function wordsText(view: StationView): TemplateResult {
  return html`<dl class="words">
    ${allOffersAt(view).map(
      ({ press, says, does }) =>
        html`<dt><kbd>${press}</kbd></dt><dd>${does}${says ? html` <q>${says}</q>` : nothing}</dd>`,
    )}
  </dl>`;
}

export const overStyle = css`
  .over {
    position: absolute;
    inset: calc(7 * var(--u)) calc(3 * var(--u)) calc(2 * var(--u));
    display: grid;
    grid-template-rows: auto minmax(0, 1fr) auto;
    gap: calc(1.6 * var(--u));
    padding: calc(2.2 * var(--u)) calc(3 * var(--u));
    border: calc(0.5 * var(--u)) solid var(--ink);
    background: var(--paper);
    color: var(--ink);
    z-index: 1;
  }
  .over h2 { font-size: calc(3.6 * var(--u)); }
  .over .options { gap: calc(0.6 * var(--u)); }
  .over .options li { font-size: calc(2.7 * var(--u)); padding-block: calc(0.6 * var(--u)); }
  .over .text { overflow: auto; display: grid; gap: calc(1.2 * var(--u)); align-content: start; font-size: calc(3 * var(--u)); }
  .over .big { font-size: calc(5 * var(--u)); font-weight: 700; line-height: 1.15; }
  .over .formula { font-family: "B612 Mono", monospace; font-size: calc(2.4 * var(--u)); white-space: pre-wrap; }
  .words { display: grid; grid-template-columns: auto 1fr; gap: calc(0.9 * var(--u)) calc(2 * var(--u)); align-items: baseline; font-size: calc(2.5 * var(--u)); }
  .words q { color: var(--ink-2); font-style: italic; }
  textarea { font: inherit; font-size: calc(3.4 * var(--u)); padding: 0.5em; width: 100%; background: var(--paper-2); color: inherit; border: 0.1em solid var(--ink-2); }
`;
