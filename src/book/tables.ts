import { toMoment as momentOf } from '../journal/moment.ts';
import type { Table } from './csv.ts';
import type { Digest } from './digest.ts';
import { nameOf, sayOf } from './digest.ts';
import type { StationHistory } from './history.ts';
import { recordInWords, stationsOf } from './story.ts';
import { decisionInWords } from './words.ts';

const seconds = (ms: number): number => Math.round(ms / 1000);

const first = ({ job, machine }: Digest) => [job, machine.id, machine.says] as const;
const FIRST = ['job', 'machine', 'machine name'] as const;

/** One line a job. */
export const jobsTable = (digests: readonly Digest[]): Table => ({
  columns: [
    ...FIRST,
    'procedure',
    'revision',
    'outcome',
    'opened at',
    'last record at',
    'opened by',
    'people',
    'elapsed s',
    'paused s',
    'records',
    'refused',
    'hold points failed',
    'concessions',
    'nonconformances',
    'sealed at',
    'sealed by',
    'last hash',
  ],
  rows: digests.map((digest) => {
    const { definition, times, verdicts, sealed } = digest;
    return [
      ...first(digest),
      definition.meta.title,
      definition.meta.revision,
      digest.outcome,
      digest.openedAt,
      digest.lastAt,
      nameOf(digest, digest.openedBy),
      digest.people.map(({ name }) => name).join('; '),
      seconds(times.elapsed),
      seconds(times.paused),
      digest.records.length,
      digest.refused.length,
      verdicts.filter(({ what }) => what === 'failed').length,
      verdicts.filter(({ what }) => what === 'conceded').length,
      digest.troubles.length,
      sealed?.payload.sealedAt ?? null,
      sealed ? nameOf(digest, sealed.payload.sealedBy) : null,
      digest.head,
    ];
  }),
});

/** One line a record: what was done, and whether it was taken. */
export const recordsTable = (digests: readonly Digest[]): Table => ({
  columns: [
    ...FIRST,
    'number',
    'at',
    'person',
    'way',
    'event',
    'in words',
    'outcome',
    'reason',
    'station',
    'station after',
    'hash',
  ],
  rows: digests.flatMap((digest) => {
    const stations = stationsOf(digest.records);
    return digest.records.map((record, at) => {
      const station = stations[at] ?? '';
      const { seq, by, via, event, outcome, reason, hash } = record;
      return [
        ...first(digest),
        seq,
        record.at,
        nameOf(digest, by),
        via,
        event.type,
        recordInWords(digest, record, station),
        outcome,
        reason?.sentence ?? null,
        station,
        record.station,
        hash,
      ];
    });
  }),
});

/** One line a measured figure. */
export const readingsTable = (digests: readonly Digest[]): Table => ({
  columns: [
    ...FIRST,
    'number',
    'at',
    'person',
    'reading',
    'value',
    'unit',
    'least',
    'most',
    'within limits',
    'stands',
    'tool',
    'tool calibrated until',
  ],
  rows: digests.flatMap((digest) =>
    digest.readings.map(({ seq, at, by, label, value, unit, min, max, within, stands, tool }) => [
      ...first(digest),
      seq,
      at,
      nameOf(digest, by),
      label,
      value,
      unit,
      min,
      max,
      within,
      stands,
      tool,
      digest.tools.find((use) => use.tool.id === tool)?.tool.calibratedUntil ?? null,
    ]),
  ),
});

/** One line a nonconformance, with its decision. */
export const troublesTable = (digests: readonly Digest[]): Table => ({
  columns: [
    ...FIRST,
    'number',
    'raised at',
    'raised by',
    'station',
    'what',
    'decision',
    'reason',
    'decided at',
    'decided by',
  ],
  rows: digests.flatMap((digest) =>
    digest.troubles.map((trouble) => {
      const { number, at, by, station, says, decided } = trouble;
      return [
        ...first(digest),
        number,
        momentOf(at),
        nameOf(digest, by),
        sayOf(digest, station),
        says,
        decisionInWords(trouble),
        decided?.says ?? null,
        decided ? momentOf(decided.at) : null,
        decided ? nameOf(digest, decided.by) : null,
      ];
    }),
  ),
});

/** One line a part whose label was read. */
export const partsTable = (digests: readonly Digest[]): Table => ({
  columns: [
    ...FIRST,
    'number',
    'at',
    'person',
    'station',
    'asked for',
    'part',
    'code',
    'batch',
    'serial',
    'stands',
  ],
  rows: digests.flatMap((digest) =>
    digest.parts.map(({ seq, at, by, station, asked, says, code, batch, serial, stands }) => [
      ...first(digest),
      seq,
      at,
      nameOf(digest, by),
      sayOf(digest, station),
      asked,
      says,
      code,
      batch,
      serial,
      stands,
    ]),
  ),
});

/** One line a station of a job, beside what it usually takes. */
export const timesTable = (digest: Digest, history: ReadonlyMap<string, StationHistory>): Table => ({
  columns: [...FIRST, 'station', 'instruction', 'time s', 'usual median s', 'usual p80 s', 'jobs behind it'],
  rows: [...digest.times.stations].map(([station, ms]) => {
    const usual = history.get(station);
    return [
      ...first(digest),
      station,
      sayOf(digest, station),
      seconds(ms),
      usual ? seconds(usual.median) : null,
      usual ? seconds(usual.p80) : null,
      usual?.jobs ?? 0,
    ];
  }),
});
