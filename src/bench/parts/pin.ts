import { css, html, nothing, type TemplateResult } from 'lit';

/**
 * Asks one person for their PIN; shows how many digits were typed and never which. `passkey`: they have one, and may show
 * it in place of the PIN. `alone`: this is the whole screen.
 */
export function pinPanel(
  name: string,
  typed: number,
  fault: string | null,
  hint: string | null,
  passkey = false,
  alone = false,
): TemplateResult {
  const asks = `${name}, your PIN${passkey ? ' or passkey' : ''}`;
  return html`<div class="pin">
    ${alone ? html`<h1 class="who">${asks}</h1>` : html`<p class="who" data-part>${asks}</p>`}
    <p class="dots" data-part role="status" aria-label="${typed} digits typed">
      ${Array.from({ length: Math.max(4, typed) }, (_, index) => html`<i class=${index < typed ? 'given' : ''}></i>`)}
    </p>
    ${passkey && typed === 0 ? html`<p class="other" data-part><kbd>tap</kbd> to show your passkey</p>` : nothing}
    ${fault ? html`<p class="wrong" data-part role="alert">${fault}</p>` : nothing}
    ${hint ? html`<p class="hint" data-part>${hint}</p>` : nothing}
  </div>`;
}

export const pinStyle = css`
  .pin { display: grid; gap: calc(2.4 * var(--u)); align-content: center; }
  .pin .who { font-size: max(calc(5 * var(--u)), var(--reading)); font-weight: 700; }
  .pin .dots { display: flex; gap: calc(2 * var(--u)); }
  .pin .dots i { width: calc(4 * var(--u)); height: calc(4 * var(--u)); border: calc(0.5 * var(--u)) solid currentColor; border-radius: 50%; }
  .pin .dots .given { background: currentColor; }
  .pin .other { font-size: var(--text); }
  .pin .wrong { font-size: var(--text); font-weight: 700; color: var(--bad); }
  .pin .hint { font-size: var(--small); color: var(--ink-2); }
`;
