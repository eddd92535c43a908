import { Graph, layout } from '@dagrejs/dagre';
import { type Chart, type ChartNode, type ChartWay, nodeKindInWords } from '../../procedure/publish/chart.ts';

/** Sizes of the drawing in its own units: a line of text is one 15-unit line of type. */
export const TYPE = 15;
const LINE = 19;
const WIDTH = 270;
const PAD = 14;
/** Letters on one line of a box. The type is about 0.58 of its size wide. */
const LETTERS = Math.floor((WIDTH - 2 * PAD) / (TYPE * 0.58));
const MOST_LINES = 3;

export interface Box {
  readonly node: ChartNode;
  /** Upper left corner. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** Kind, and what it is held to. */
  readonly head: string;
  readonly lines: readonly string[];
}

export interface Line {
  readonly way: ChartWay;
  readonly path: string;
  readonly label: { readonly x: number; readonly y: number } | null;
}

export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly boxes: readonly Box[];
  readonly lines: readonly Line[];
}

/** A sentence in lines of at most so many letters; what does not fit ends in an ellipsis. */
export function wrapped(text: string, letters: number, most: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (longer.length <= letters || line === '') line = longer;
    else {
      lines.push(line);
      line = word;
    }
  }
  lines.push(line);
  const cut = lines.map((one) => (one.length > letters ? `${one.slice(0, letters - 1)}…` : one));
  if (cut.length <= most) return cut;
  const last = cut[most - 1] ?? '';
  return [...cut.slice(0, most - 1), `${last.slice(0, letters - 1).replace(/[ ,.;:]+$/, '')}…`];
}

interface Point {
  readonly x: number;
  readonly y: number;
}

/** A line through the points with its corners rounded off. */
function pathThrough(points: readonly Point[]): string {
  const [first, ...rest] = points;
  if (!first) return '';
  const at = ({ x, y }: Point) => `${x.toFixed(1)} ${y.toFixed(1)}`;
  const parts = rest.map((point, index) => {
    const next = rest[index + 1];
    if (!next) return `L${at(point)}`;
    return `Q${at(point)} ${at({ x: (point.x + next.x) / 2, y: (point.y + next.y) / 2 })}`;
  });
  return `M${at(first)}${parts.join('')}`;
}

/**
 * Lays a procedure out in layers from top to bottom, in the order of the job. Ways back are laid out as if they led
 * down, so that what puts a fault right stands beside what it leads back to.
 */
export function laidOut(chart: Chart): Drawing {
  const graph = new Graph({ multigraph: true });
  graph.setGraph({ rankdir: 'TB', nodesep: 36, ranksep: 34, edgesep: 18, marginx: 24, marginy: 24 });
  graph.setDefaultEdgeLabel(() => ({}));
  const order = new Map(chart.nodes.map(({ name }, at) => [name, at]));
  const texts = new Map(
    chart.nodes.map((node) => {
      const kind = nodeKindInWords(node);
      const head = wrapped(node.place === 0 ? kind : `${node.place} ${kind}`, LETTERS, 1)[0] ?? '';
      const detail = node.detail === null ? [] : wrapped(node.detail, LETTERS, 2);
      return [
        node.name,
        { head, lines: [...wrapped(node.says, LETTERS, MOST_LINES), ...detail], says: node.says },
      ];
    }),
  );
  for (const { name } of chart.nodes) {
    const lines = texts.get(name)?.lines.length ?? 1;
    graph.setNode(name, { width: WIDTH, height: 2 * PAD + LINE * (lines + 1) });
  }
  chart.ways.forEach(({ from, to, says, dashed }, at) => {
    const back = (order.get(from) ?? 0) > (order.get(to) ?? 0);
    const label = {
      weight: dashed ? 1 : 4,
      ...(says === '' ? {} : { width: says.length * TYPE * 0.5, height: LINE, labelpos: 'c' as const }),
    };
    graph.setEdge(back ? to : from, back ? from : to, label, String(at));
  });
  layout(graph);
  const boxes = chart.nodes.map((node): Box => {
    const { x = 0, y = 0, width = 0, height = 0 } = graph.node(node.name) as Partial<Box>;
    const { head = '', lines = [] } = texts.get(node.name) ?? {};
    return { node, x: x - width / 2, y: y - height / 2, width, height, head, lines };
  });
  const lines = chart.ways.map((way, at): Line => {
    const back = (order.get(way.from) ?? 0) > (order.get(way.to) ?? 0);
    const edge = graph.edge({
      v: back ? way.to : way.from,
      w: back ? way.from : way.to,
      name: String(at),
    }) as {
      points?: readonly Point[];
      x?: number;
      y?: number;
    };
    const points = edge.points ?? [];
    const label =
      way.says === '' || edge.x === undefined || edge.y === undefined ? null : { x: edge.x, y: edge.y };
    return { way, path: pathThrough(back ? [...points].reverse() : points), label };
  });
  const { width = 0, height = 0 } = graph.graph() as { width?: number; height?: number };
  return { width, height, boxes, lines };
}
