/** Every way in which a working can refuse; closed, so that a caller can switch over it. */
export type TradeCode =
  | 'missing-input'
  | 'unknown-input'
  | 'wrong-kind'
  | 'not-finite'
  | 'not-whole'
  | 'teeth-not-whole'
  | 'out-of-domain'
  | 'wrong-count'
  | 'unknown-choice'
  | 'unknown-unit'
  | 'wrong-quantity'
  | 'unknown-working'
  | 'sprockets-overlap'
  | 'chain-cannot-reach'
  | 'figures-disagree'
  | 'thread-not-known'
  | 'lever-too-short'
  | 'tyre-code-not-read'
  | 'no-root';

/** A refusal as plain data: what a screen, a record or a command line shows. */
export type TradeFault = { code: TradeCode; sentence: string };

/** A refusal on its way up. `message` is one plain sentence that says what to do. */
export class TradeError extends Error {
  readonly code: TradeCode;

  constructor(code: TradeCode, sentence: string) {
    super(sentence);
    this.name = 'TradeError';
    this.code = code;
  }

  get fault(): TradeFault {
    return { code: this.code, sentence: this.message };
  }
}
