import { describe, expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import recheck from '../../procedures/final-drive-recheck/index.ts';
import { laidOut, wrapped } from '../../src/bench/screens/procedure-layout.ts';
import { COMPLETE } from '../../src/procedure/definition.ts';
import { graphOf } from '../../src/procedure/proof/graph.ts';
import { chartOf, leadsInWords } from '../../src/procedure/publish/chart.ts';
import { generate } from './generate.ts';
import { sample } from './sample.ts';

const all = [
  ['sample', sample],
  ['final-drive', finalDrive],
  ['final-drive-recheck', recheck],
  ['generated', generate({ stations: 60, seed: 4 })],
] as const;

describe.each(all)('the chart of %s', (_, definition) => {
  const chart = chartOf(definition);
  const drawing = laidOut(chart);

  test('has every station and the end once, and every way of the graph', () => {
    const stations = Object.keys(definition.states).filter((name) => definition.states[name]?.meta);
    expect(chart.nodes.map(({ name }) => name).sort()).toEqual([...stations, COMPLETE].sort());
    const ways = new Set(graphOf(definition).edges.map(({ from, to }) => `${from} ${to}`));
    expect(new Set(chart.ways.map(({ from, to }) => `${from} ${to}`))).toEqual(ways);
    expect(chart.ways).toHaveLength(ways.size);
  });

  test('no two boxes lie over each other, and all lie inside', () => {
    const { boxes, width, height } = drawing;
    for (const [at, a] of boxes.entries()) {
      expect(a.x >= 0 && a.y >= 0 && a.x + a.width <= width && a.y + a.height <= height).toBe(true);
      for (const b of boxes.slice(at + 1)) {
        const apart =
          a.x + a.width <= b.x || b.x + b.width <= a.x || a.y + a.height <= b.y || b.y + b.height <= a.y;
        expect(apart, `${a.node.name} and ${b.node.name}`).toBe(true);
      }
    }
  });

  test('a line begins at the box it leaves and ends at the box it leads to', () => {
    const box = new Map(drawing.boxes.map((one) => [one.node.name, one]));
    const near = (name: string, x: number, y: number) => {
      const { x: left = 0, y: top = 0, width = 0, height = 0 } = box.get(name) ?? {};
      return x >= left - 1 && x <= left + width + 1 && y >= top - 1 && y <= top + height + 1;
    };
    for (const { way, path } of drawing.lines) {
      const numbers = [...path.matchAll(/-?\d+\.\d/g)].map(Number);
      const [x = 0, y = 0] = numbers;
      expect(near(way.from, x, y), `${way.from} to ${way.to}`).toBe(true);
      expect(near(way.to, numbers.at(-2) ?? 0, numbers.at(-1) ?? 0), `${way.from} to ${way.to}`).toBe(true);
    }
  });

  test('a way that leads back from putting something right is dashed, and so is the way to it', () => {
    for (const { name } of chart.nodes.filter(({ rework }) => rework)) {
      for (const way of chart.ways.filter(({ from }) => from === name)) expect(way.dashed).toBe(true);
    }
    const fails = graphOf(definition).edges.filter(({ guard }) => guard?.type === 'failsHere');
    for (const { from, to } of fails)
      expect(chart.ways.find((way) => way.from === from && way.to === to)?.dashed).toBe(true);
  });
});

test('the outline says where a station leads', () => {
  const chart = chartOf(sample);
  const said = (name: string) => leadsInWords(chart, name).map(({ says, to }) => `${says}: ${to.name}`);
  expect(said('which')).toEqual(['clip link: clipWay', 'riveted link: slack']);
  expect(said('clipWay')).toEqual(['then: slack', 'when it fails: refit']);
  expect(said('slack')).toEqual(['then: torque', 'outside limits: adjust']);
  expect(said('torque')).toEqual(['then: complete', 'outside limits · when it fails: loosen']);
  expect(chart.nodes.find(({ name }) => name === 'torque')?.detail).toBe('Axle nut torque ± 5 % N·m');
});

test('text is cut in lines that fit, and what is left out is told by an ellipsis', () => {
  expect(wrapped('one two three', 7, 3)).toEqual(['one two', 'three']);
  expect(wrapped('one two three four five', 7, 2)).toEqual(['one two', 'three…']);
  expect(wrapped('unbreakablylong', 7, 2)).toEqual(['unbrea…']);
});
