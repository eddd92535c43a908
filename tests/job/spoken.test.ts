import { describe, expect, test } from 'vitest';
import { procedures } from '../../procedures/index.ts';
import { spokenQuestion } from '../../src/job/spoken.ts';
import { stationOf } from '../../src/procedure/definition.ts';
import { refuse } from '../../src/procedure/refusal.ts';
import { settleFork } from '../../src/procedure/settle-aids.ts';
import type { Station } from '../../src/procedure/station.ts';

/** What is said between two pauses. Quotation marks are none. */
const breaths = (spoken: string): string[] =>
  spoken
    .split(/[.,:;?!]+/)
    .map((breath) => breath.replaceAll('"', '').trim().toLowerCase())
    .filter((breath) => breath !== '');

const all = await Promise.all(procedures.map(({ load }) => load()));
const stations: readonly (readonly [name: string, station: Station])[] = all.flatMap((definition) =>
  Object.keys(definition.states).flatMap((name) => {
    const station = stationOf(definition, name);
    return station ? [[`${definition.id} ${name}`, station] as const] : [];
  }),
);

describe('the app never says a phrase as a person says it: alone, between two pauses', () => {
  const forks = stations.flatMap(([name, station]) =>
    station.kind === 'fork' ? [[name, station] as const] : [],
  );
  const holds = stations.flatMap(([name, station]) =>
    station.kind === 'hold' ? [[name, station] as const] : [],
  );

  test('there are forks whose written question would', () => {
    const would = forks.filter(([, { say, choices }]) =>
      breaths(say).some((one) => choices.some(({ phrase }) => phrase === one)),
    );
    expect(would.length).toBeGreaterThan(20);
    expect(holds.length).toBeGreaterThan(50);
  });

  test.each(forks)('fork %s', (_, station) => {
    const phrases = station.choices.map(({ phrase }) => phrase.toLowerCase());
    const settled = settleFork(station, { type: 'advance', at: 0, by: 'w', via: 'voice' });
    const refusal = 'refused' in settled ? settled.refused.sentence : '';
    expect(refusal).not.toBe('');
    for (const spoken of [spokenQuestion(station.say, phrases), refusal]) {
      expect(breaths(spoken).filter((one) => phrases.includes(one))).toEqual([]);
    }
  });

  test.each(holds)('hold %s', (_, { say, phrase }) => {
    const spoken = [
      say,
      refuse('hold-needs-evidence', { phrase }).sentence,
      refuse('wrong-phrase', { phrase }).sentence,
    ];
    expect(spoken.flatMap(breaths)).not.toContain(phrase.toLowerCase());
  });
});

test.each([
  ['Clip link, or riveted link?', ['clip link', 'riveted link'], 'Is it clip link or riveted link?'],
  [
    'Read the reservoir cap. Dot four, dot five point one, or mineral oil?',
    ['dot four', 'dot five point one', 'mineral oil'],
    'Read the reservoir cap. Is it dot four or dot five point one or mineral oil?',
  ],
  ['Which brake: front, or rear?', ['front end', 'back wheel'], 'Which brake: front or rear?'],
  ['Oil in, cap on.', [], 'Oil in, cap on.'],
])('%s', (say, phrases, spoken) => {
  expect(spokenQuestion(say, phrases)).toBe(spoken);
});
