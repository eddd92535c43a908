import * as field from '../field.ts';
import { percentile, percentileDefinition, wilson } from '../percentile.ts';
import { toPixels, typeHeight } from '../type-size.ts';
import { circumference, rollingEstimate, tyreSize } from '../tyre-size.ts';
import { formatFigure, withUnit } from '../units.ts';
import { count, define, figure, maybe, words } from './define.ts';

const tyreSizeWorking = define({
  name: 'tyre-size',
  title: 'Tyre diameter from its size',
  formula: 'diameter = 2 × width × aspect / 100 + 25.4 × rim',
  inputs: { code: field.text('Metric size from the sidewall, such as 110/90-19') },
  outputs: {
    nominalDiameter: figure('mm', 'Unloaded diameter by the size code'),
    regulationDiameter: figure('mm', 'With the rim in whole mm, as UN Regulation No. 75 counts it'),
    width: figure('mm', 'Nominal width'),
    aspectPercent: figure('%', 'Section height as a share of the width'),
    rim: figure('in', 'Rim diameter code'),
    sectionHeight: figure('mm', 'Height of the tyre above the rim'),
    circumference: figure('mm', 'π × nominal diameter, unloaded'),
    rollingEstimate: figure('mm', 'Distance rolled a turn under load, estimated as 3.05 D: measure it'),
  },
  sources: [
    "a tyre maker's sidewall guide",
    'UN Regulation No. 75, paragraphs 2 and 6.1 (from memory)',
    '3.05 D: ETRTO practice (from memory)',
  ],
  work: ({ code }) => {
    const size = tyreSize(code);
    const { nominalDiameter, regulationDiameter, width, rim, sectionHeight } = size;
    return {
      result: {
        nominalDiameter,
        regulationDiameter,
        width,
        aspectPercent: size.aspect,
        rim,
        sectionHeight,
        circumference: circumference(nominalDiameter),
        rollingEstimate: rollingEstimate(nominalDiameter),
      },
      lines: [
        `diameter = 2 × ${width} × ${size.aspect} / 100 + 25.4 × ${rim} = ${withUnit(nominalDiameter, 'mm')}`,
        `rolls about 3.05 × ${formatFigure(nominalDiameter, 'mm')} = ${withUnit(rollingEstimate(nominalDiameter), 'mm')} a turn; measure it under load`,
      ],
    };
  },
});

const typeSize = define({
  name: 'type-size',
  title: 'Type size to read from a distance',
  formula: 'height = 2 × distance × tan(angle / 2)',
  inputs: {
    distance: field.length('From the eye to the screen', { above: 0, max: 100_000 }),
    arcminutes: field.plain('Angle that a capital letter fills: 16 least, 20 to 22 to read with ease', '′', {
      above: 0,
      max: 600,
    }),
    pixelsPerInch: field.plain('Pixels to the inch of the screen', 'px/in', { above: 0, max: 2000 }),
    capHeight: field.optional(
      field.ratio("Height of a capital as a share of the font size, from the font's own data", {
        min: 0.3,
        max: 1,
      }),
    ),
  },
  outputs: {
    height: figure('mm', 'Height of a capital letter'),
    pixels: figure('px', 'The same in pixels of the screen'),
    fontPixels: maybe(figure('px', 'Font size, when the cap height is given')),
  },
  sources: ['NUREG-0700, 1.3.1-4', 'ISO 9241-3 as restated at pc.ibm.com/ww/healthycomputing/vdc-crf.html'],
  work: ({ distance, arcminutes, pixelsPerInch, capHeight }) => {
    const height = typeHeight(distance, arcminutes);
    const pixels = toPixels(height, pixelsPerInch);
    return {
      result: { height, pixels, fontPixels: capHeight === undefined ? null : pixels / capHeight },
      lines: [
        `height = 2 × ${withUnit(distance, 'mm')} × tan(${withUnit(arcminutes, '′')} / 2) = ${withUnit(height, 'mm')}`,
        `${formatFigure(height, 'mm')} / 25.4 × ${withUnit(pixelsPerInch, 'px/in')} = ${withUnit(pixels, 'px')}`,
      ],
    };
  },
});

const jobTime = define({
  name: 'job-time',
  title: 'How long the job takes',
  formula: `median and 80th percentile by ${percentileDefinition}`,
  inputs: {
    history: field.list('Time of each finished job of this kind', field.minutes('Time'), 1, 10_000),
    allowed: field.optional(field.minutes('Time allowed, to say how many jobs keep it')),
  },
  outputs: {
    median: figure('min', 'Half the jobs take no longer'),
    p80: figure('min', 'Four in five take no longer'),
    jobs: count('pieces', 'How many jobs this rests on'),
    percentileDefinition: words('Definition used'),
    withinPercent: maybe(figure('%', 'Share of jobs done in the time allowed')),
    withinLow: maybe(figure('%', 'Lower end of its Wilson interval, z = 1.96')),
    withinHigh: maybe(figure('%', 'Upper end of its Wilson interval, z = 1.96')),
  },
  sources: [
    'percentile definitions: liquisearch.com/percentile/alternative_methods',
    'Wilson interval: codegolf.stackexchange.com/questions/105389',
  ],
  work: ({ history, allowed }) => {
    const median = percentile(history, 0.5);
    const p80 = percentile(history, 0.8);
    const jobs = history.length;
    const hits = allowed === undefined ? null : history.filter((time) => time <= allowed).length;
    const range = hits === null ? null : wilson(hits, jobs);
    return {
      result: {
        median,
        p80,
        jobs,
        percentileDefinition,
        withinPercent: hits === null ? null : (100 * hits) / jobs,
        withinLow: range === null ? null : 100 * range.low,
        withinHigh: range === null ? null : 100 * range.high,
      },
      lines: [
        `${jobs} jobs: median ${withUnit(median, 'min')}, 80th percentile ${withUnit(p80, 'min')}`,
        `by ${percentileDefinition}`,
        ...(range === null || hits === null
          ? []
          : [
              `${hits} of ${jobs} in the time allowed; in the long run ${withUnit(100 * range.low, '%')} to ${withUnit(100 * range.high, '%')}`,
            ]),
      ],
    };
  },
});

export const sizeWorkings = [tyreSizeWorking, typeSize, jobTime];
