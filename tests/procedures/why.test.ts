import { describe, expect, test } from 'vitest';
import { procedures } from '../../procedures/index.ts';
import { stationOf } from '../../src/procedure/definition.ts';

/** Long enough to name a failure, short enough to be heard across the workshop. */
const [SHORTEST, LONGEST] = [30, 100];

describe.each(await Promise.all(procedures.map(({ load }) => load())))('$id: why', (definition) => {
  const stations = Object.keys(definition.states).flatMap((name) => {
    const station = stationOf(definition, name);
    return station ? [{ name, station }] : [];
  });

  test('every caution answers why with the failure it prevents, and does not only say itself again', () => {
    const faults = stations.flatMap(({ name, station }) =>
      (station.cautions ?? []).flatMap(({ text, why }) => {
        if (why === undefined) return [`${name}: no why: ${text}`];
        if (why.length < SHORTEST || why.length > LONGEST) return [`${name}: ${why.length} letters: ${why}`];
        if (!/^[A-Z].*\.$/.test(why)) return [`${name}: not a sentence: ${why}`];
        const own = why.toLowerCase().match(/[a-z]{4,}/g) ?? [];
        const news = own.filter((word) => !text.toLowerCase().includes(word));
        return news.length >= 4 ? [] : [`${name}: says nothing new: ${why}`];
      }),
    );
    expect(faults).toEqual([]);
  });

  test('every hold point answers why', () => {
    for (const { name, station } of stations)
      if (station.kind === 'hold') expect(station.why, name).toMatch(/^[A-Z].{30,}\.$/);
  });
});
