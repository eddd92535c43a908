import type { Amount } from '../amounts.ts';
import type { Definition } from '../definition.ts';
import { stationOf } from '../definition.ts';
import type { Condition } from '../facts.ts';
import type { Station } from '../station.ts';
import { amountsUsed, describedWorking, measureOf } from './amounts-used.ts';
import type { Edge } from './graph.ts';

/** Something that becomes known on the way: `figure axleTorque`, `reading slack`, `result ratio.percent`. */
export type Item = `${'figure' | 'reading' | 'result'} ${string}`;

/** An item that an edge makes known, under a condition where a look-up asks only under one. */
export interface Gain {
  readonly item: Item;
  readonly when?: Condition;
}

/** The item that has to be known before an amount can be used, or null for a plain number. */
export function itemOf(amount: Amount): Item | null {
  if (typeof amount === 'number') return null;
  if ('figure' in amount) return `figure ${amount.figure}`;
  if ('reading' in amount) return `reading ${amount.reading}`;
  return `result ${amount.result}.${amount.of}`;
}

/** What has to be known at a station for it to work. */
export function needsOf(station: Station): Item[] {
  const items = amountsUsed(station).flatMap(({ amount, optional }) => {
    const item = optional ? null : itemOf(amount);
    return item === null ? [] : [item];
  });
  return [...new Set(items)];
}

/** What taking an edge makes known, for every job that takes it. */
export function gainsOf(definition: Definition, edge: Edge): Gain[] {
  const station = stationOf(definition, edge.from);
  if (!station) return [];
  const measure = measureOf(station);
  if (measure) {
    const taken = edge.event === 'reading' || (edge.event === 'witness' && edge.passes);
    return taken ? [{ item: `reading ${measure.name}` }] : [];
  }
  if (station.kind === 'lookUp') {
    return station.needs.map(({ figure, when }) => ({
      item: `figure ${figure}` as const,
      ...(when ? { when } : {}),
    }));
  }
  if (station.kind !== 'working' || edge.event !== 'accept') return [];
  const outputs = describedWorking(station.working)?.outputs ?? [];
  const given = Object.entries(station.gives ?? {});
  // What can be null, or an item that a list may not have, is there for sure only where it sets a figure: without it
  // there is no answer to accept.
  const sure = outputs.filter(({ nullable }) => !nullable).map(({ name }) => name);
  const keys = new Set([...sure, ...given.map(([, key]) => key)]);
  return [
    ...[...keys].map((key) => ({ item: `result ${edge.from}.${key}` as const })),
    ...given.map(([figure]) => ({ item: `figure ${figure}` as const })),
  ];
}
