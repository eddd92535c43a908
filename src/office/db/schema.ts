import type { Generated } from 'kysely';

/*
 * The tables of the office. The same on both engines: text, int4, int8 (times in ms since 1970, counts), uuid, bool, bytea. Nothing
 * that only one of them has. Records are kept as the text that was hashed; only the procedure in the opening is taken out
 * and kept once.
 */

export interface DeviceTable {
  id: Generated<number>;
  /** RFC 7638 thumbprint of its key. */
  kid: string;
  kind: 'bench' | 'desk';
  name: string;
  x: string;
  y: string;
  enrolled_at: number;
  seen_at: number | null;
  revoked_at: number | null;
  revoked_why: string | null;
}

export interface CodeTable {
  /** SHA-256 of the code: the code itself is nowhere. */
  hash: string;
  kind: 'bench' | 'desk';
  made_at: number;
  expires_at: number;
  used_by: number | null;
}

export interface DefinitionTable {
  hash: string;
  id: string;
  title: string;
  revision: number;
  /** RFC 8785 form. */
  body: string;
  published_at: number | null;
}

export interface JobTable {
  job: string;
  procedure: string;
  machine: string;
  machine_says: string;
  opened_by: string;
  opened_at: number;
  last_at: number;
  /** When the office got the last batch. */
  got_at: number;
  count: number;
  head: string;
  outcome: 'open' | 'complete' | 'stopped';
  station: string;
  station_says: string;
  worker: string;
  /** Whose confirmation waits for a witness. */
  waits_for: string | null;
  /** The nonconformance that waits for a decision. */
  trouble: string | null;
  paused: boolean;
  holder: number | null;
  fence: number;
  /** What the replay or the second look found, as JSON; null: nothing. */
  findings: string | null;
  /** A fork, a rewrite or a late write is kept as evidence. */
  disputed: boolean;
  /** Somebody who was shut out by then wrote in it. */
  shut_out: boolean;
  seal: string | null;
  sealed_at: number | null;
}

export interface RecordTable {
  job: string;
  seq: number;
  hash: string;
  at: number;
  device: number;
  body: string;
}

export interface EvidenceTable {
  id: Generated<number>;
  job: string;
  seq: number;
  code: string;
  device: number;
  got_at: number;
  ours: string | null;
  theirs: string;
  /** SHA-256 of `theirs`: the same evidence is kept once. */
  theirs_hash: string;
}

export interface FirstPassTable {
  job: string;
  station: string;
  procedure: string;
  says: string;
  what: 'passed' | 'conceded' | 'failed';
  closed_at: number;
}

/** A photo or voice note that a record names. */
export interface NamedFileTable {
  job: string;
  sha256: string;
  /** The first record that names it. */
  seq: number;
  kind: 'photo' | 'voice';
  media: string;
  bytes: number;
}

/** A file of which something has come: its bytes are in `file_part`, in parts of `FILE_PART` bytes. */
export interface FileTable {
  sha256: string;
  bytes: number;
  /** Bytes that are here. */
  have: number;
  /** When it was whole and stood its hash; null before. */
  whole_at: number | null;
  device: number;
}

export interface FilePartTable {
  sha256: string;
  /** From 0. */
  place: number;
  body: Uint8Array;
}

/** How often a week was added to: whoever adds holds this row until it is committed. */
export interface TouchedWeekTable {
  /** ms since 1970 of its beginning. */
  week: number;
  times: number;
}

/** A week whose sums are in `week_pass` and `week_stay`; they count while `times` is still that of `touched_week`. */
export interface SummedWeekTable {
  week: number;
  times: number;
}

export interface WeekPassTable {
  week: number;
  procedure: string;
  station: string;
  says: string;
  jobs: number;
  passed: number;
  conceded: number;
}

export interface WeekStayTable {
  week: number;
  procedure: string;
  station: string;
  says: string;
  jobs: number;
  /** The times of all jobs, ms, four bytes each, the highest first (int4send). */
  ms: Uint8Array;
}

/** What the office knows of a person besides the workshop that was published. */
export interface PersonTable {
  /** As in the workshop. */
  person: string;
  shut_out_at: number | null;
  shut_out_why: string | null;
  /** What is kept of the PIN (JSON): never the PIN. */
  pin: string | null;
}

export interface StayTable {
  job: string;
  station: string;
  procedure: string;
  says: string;
  ms: number;
  closed_at: number;
}

export interface SealEntryTable {
  place: number;
  job: string;
  leaf: string;
  added_at: number;
}

/** Hashes of whole subtrees: level 0 is the leaves, one of level n covers 2^n of them. */
export interface SealNodeTable {
  level: number;
  idx: number;
  hash: string;
}

export interface SealHeadTable {
  id: number;
  size: number;
}

export interface SettingsTable {
  version: number;
  body: string;
  jws: string;
  at: number;
  by: number;
}

export interface Tables {
  device: DeviceTable;
  code: CodeTable;
  definition: DefinitionTable;
  job: JobTable;
  record: RecordTable;
  evidence: EvidenceTable;
  first_pass: FirstPassTable;
  stay: StayTable;
  seal_entry: SealEntryTable;
  seal_node: SealNodeTable;
  seal_head: SealHeadTable;
  settings: SettingsTable;
  named_file: NamedFileTable;
  file: FileTable;
  file_part: FilePartTable;
  touched_week: TouchedWeekTable;
  summed_week: SummedWeekTable;
  week_pass: WeekPassTable;
  week_stay: WeekStayTable;
  person: PersonTable;
}
