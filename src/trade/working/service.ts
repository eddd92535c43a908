import { brakeWear } from '../brake-wear.ts';
import { TradeError } from '../fault.ts';
import * as field from '../field.ts';
import { mm, percent, ratio } from '../quantity.ts';
import { preloadChange, sag, sagReading } from '../sag.ts';
import { withUnit } from '../units.ts';
import { chooseShim, type Shims } from '../valve-shim.ts';
import { define, figure, group, maybe, rows, truth, verdict } from './define.ts';

const reading = field.length('Reading', { min: 0, max: 3000 });

const sagWorking = define({
  name: 'sag',
  title: 'Suspension sag',
  formula:
    'sag = mean(extended) − mean(readings after lifting and after pressing down), which cancels friction',
  inputs: {
    unladen: field.optional(field.list('Fixed point to axle, machine alone on its wheels', reading)),
    laden: field.list('The same with the rider on, once after lifting and once after pressing down', reading),
    extended: field.list('The same with the wheel hanging free', reading),
    travel: field.optional(field.length('Wheel travel, to give shares of it', { above: 0, max: 600 })),
    target: field.optional(field.length('Laden sag wanted', { above: 0, max: 300 })),
    least: field.optional(field.length('Least laden sag allowed', { min: 0, max: 300 })),
    most: field.optional(field.length('Most laden sag allowed', { above: 0, max: 300 })),
    motionRatio: field.optional(
      field.ratio('Wheel travel for spring travel; 1 when left out', { min: 0.5, max: 6 }),
    ),
  },
  outputs: {
    unladenSag: maybe(figure('mm', 'Machine alone')),
    ladenSag: figure('mm', 'With the rider'),
    unladenPercent: maybe(figure('%', 'Machine alone, share of travel')),
    ladenPercent: maybe(figure('%', 'With the rider, share of travel')),
    friction: figure('mm', 'Difference between the laden readings: stiction'),
    preloadChange: maybe(figure('mm', 'Spring preload to add for the target; negative is less')),
    ladenShortest: maybe(figure('mm', 'Laden reading at the most sag allowed: none may be shorter')),
    ladenLongest: maybe(figure('mm', 'Laden reading at the least sag allowed: none may be longer')),
  },
  sources: ['sportrider.com/ask-geek-set-your-static-sag'],
  work: (given) => {
    const laden = sag(given.extended, given.laden);
    const unladen = given.unladen === undefined ? null : sag(given.extended, given.unladen).sag;
    if (laden.sag < 0 || (unladen ?? 0) < 0) {
      throw new TradeError(
        'figures-disagree',
        'The wheel hanging free must give the longest reading: check which reading is which.',
      );
    }
    const share = (value: number | null) =>
      value === null || given.travel === undefined ? null : percent((100 * value) / given.travel);
    if (given.least !== undefined && given.most !== undefined && given.most < given.least)
      throw new TradeError('out-of-domain', '"most" must not be less than "least".');
    const readingAt = (allowed: number | undefined) =>
      allowed === undefined ? null : sagReading(given.extended, mm(allowed));
    const motion = given.motionRatio ?? ratio(1);
    const change = given.target === undefined ? null : preloadChange(laden.sag, given.target, motion);
    return {
      result: {
        unladenSag: unladen,
        ladenSag: laden.sag,
        unladenPercent: share(unladen),
        ladenPercent: share(laden.sag),
        friction: laden.friction,
        preloadChange: change,
        ladenShortest: readingAt(given.most),
        ladenLongest: readingAt(given.least),
      },
      lines: [
        `laden: mean(${given.extended.join(', ')}) − mean(${given.laden.join(', ')}) = ${withUnit(laden.sag, 'mm')}`,
        ...(unladen === null || given.unladen === undefined
          ? []
          : [
              `unladen: mean(${given.extended.join(', ')}) − mean(${given.unladen.join(', ')}) = ${withUnit(unladen, 'mm')}`,
            ]),
        ...(change === null ? [] : [`preload: ${withUnit(change, 'mm')} at the spring`]),
      ],
    };
  },
});

const shimLength = { above: 0, max: 20 };

const valveShim = define({
  name: 'valve-shim',
  title: 'Valve shims',
  formula:
    'exact shim = fitted + measured − middle of the limits; the next thinner size that can be had, clearance = fitted + measured − shim',
  inputs: {
    measured: field.list(
      'Clearance of each valve, engine cold',
      field.length('Clearance', { min: 0, max: 5 }),
    ),
    target: field.record('Clearance allowed', {
      min: field.length('Least clearance', { min: 0, max: 5 }),
      max: field.length('Greatest clearance', { min: 0, max: 5 }),
    }),
    fitted: field.list(
      'Shim now in each valve, measured, not read off its mark',
      field.length('Shim', shimLength),
    ),
    step: field.optional(
      field.length('Step between the sizes sold; 0.05 when left out', { min: 0.005, max: 1 }),
    ),
    smallest: field.optional(field.length('Smallest size sold', shimLength)),
    largest: field.optional(field.length('Largest size sold', shimLength)),
    available: field.optional(
      field.list('Sizes in stock, instead of a step', field.length('Shim', shimLength)),
    ),
  },
  outputs: {
    shims: rows('Shim to fit in each valve', figure('mm', 'Shim')),
    clearances: rows('Clearance that results', figure('mm', 'Clearance')),
    valves: rows(
      'Each valve in turn',
      group('One valve', {
        exact: figure('mm', 'Shim that would give the middle of the limits'),
        shim: figure('mm', 'Shim to fit'),
        clearance: figure('mm', 'Clearance that results'),
        nearest: figure('mm', 'Available size nearest to exact, on either side'),
        change: truth('The shim is changed'),
        inLimits: truth('The result is within the limits'),
      }),
    ),
  },
  sources: [
    'formula: oplib.ru/visokie_tehnologii/view/55064',
    'loose side between sizes: dirtrider.net/forums3/threads/selecting-the-proper-valve-shim.160036',
  ],
  work: (given) => {
    const { measured, fitted, target } = given;
    if (measured.length !== fitted.length)
      throw new TradeError(
        'wrong-count',
        `There are ${measured.length} clearances and ${fitted.length} shims: give one of each for every valve.`,
      );
    if (target.max < target.min)
      throw new TradeError('out-of-domain', '"target.max" must not be less than "target.min".');
    const shims: Shims =
      given.available === undefined
        ? { step: given.step ?? mm(0.05), from: given.smallest ?? mm(0), to: given.largest ?? mm(20) }
        : { stock: given.available };
    const valves = measured.map((clearance, at) => chooseShim(clearance, fitted[at] ?? mm(0), target, shims));
    return {
      result: {
        shims: valves.map((one) => one.shim),
        clearances: valves.map((one) => one.clearance),
        valves,
      },
      lines: valves.map((one, at) => {
        const head = `valve ${at + 1}: `;
        const [was, found] = [withUnit(fitted[at] ?? 0, 'mm'), withUnit(measured[at] ?? 0, 'mm')];
        if (!one.change)
          return `${head}${found} with ${was}: ${one.inLimits ? 'within limits, leave it' : 'no better size can be had'}`;
        return `${head}${was} + ${found} − ${withUnit((target.min + target.max) / 2, 'mm')} = ${withUnit(one.exact, 'mm')}; fit ${withUnit(one.shim, 'mm')}, clearance ${withUnit(one.clearance, 'mm')}${one.inLimits ? '' : ', outside the limits'}`;
      }),
    };
  },
});

const brakeWearWorking = define({
  name: 'brake-wear',
  title: 'Brake pad, shoe or disc wear',
  formula: 'worn = 100 × (new − thinnest) / (new − least); left = thinnest − least',
  inputs: {
    measured: field.list('Thickness at several places', field.length('Thickness', { min: 0, max: 100 })),
    new: field.length('Thickness when new', { above: 0, max: 100 }),
    least: field.length("Least thickness allowed, from the part or the machine's service manual", {
      min: 0,
      max: 100,
    }),
    distance: field.optional(field.plain('Distance run since new', 'km', { above: 0, max: 1e6 })),
  },
  outputs: {
    thinnest: figure('mm', 'The place that decides'),
    taper: figure('mm', 'Thickest less thinnest'),
    wornPercent: figure('%', 'Share of the usable thickness worn'),
    left: figure('mm', 'Left above the least allowed'),
    distanceLeft: maybe(figure('km', 'At the same rate of wear, distance until the least allowed')),
    verdict: verdict('Near limit from three quarters worn', ['serviceable', 'near limit', 'renew']),
  },
  sources: ['arithmetic; the limit is the part maker’s'],
  work: (given) => {
    if (given.new <= given.least)
      throw new TradeError(
        'out-of-domain',
        '"new" must be more than "least": a new part is thicker than its limit.',
      );
    const wear = brakeWear(given.measured, given.new, given.least);
    if (wear.thinnest > given.new * 1.05)
      throw new TradeError(
        'figures-disagree',
        'The part is thicker than new: measure again, or correct the thickness when new.',
      );
    const worn = given.new - wear.thinnest;
    const distanceLeft =
      given.distance === undefined || worn <= 0 ? null : Math.max(0, (given.distance * wear.left) / worn);
    return {
      result: { ...wear, distanceLeft },
      lines: [
        `thinnest ${withUnit(wear.thinnest, 'mm')} of ${withUnit(given.new, 'mm')} new, least ${withUnit(given.least, 'mm')}`,
        `worn = 100 × (${given.new} − ${wear.thinnest}) / (${given.new} − ${given.least}) = ${withUnit(wear.wornPercent, '%')}: ${wear.verdict}`,
        ...(distanceLeft === null ? [] : [`at this rate about ${withUnit(distanceLeft, 'km')} left`]),
      ],
    };
  },
});

export const serviceWorkings = [sagWorking, valveShim, brakeWearWorking];
