import { units } from '../../trade/units.ts';
import type { Definition } from '../definition.ts';
import type { Condition, FactValue } from '../facts.ts';
import { hasLabel, itemOf } from '../settle-parts.ts';
import type { Measure, Station } from '../station.ts';
import { amountsUsed, factsIn, measureOf, type UsedAmount } from './amounts-used.ts';
import type { Finding, FindingCode } from './finding.ts';
import { finding } from './finding.ts';
import { stationNames } from './rebuild.ts';
import { usableName } from './shape.ts';
import { outputOf, workingFindings } from './working-names.ts';

/** What may be named besides what the definition declares itself. */
export interface NameOptions {
  /** File names of the drawings that exist; absent: not looked at. */
  readonly drawings?: ReadonlySet<string>;
  /** Ids of the procedures that exist; absent: not looked at. */
  readonly procedures?: ReadonlySet<string>;
}

/** Names that lead nowhere, units that do not agree, and declarations that nothing uses. */
export function nameFindings(definition: Definition, options: NameOptions): Finding[] {
  const stations = stationNames(definition).flatMap((name) => {
    const station = definition.states[name]?.meta;
    return station ? [{ name, station }] : [];
  });
  return [
    ...declaredFindings(definition),
    ...followUpFindings(definition, options),
    ...stations.flatMap(({ name, station }) => [
      ...drawingFindings(name, station, options),
      ...fitsFindings(definition, name, station),
      ...conditionsOf(station).flatMap((condition) => conditionFindings(definition, name, condition)),
      ...factsNamed(station).flatMap((fact) => declared(definition, name, 'facts', fact)),
      ...toolsNamed(station).flatMap((tool) => declared(definition, name, 'tools', tool)),
      ...figuresNamed(station).flatMap((figure) => declared(definition, name, 'figures', figure)),
      ...amountsUsed(station).flatMap((used) => amountFindings(definition, name, used)),
      ...unitsNamed(station).flatMap((unit) => unitFindings(name, unit)),
      ...(station.kind === 'working' ? workingFindings(definition, name, station) : []),
    ]),
    ...unusedFindings(
      definition,
      stations.map(({ station }) => station),
    ),
  ];
}

type Declarations = 'facts' | 'figures' | 'tools';
const UNKNOWN = {
  facts: 'fact-unknown',
  figures: 'figure-unknown',
  tools: 'tool-unknown',
} as const satisfies Record<Declarations, FindingCode>;

function declared(definition: Definition, station: string, what: Declarations, name: string): Finding[] {
  return Object.hasOwn(definition.meta[what], name) ? [] : [finding(station, UNKNOWN[what], { name })];
}

function declaredFindings({ meta }: Definition): Finding[] {
  const names = [meta.facts, meta.figures, meta.tools].flatMap((table) => Object.keys(table));
  return [
    ...names.filter((name) => !usableName(name)).map((name) => finding(null, 'name-unusable', { name })),
    ...Object.values(meta.figures).flatMap(({ unit }) => unitFindings(null, unit)),
  ];
}

function followUpFindings({ meta: { followUp } }: Definition, { procedures }: NameOptions): Finding[] {
  if (!followUp) return [];
  const known = !procedures || procedures.has(followUp.procedure);
  const { afterHours: value } = followUp;
  const what = 'The time until the follow-up';
  return [
    ...(known ? [] : [finding(null, 'procedure-unknown', { name: followUp.procedure })]),
    ...(value > 0 ? [] : [finding(null, 'amount-impossible', { what, value, wanted: 'more than 0 h' })]),
  ];
}

const unitFindings = (station: string | null, unit: string): Finding[] =>
  units.some((known) => known === unit) ? [] : [finding(station, 'unit-unknown', { unit })];

function drawingFindings(name: string, { drawing }: Station, { drawings }: NameOptions): Finding[] {
  if (drawing === undefined || !drawings || drawings.has(drawing)) return [];
  return [finding(name, 'drawing-unknown', { name: drawing })];
}

/** What a step fits must be asked for in a kit, as something that has a label. */
function fitsFindings(definition: Definition, name: string, station: Station): Finding[] {
  if (station.kind !== 'step' || station.fits === undefined) return [];
  return hasLabel(itemOf(definition, station.fits))
    ? []
    : [finding(name, 'part-not-in-kit', { name: station.fits })];
}

/** The conditions that a station sets. */
export function conditionsOf(station: Station): Condition[] {
  const all =
    station.kind === 'hold'
      ? [station.applies]
      : station.kind === 'kit'
        ? station.items.map((item) => item.when)
        : station.kind === 'lookUp'
          ? station.needs.map((need) => need.when)
          : [];
  return all.filter((condition) => condition !== undefined);
}

function conditionFindings(definition: Definition, name: string, condition: Condition): Finding[] {
  return Object.entries(condition).flatMap(([fact, wanted]) => {
    const known = Object.hasOwn(definition.meta.facts, fact)
      ? definition.meta.facts[fact]?.values
      : undefined;
    const given = (Array.isArray(wanted) ? wanted : [wanted]) as readonly FactValue[];
    if (known && given.length === 0) return [finding(name, 'list-empty', { what: `values of ${fact}` })];
    return given
      .filter((value) => known && !known.includes(value))
      .map((value) => finding(name, 'fact-value-unknown', { fact, value: String(value) }));
  });
}

function factsNamed(station: Station): string[] {
  const own =
    station.kind === 'fork' ? [station.fact] : station.kind === 'working' ? factsIn(station.inputs) : [];
  return [...new Set([...own, ...conditionsOf(station).flatMap(Object.keys)])];
}

function toolsNamed(station: Station): string[] {
  const measured = measureOf(station)?.tool;
  const called = station.kind === 'kit' ? station.items.flatMap(({ tool }) => tool ?? []) : [];
  return [...(measured === undefined ? [] : [measured]), ...called];
}

/** The figures that a station names other than as an amount. */
function figuresNamed(station: Station): string[] {
  if (station.kind === 'lookUp') return station.needs.map(({ figure }) => figure);
  return station.kind === 'working' ? Object.keys(station.gives ?? {}) : [];
}

function unitsNamed(station: Station): string[] {
  const shown = (station.shows ?? []).map(({ unit }) => unit);
  const answers = station.kind === 'working' ? station.answers.map(({ unit }) => unit) : [];
  const measure = measureOf(station);
  return [...shown, ...answers, ...(measure ? [measure.unit] : [])];
}

/** The unit of whatever an amount stands for, or the finding that there is no such thing. */
function amountFindings(definition: Definition, name: string, { amount, unit, what }: UsedAmount): Finding[] {
  if (typeof amount === 'number') return [];
  const differs = (has: string) =>
    unit === null || has === unit
      ? []
      : [finding(name, 'unit-differs', { what, has: has || 'no unit', wanted: unit || 'no unit' })];
  if ('figure' in amount) {
    const unknown = declared(definition, name, 'figures', amount.figure);
    return unknown.length > 0 ? unknown : differs(definition.meta.figures[amount.figure]?.unit ?? '');
  }
  if ('reading' in amount) {
    const measures = readingsNamed(definition, amount.reading);
    if (measures.length === 0) return [finding(name, 'reading-unknown', { name: amount.reading })];
    return differs(measures[0]?.unit ?? '');
  }
  const station = Object.hasOwn(definition.states, amount.result)
    ? definition.states[amount.result]?.meta
    : undefined;
  if (station?.kind !== 'working') return [finding(name, 'result-unknown', { name: amount.result })];
  const output = outputOf(station, amount.of);
  if (!output) return [finding(name, 'output-unknown', { working: station.working, name: amount.of })];
  return differs(output.unit);
}

/** Every measure that takes the reading of this name. */
export function readingsNamed(definition: Definition, name: string): Measure[] {
  return Object.values(definition.states).flatMap(({ meta }) => {
    const measure = meta ? measureOf(meta) : null;
    return measure?.name === name ? [measure] : [];
  });
}

function unusedFindings(definition: Definition, stations: readonly Station[]): Finding[] {
  const figures = stations.flatMap((station) => [
    ...figuresNamed(station),
    ...amountsUsed(station).flatMap(({ amount }) =>
      typeof amount !== 'number' && 'figure' in amount ? [amount.figure] : [],
    ),
  ]);
  const used = {
    fact: [definition.meta.facts, new Set(stations.flatMap(factsNamed))],
    figure: [definition.meta.figures, new Set(figures)],
    tool: [definition.meta.tools, new Set(stations.flatMap(toolsNamed))],
  } as const;
  return Object.entries(used).flatMap(([what, [table, names]]) =>
    Object.keys(table)
      .filter((name) => !names.has(name))
      .map((name) => finding(null, 'name-unused', { what, name })),
  );
}
