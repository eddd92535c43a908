/** What a check of a record can find: a closed list. */
export type FindingCode =
  // The file and its lines
  | 'file-empty'
  | 'file-too-large'
  | 'line-too-long'
  | 'not-utf8'
  | 'no-line-end'
  | 'not-json'
  | 'not-canonical'
  | 'wrong-fields'
  // Order and chain
  | 'not-opened'
  | 'opened-again'
  | 'job-differs'
  | 'seq-wrong'
  | 'hash-wrong'
  | 'prev-wrong'
  // The procedure
  | 'procedure-hash-wrong'
  | 'procedure-unusable'
  | 'procedure-not-proved'
  // The seal
  | 'seal-missing'
  | 'seal-not-last'
  | 'seal-unreadable'
  | 'seal-broken'
  | 'seal-differs'
  | 'key-id-wrong'
  | 'key-not-enrolled'
  // Replay
  | 'person-unknown'
  | 'event-unusable'
  | 'station-differs'
  | 'outcome-differs'
  | 'reason-differs'
  // Hold points
  | 'evidence-insufficient'
  | 'hold-not-passed';

/** One thing that is wrong with a record. */
export interface Finding {
  /** Line of the record file, from 1; the line of record `seq` is `seq + 1`. */
  readonly line: number;
  readonly code: FindingCode;
  /** One plain sentence. */
  readonly says: string;
}

/** Something a reader should know that does not make the record wrong. */
export interface Remark {
  readonly line: number;
  readonly code: 'clock-went-back' | 'key-not-checked' | 'proof-not-run' | 'not-looked-at' | 'more-findings';
  readonly says: string;
}

/** Names from the file are quoted in sentences: what would steer a terminal, or flood it, is taken out. */
export const tame = (says: string): string => {
  const plain = says.replaceAll(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/gu, '\u{fffd}');
  return plain.length > 300 ? `${plain.slice(0, 299)}…` : plain;
};

export const finding = (line: number, code: FindingCode, says: string): Finding => ({
  line,
  code,
  says: tame(says),
});
