import type { Definition } from '../definition.ts';
import { COMPLETE } from '../definition.ts';
import { type Edge, graphOf } from '../proof/graph.ts';
import type { Station, StationKind } from '../station.ts';
import { goesWrong, stationOrder } from './order.ts';
import { kindInWords, measureInWords, wayInWords, witnessInWords } from './words.ts';

/** A station as it is drawn and listed. */
export interface ChartNode {
  readonly name: string;
  readonly kind: StationKind | 'end';
  /** 1 for the station that the job begins at; 0 for the end. */
  readonly place: number;
  readonly says: string;
  /** What the station is held to: limits, phrase, witness. */
  readonly detail: string | null;
  readonly rework: boolean;
}

/** One way between two stations; several that lead the same way are one. */
export interface ChartWay {
  readonly from: string;
  readonly to: string;
  /** When it is taken; empty for the plain way on. */
  readonly says: string;
  /** The way that is taken when something is not right, and the way back from putting it right. */
  readonly dashed: boolean;
}

export interface Chart {
  readonly start: string;
  /** In the order of the job, the end last. */
  readonly nodes: readonly ChartNode[];
  readonly ways: readonly ChartWay[];
}

/** Ways that go without saying. */
const PLAIN = new Set([
  'advances',
  'kitComplete',
  'roundIsDone',
  'waitIsOver',
  'figuresKnown',
  'nothingToLookUp',
  'resultAgrees',
]);

function detailOf(station: Station, definition: Definition): string | null {
  switch (station.kind) {
    case 'hold':
      return [
        station.measure ? measureInWords(station.measure, definition) : `“${station.phrase}”`,
        station.witness === 'never' ? '' : witnessInWords(station.witness),
        station.concession ? 'or a concession' : '',
      ]
        .filter((part) => part !== '')
        .join(', ');
    case 'reading':
      return measureInWords(station.measure, definition);
    case 'kit':
      return `${station.items.length} things to call off`;
    default:
      return null;
  }
}

const isRework = (station: Station | undefined): boolean =>
  station?.kind === 'step' && station.rework === true;

/** A procedure as stations and ways between them: what both the drawing and the outline are made of. */
export function chartOf(definition: Definition): Chart {
  const order = stationOrder(definition);
  const stations = order.flatMap((name, at): ChartNode[] => {
    const meta = definition.states[name]?.meta;
    if (!meta) return [];
    const detail = detailOf(meta, definition);
    return [{ name, kind: meta.kind, place: at + 1, says: meta.say, detail, rework: isRework(meta) }];
  });
  const end: ChartNode = {
    name: COMPLETE,
    kind: 'end',
    place: 0,
    says: 'The job is complete.',
    detail: null,
    rework: false,
  };
  const ways = new Map<string, ChartWay>();
  for (const edge of graphOf(definition).edges) {
    const key = `${edge.from} ${edge.to}`;
    const says = saysOf(edge, definition.states[edge.from]?.meta);
    const dashed = goesWrong(edge) || isRework(definition.states[edge.from]?.meta);
    const before = ways.get(key);
    const both = [before?.says ?? '', says].filter((one, at, all) => one !== '' && all.indexOf(one) === at);
    ways.set(key, {
      from: edge.from,
      to: edge.to,
      says: both.join(' · '),
      dashed: dashed && (before?.dashed ?? true),
    });
  }
  return { start: definition.initial, nodes: [...stations, end], ways: [...ways.values()] };
}

function saysOf(edge: Edge, station: Station | undefined): string {
  const type = edge.guard?.type ?? '';
  // A witnessed pass leads where the pass leads.
  if (PLAIN.has(type) || type === 'evidenceOpens' || type === 'witnessOpens' || type === 'withinLimits')
    return '';
  return wayInWords(station, edge.event, { ...(edge.guard ? { guard: edge.guard } : {}) });
}

/** Where a station leads, in words for the outline: “then 12”, “when it fails: 14”. */
export function leadsInWords(
  chart: Chart,
  name: string,
): readonly { readonly says: string; readonly to: ChartNode }[] {
  const nodes = new Map(chart.nodes.map((node) => [node.name, node]));
  return chart.ways.flatMap((way) => {
    const to = nodes.get(way.to);
    return way.from === name && to ? [{ says: way.says === '' ? 'then' : way.says, to }] : [];
  });
}

/** “hold point”, “step that puts right”, “the end” */
export const nodeKindInWords = ({ kind, rework }: ChartNode): string =>
  kind === 'end' ? 'the end' : rework ? 'puts right' : kindInWords(kind);
