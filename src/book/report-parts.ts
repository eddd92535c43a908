import { digitsOf } from '../job/figures.ts';
import { evidenceInWords } from '../job/story.ts';
import { toMoment } from '../journal/moment.ts';
import type { Digest } from './digest.ts';
import { nameOf, sayOf } from './digest.ts';
import type { StationHistory } from './history.ts';
import { type Markup, page } from './markup.ts';
import { decisionInWords, factInWords, failuresInWords, momentInWords, spanInWords } from './words.ts';

const when = (ms: number): string => momentInWords(toMoment(ms));

/** A table, or a sentence where there would be no rows. */
const table = (title: string, columns: readonly string[], rows: readonly Markup[], none: string): Markup =>
  rows.length === 0
    ? page`<h2>${title}</h2><p>${none}</p>`
    : page`<h2>${title}</h2><table><thead><tr>${columns.map(
        (name) => page`<th scope="col">${name}</th>`,
      )}</tr></thead><tbody>${rows}</tbody></table>`;

/** Every hold point with what opened it; one that stands conceded says so, one that was not passed too. */
export function holdsPart(digest: Digest): Markup {
  const rows = digest.holds.map((station) => {
    const mine = digest.verdicts.filter((verdict) => verdict.station === station);
    const failed = mine.filter(({ what }) => what === 'failed').length;
    const pass = mine.findLast(({ what }) => what !== 'failed')?.pass ?? null;
    const before = failed > 0 ? page`<br>${failuresInWords(failed)}` : null;
    if (!pass)
      return page`<tr><th scope="row">${sayOf(digest, station)}</th><td class="bad">NOT PASSED${before}</td><td></td><td></td><td></td></tr>`;
    const conceded = pass.evidence.kind === 'concession';
    return page`<tr class="${conceded ? 'conceded' : ''}">
      <th scope="row">${sayOf(digest, station)}</th>
      <td class="${conceded ? 'bad' : ''}">${evidenceInWords(pass.evidence)}${before}</td>
      <td class="who">${nameOf(digest, pass.by)}<br>by ${pass.via}</td>
      <td class="who">${pass.witness ? page`${nameOf(digest, pass.witness.by)}<br>${when(pass.witness.at)}` : '–'}</td>
      <td class="time">${when(pass.at)}</td></tr>`;
  });
  const columns = ['Hold point', 'Opened by', 'Person', 'Witness', 'At'];
  return table('Hold points', columns, rows, 'No hold point applied.');
}

export function figuresPart(digest: Digest): Markup {
  const read = digest.readings.map(
    ({
      label,
      value,
      unit,
      limits,
      within,
      stands,
      tool,
      by,
      at,
    }) => page`<tr class="${stands ? '' : 'past'}">
      <th scope="row">${label}</th>
      <td class="number">${digitsOf(value, unit)} ${unit}</td>
      <td>${limits}</td>
      <td class="${within ? '' : 'bad'}">${within ? 'within' : 'OUTSIDE'}${stands ? '' : ', measured again'}</td>
      <td>${tool ?? '–'}</td><td>${nameOf(digest, by)}</td><td class="time">${momentInWords(at)}</td></tr>`,
  );
  const known = [
    ...Object.entries(digest.facts).map(([name, value]) => ({
      says: digest.definition.meta.facts[name]?.says ?? name,
      value: factInWords(value),
      source: '',
    })),
    ...Object.entries(digest.figures).map(([name, { value, unit, source }]) => ({
      says: digest.definition.meta.figures[name]?.says ?? name,
      value: `${digitsOf(value, unit)} ${unit}`.trim(),
      source:
        { card: 'machine card', entered: 'read from the service manual', working: 'worked out' }[source] ??
        source,
    })),
  ].map(
    ({ says, value, source }) =>
      page`<tr><th scope="row">${says}</th><td class="number">${value}</td><td>${source}</td></tr>`,
  );
  return page`${table(
    'Figures measured',
    ['Figure', 'Reading', 'Limits', 'Verdict', 'Tool', 'Person', 'At'],
    read,
    'Nothing was measured.',
  )}${table('What the job went by', ['Fact or figure', 'Value', 'From'], known, 'Nothing was known beforehand.')}`;
}

export function troublesPart(digest: Digest): Markup {
  const rows = digest.troubles.map((trouble) => {
    const { number, at, by, station, says, attached, decided } = trouble;
    return page`<tr class="${decided?.decision === 'concession' ? 'conceded' : ''}">
      <td class="number">${number}</td>
      <td>${says}<br>at “${sayOf(digest, station)}”${attached.length > 0 ? page`<br>${attached.length} attached` : null}</td>
      <td class="who">${nameOf(digest, by)}<br>${when(at)}</td>
      <td class="${decided ? '' : 'bad'}"><b>${decisionInWords(trouble)}</b>${
        decided
          ? page`<br>${decided.says}${decided.station ? page`<br>back to “${sayOf(digest, decided.station)}”` : null}`
          : null
      }</td>
      <td class="who">${decided ? page`${nameOf(digest, decided.by)}<br>${when(decided.at)}` : '–'}</td></tr>`;
  });
  const columns = ['No.', 'Nonconformance', 'Raised by', 'Decision', 'Decided by'];
  return table('Nonconformances', columns, rows, 'None was raised.');
}

export function toolsPart({ tools }: Digest): Markup {
  const rows = tools.map(
    ({ tool, kind, readings, lastUsed, inDate }) => page`<tr>
      <th scope="row">${tool.id}</th><td>${tool.says}<br>${kind}</td>
      <td>${tool.calibratedUntil ?? 'needs none'}${tool.classPercent ? ` · class ${tool.classPercent} %` : ''}</td>
      <td>${lastUsed}</td>
      <td class="${inDate === false ? 'bad' : ''}">${inDate === null ? '–' : inDate ? 'in calibration' : 'LAPSED'}</td>
      <td class="number">${readings}</td></tr>`,
  );
  const columns = ['Tool', 'What', 'Calibrated until', 'Last used', 'Then', 'Readings'];
  return table('Tools used', columns, rows, 'No tool with a number was used.');
}

export function partsPart(digest: Digest): Markup {
  const rows = digest.parts.map(
    ({ asked, says, code, batch, serial, by, at, stands }) => page`<tr class="${stands ? '' : 'past'}">
      <th scope="row">${asked}${stands ? '' : ', done again'}</th><td>${says}</td><td class="number">${code}</td>
      <td>${batch ?? '–'}</td><td>${serial ?? '–'}</td><td>${nameOf(digest, by)}</td><td class="time">${momentInWords(at)}</td></tr>`,
  );
  const columns = ['Asked for', 'Part', 'Code', 'Batch', 'Serial', 'Person', 'At'];
  return table('Parts by their labels', columns, rows, 'No label of a part was read.');
}

export function refusedPart(digest: Digest): Markup {
  const rows = digest.refused.map(
    ({ seq, at, by, station, sentence }) => page`<tr>
      <td class="number">${seq}</td><td class="time">${momentInWords(at)}</td><td class="who">${nameOf(digest, by)}</td>
      <td>${sayOf(digest, station)}</td><td>${sentence}</td></tr>`,
  );
  return table(
    'Refused attempts',
    ['Record', 'At', 'Person', 'Station', 'Why'],
    rows,
    'Nothing was refused.',
  );
}

export function attachmentsPart({ attachments }: Digest, photos: ReadonlyMap<string, string>): Markup {
  if (attachments.length === 0) return page``;
  const rows = attachments.map(
    (
      { kind, media, bytes, sha256 },
      at,
    ) => page`<tr><td class="number">${at + 1}</td><td>${kind === 'photo' ? 'photo' : 'voice note'}</td>
      <td>${media}</td><td class="number">${bytes} bytes</td><td class="hash">${sha256}</td></tr>`,
  );
  const shown = attachments.flatMap(({ sha256, kind }, at) => {
    const url = photos.get(sha256);
    const mine = kind === 'photo' && url?.startsWith('data:image/');
    return mine
      ? [
          page`<figure><img src="${url}" alt="Photo ${at + 1}"><figcaption>Photo ${at + 1}</figcaption></figure>`,
        ]
      : [];
  });
  return page`${table('Photos and voice notes', ['No.', 'What', 'Kind', 'Size', 'SHA-256'], rows, '')}${
    shown.length > 0 ? page`<div class="photos">${shown}</div>` : null
  }`;
}

export function timesPart(digest: Digest, history: ReadonlyMap<string, StationHistory>): Markup {
  const rows = [...digest.times.stations].map(([station, ms]) => {
    const usual = history.get(station);
    return page`<tr><th scope="row">${sayOf(digest, station)}</th>
      <td class="number">${spanInWords(ms)}</td>
      <td class="number">${usual ? spanInWords(usual.median) : '–'}</td>
      <td class="number">${usual ? spanInWords(usual.p80) : '–'}</td>
      <td class="number">${usual?.jobs ?? 0}</td>
      <td class="bad">${usual && ms > usual.p80 ? 'long' : ''}</td></tr>`;
  });
  const columns = ['Station', 'Time', 'Usual (median)', '80 % take at most', 'Jobs', 'Note'];
  return table('Time at each station', columns, rows, 'No time was spent.');
}
