import * as field from '../field.ts';
import { finalRatio, overallRatio, ratioChange, roadSpeed } from '../gear-ratio.ts';
import { formatFigure, withUnit } from '../units.ts';
import { define, figure } from './define.ts';

const front = field.teeth('Teeth on the front (engine) sprocket');
const rear = field.teeth('Teeth on the rear (wheel) sprocket');

const finalRatioWorking = define({
  name: 'final-ratio',
  title: 'Final drive ratio',
  formula: 'ratio = rear teeth / front teeth',
  inputs: { front, rear },
  outputs: { ratio: figure('', 'Turns of the front sprocket for one turn of the rear') },
  sources: ['definition of a gear ratio'],
  work: (sprockets) => {
    const ratio = finalRatio(sprockets);
    return {
      result: { ratio },
      lines: [`ratio = ${sprockets.rear} / ${sprockets.front} = ${formatFigure(ratio, '')}`],
    };
  },
});

const ratioChangeWorking = define({
  name: 'ratio-change',
  title: 'What other sprockets change',
  formula:
    'percent = 100 × (new ratio / old ratio − 1); road speed changes by 100 × (old ratio / new ratio − 1)',
  inputs: {
    from: field.record('Sprockets now', { front, rear }),
    to: field.record('Sprockets to fit', { front, rear }),
  },
  outputs: {
    percent: figure('%', 'Change of the final ratio'),
    engineSpeedPercent: figure('%', 'Change of engine speed at the same road speed'),
    roadSpeedPercent: figure('%', 'Change of road speed at the same engine speed'),
    fromRatio: figure('', 'Ratio now'),
    toRatio: figure('', 'Ratio after the change'),
  },
  sources: ['definition of a gear ratio'],
  work: ({ from, to }) => {
    const change = ratioChange(from, to);
    const fromRatio = finalRatio(from);
    const toRatio = finalRatio(to);
    return {
      result: { ...change, fromRatio, toRatio },
      lines: [
        `old ratio = ${from.rear} / ${from.front} = ${formatFigure(fromRatio, '')}`,
        `new ratio = ${to.rear} / ${to.front} = ${formatFigure(toRatio, '')}`,
        `ratio, and engine speed at the same road speed: 100 × (${formatFigure(toRatio, '')} / ${formatFigure(fromRatio, '')} − 1) = ${withUnit(change.percent, '%')}`,
        `road speed at the same engine speed: ${withUnit(change.roadSpeedPercent, '%')}`,
      ],
    };
  },
});

const roadSpeedWorking = define({
  name: 'road-speed',
  title: 'Road speed in a gear',
  formula: 'km/h = rpm / (primary × gearbox × rear/front) × rolling circumference in m × 60 / 1000',
  inputs: {
    rpm: field.rotation('Engine speed'),
    primary: field.ratio('Primary reduction, engine to gearbox'),
    gearbox: field.ratio('Ratio of the gear engaged'),
    front,
    rear,
    rollingCircumference: field.length('Distance rolled in one turn of the rear wheel, measured under load', {
      min: 100,
      max: 10_000,
    }),
  },
  outputs: {
    kmh: figure('km/h', 'Road speed without slip'),
    overall: figure('', 'Turns of the engine for one of the wheel'),
  },
  sources: ['definition of a gear ratio; 1 h = 60 min, 1 km = 1000 m'],
  work: ({ rpm, ...drive }) => {
    const overall = overallRatio(drive);
    const kmh = roadSpeed(drive, rpm);
    return {
      result: { kmh, overall },
      lines: [
        `overall = ${formatFigure(drive.primary, '')} × ${formatFigure(drive.gearbox, '')} × ${drive.rear}/${drive.front} = ${formatFigure(overall, '')}`,
        `km/h = ${withUnit(rpm, 'rpm')} / ${formatFigure(overall, '')} × ${formatFigure(drive.rollingCircumference / 1000, 'm')} m × 60 / 1000 = ${withUnit(kmh, 'km/h')}`,
      ],
    };
  },
});

export const gearingWorkings = [finalRatioWorking, ratioChangeWorking, roadSpeedWorking];
