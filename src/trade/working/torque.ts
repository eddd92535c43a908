import * as bolt from '../bolt-preload.ts';
import { TradeError } from '../fault.ts';
import * as field from '../field.ts';
import { degrees, mm, newtonMetres, percent, ratio } from '../quantity.ts';
import { passFractions, tightenOrder } from '../tighten-order.ts';
import { adapterSetting } from '../torque-adapter.ts';
import { toolClass, torqueWindow } from '../torque-window.ts';
import { convert, formatFigure, quantityOf, readUnit, withUnit } from '../units.ts';
import { count, define, figure, group, maybe, rows, truth, verdict } from './define.ts';

const torqueConvert = define({
  name: 'torque-convert',
  title: 'Torque in another unit',
  formula:
    '1 ft·lbf = 0.3048 × 0.45359237 × 9.80665 N·m exactly; 1 in·lbf is a twelfth of it; 1 kgf·m = 9.80665 N·m',
  inputs: {
    value: field.plain('Torque', '', { min: 0, max: 1e9 }),
    from: field.text('Its unit: N·m, ft·lbf, in·lbf, kgf·m, kgf·cm or ozf·in'),
    to: field.text('The unit wanted'),
  },
  outputs: { value: figure('', 'The torque in the unit wanted') },
  sources: ['exact SI factors: NIST SP 811, appendix B.8 (from memory)'],
  work: ({ value, from, to }) => {
    const [source, target] = [readUnit(from), readUnit(to)];
    for (const unit of [source, target]) {
      if (quantityOf(unit) !== 'torque')
        throw new TradeError(
          'wrong-quantity',
          `"${unit}" is not a torque: use N·m, ft·lbf, in·lbf or kgf·m.`,
        );
    }
    const result = convert(value, source, target);
    return { result: { value: result }, lines: [`${withUnit(value, source)} = ${withUnit(result, target)}`] };
  },
});

const torqueAdapter = define({
  name: 'torque-adapter',
  title: 'Torque wrench setting with an adapter',
  formula: 'setting = target × L / (L + E × cos angle); L grip to square drive, E square drive to fastener',
  inputs: {
    target: field.torque('Torque wanted on the fastener'),
    wrench: field.length('L: middle of the grip to the square drive', { above: 0, max: 3000 }),
    extension: field.length('E: square drive to the fastener', { min: 0, max: 3000 }),
    angle: field.optional(
      field.angle('Adapter to wrench: 0 in line and pointing away, 90 square (no change), 180 folded back', {
        min: -180,
        max: 180,
      }),
    ),
    runDown: field.optional(
      field.torque('Torque that turns a locking nut before it seats, added to the target', {
        min: 0,
        max: 1e4,
      }),
    ),
  },
  outputs: {
    setting: figure('N·m', 'Set the wrench to this'),
    factor: figure('', 'Setting / torque on the fastener'),
  },
  sources: [
    'US Army TM 1-1500-204-23-9, paragraph 8-5',
    'US Navy NAVEDTRA 14315, figures 3-44 and 3-45',
    'run-down torque: FAA AC 43.13-1B, paragraph 7-40 d',
  ],
  work: (given) => {
    const angle = given.angle ?? degrees(0);
    const wanted = newtonMetres(given.target + (given.runDown ?? 0));
    const setting = adapterSetting(wanted, given.wrench, given.extension, angle);
    const added =
      given.runDown === undefined ? [] : [`target with run-down torque = ${withUnit(wanted, 'N·m')}`];
    return {
      result: { setting, factor: setting / wanted },
      lines: [
        ...added,
        `setting = ${withUnit(wanted, 'N·m')} × ${formatFigure(given.wrench, 'mm')} / (${formatFigure(given.wrench, 'mm')} + ${formatFigure(given.extension, 'mm')} × cos ${withUnit(angle, '°')}) = ${withUnit(setting, 'N·m')}`,
      ],
    };
  },
});

const orderShape = rows('Fasteners in turn', count('', 'Number of the fastener, clockwise from 1'));

const tightenOrderWorking = define({
  name: 'tighten-order',
  title: 'Order and passes for a ring of fasteners',
  formula:
    'opposite pairs, then square to them, then halve the angle; an odd ring as a star; rising passes, then once round',
  inputs: {
    fasteners: field.whole('Fasteners, evenly spaced on a circle, numbered clockwise', 'pieces', {
      min: 1,
      max: 64,
    }),
    passes: field.optional(field.whole('Passes to full torque; 3 when left out', '', { min: 1, max: 10 })),
  },
  outputs: {
    order: orderShape,
    passes: rows(
      'Passes in turn',
      group('One pass', { percent: figure('%', 'Share of the full torque'), order: orderShape }),
    ),
    checkPass: group('Last, once round at full torque', { percent: figure('%', 'Share'), order: orderShape }),
  },
  sources: [
    'rule: henniggasket.com/gasket-answers/faqs/how-to-bolt-flanges/',
    '30, 60, 100 %: hswhite.com/flange-bolt-torque-sequence/',
    '8, 12, 16: ASME PCC-1, legacy table (from memory)',
  ],
  work: ({ fasteners, passes }) => {
    const order = tightenOrder(fasteners);
    const shares = passFractions(passes ?? 3);
    const round = Array.from({ length: fasteners }, (_, at) => at + 1);
    return {
      result: {
        order,
        passes: shares.map((share) => ({ percent: share, order })),
        checkPass: { percent: 100, order: round },
      },
      lines: [
        `order: ${order.join(' – ')}`,
        `passes: ${shares.map((share) => withUnit(share, '%')).join(', ')} of the torque, then once round at full torque`,
      ],
    };
  },
});

const torqueWindowWorking = define({
  name: 'torque-window',
  title: 'Torque limits and what the wrench may be set to',
  formula: 'low, high = target × (1 ∓ tolerance); settings s with s(1 − class) ≥ low and s(1 + class) ≤ high',
  inputs: {
    target: field.torque('Torque wanted'),
    tolerancePercent: field.percent('Allowed either way', { min: 0, max: 90 }),
    toolClassPercent: field.optional(
      field.percent(
        'Deviation allowed of the wrench; ISO 6789 class A when left out (6 % to 10 N·m, 4 % above)',
        { min: 0, max: 50 },
      ),
    ),
  },
  outputs: {
    low: figure('N·m', 'Least torque allowed'),
    high: figure('N·m', 'Most torque allowed'),
    setLow: maybe(figure('N·m', 'Lowest safe setting of this wrench')),
    setHigh: maybe(figure('N·m', 'Highest safe setting of this wrench')),
    toolClassPercent: figure('%', 'Class used'),
    toolFits: truth('The wrench is fine enough for this tolerance'),
  },
  sources: ["ISO 6789 as restated in a torque tool's user manual"],
  work: ({ target, tolerancePercent, toolClassPercent }) => {
    const tool = toolClassPercent ?? toolClass(target);
    const window = torqueWindow(target, tolerancePercent, tool);
    const { setLow, setHigh } = window;
    return {
      result: { ...window, toolClassPercent: tool },
      lines: [
        `${withUnit(target, 'N·m')} ± ${withUnit(tolerancePercent, '%')} = ${withUnit(window.low, 'N·m')} to ${withUnit(window.high, 'N·m')}`,
        setLow === null || setHigh === null
          ? `a wrench of ± ${withUnit(tool, '%')} is too coarse for this tolerance`
          : `with a wrench of ± ${withUnit(tool, '%')} set between ${withUnit(setLow, 'N·m')} and ${withUnit(setHigh, 'N·m')}`,
      ],
    };
  },
});

const boltPreload = define({
  name: 'bolt-preload',
  title: 'Bolt preload against proof load',
  formula: 'F = T / (K × d); stress area = (π/4)(d − 0.938194 P)²; proof load = stress area × proof stress',
  inputs: {
    torque: field.torque('Tightening torque'),
    diameter: field.length('Nominal thread diameter: 10 for M10', { min: 1.6, max: 64 }),
    k: field.optional(
      field.ratio('Nut factor: about 0.2 dry as received, 0.15 oiled; 0.2 when left out', {
        min: 0.05,
        max: 0.6,
      }),
    ),
    threadPitch: field.optional(
      field.length('Thread pitch; the coarse one when left out', { above: 0, max: 6 }),
    ),
    grade: field.optional(field.choice('Property class to judge by; 8.8 when left out', bolt.grades)),
  },
  outputs: {
    preload: figure('N', 'Clamping force'),
    preloadLow: figure('N', 'With the usual scatter of a quarter less'),
    preloadHigh: figure('N', 'With the usual scatter of a quarter more'),
    stressArea: figure('mm²', 'Stress area of the thread'),
    stress: figure('MPa', 'Tensile stress in the thread'),
    proofLoad: group('Proof load by property class', {
      '8.8': figure('N', '8.8'),
      '10.9': figure('N', '10.9'),
      '12.9': figure('N', '12.9'),
    }),
    proofPercent: group('Preload as a share of proof load', {
      '8.8': figure('%', '8.8'),
      '10.9': figure('%', '10.9'),
      '12.9': figure('%', '12.9'),
    }),
    grade: verdict('Class judged by', bolt.grades),
    verdict: verdict('Preload against the proof load of that class', [
      'within proof load',
      'over proof load',
    ]),
  },
  sources: ['ISO 898-1', 'short form and scatter: engitoolbox.org/calculators/bolt-torque'],
  work: (given) => {
    const { torque, diameter } = given;
    const k = given.k ?? ratio(0.2);
    const grade = given.grade ?? '8.8';
    const threadPitch = given.threadPitch ?? bolt.coarsePitch(diameter);
    const area = bolt.stressArea(diameter, threadPitch);
    const force = bolt.preload(torque, diameter, k);
    const each = <T>(one: (grade: bolt.Grade) => T) => ({
      '8.8': one('8.8'),
      '10.9': one('10.9'),
      '12.9': one('12.9'),
    });
    const loads = each((one) => bolt.proofLoad(one, diameter, threadPitch));
    const shares = each((one) => percent((100 * force) / loads[one]));
    const over = force > loads[grade];
    return {
      result: {
        preload: force,
        preloadLow: 0.75 * force,
        preloadHigh: 1.25 * force,
        stressArea: area,
        stress: force / area,
        proofLoad: loads,
        proofPercent: shares,
        grade,
        verdict: over ? 'over proof load' : 'within proof load',
      },
      lines: [
        `F = ${withUnit(torque, 'N·m')} / (${formatFigure(k, '')} × ${withUnit(diameter, 'mm')}) = ${withUnit(force / 1000, 'kN')}, give or take a quarter`,
        `stress area of M${formatFigure(diameter, 'mm')} × ${formatFigure(mm(threadPitch), 'mm')} = ${withUnit(area, 'mm²')}; stress = ${withUnit(force / area, 'MPa')}`,
        `proof load of class ${grade} = ${withUnit(loads[grade] / 1000, 'kN')}: ${withUnit(shares[grade], '%')} of it, ${over ? 'over' : 'within'}`,
      ],
    };
  },
});

export const torqueWorkings = [
  torqueConvert,
  torqueAdapter,
  tightenOrderWorking,
  torqueWindowWorking,
  boltPreload,
];
