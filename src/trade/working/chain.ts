import * as lengths from '../chain-length.ts';
import { chainSize, pitchOfNumber } from '../chain-sizes.ts';
import { chainVerdict, elongation, elongationLimit, wornLength } from '../chain-wear.ts';
import { TradeError } from '../fault.ts';
import * as field from '../field.ts';
import { meetingCycle } from '../meeting-cycle.ts';
import {
  articulationAngle,
  caliperDiameter,
  chordalVariation,
  pitchDiameter,
  rootDiameter,
} from '../sprocket.ts';
import { formatFigure, withUnit } from '../units.ts';
import { count, define, figure, maybe, truth, verdict, words } from './define.ts';

const front = field.teeth('Teeth on the front (engine) sprocket');
const rear = field.teeth('Teeth on the rear (wheel) sprocket');
const pitch = field.chainPitch();
const geometry = 'geometry of a belt on two circles; sprocket pitch circles as in ISO 606';

const chainSizeWorking = define({
  name: 'chain-size',
  title: 'Chain by its number',
  formula: 'a table; the last figures of a trade code do not always give the width',
  inputs: { number: field.text('Number on the side plates, such as 520') },
  outputs: {
    pitch: figure('mm', 'Pin to pin'),
    innerWidth: figure('mm', 'Between the inner plates'),
    roller: figure('mm', 'Roller diameter'),
    tensile: maybe(figure('N', 'Least breaking load when new, where a source gives it')),
  },
  sources: [
    'ASME B29.1 as tabled at amesweb.info/chain/roller-chain-dimensions-table.aspx',
    'two trade charts; The Complete Guide to Chain, table 1.9',
  ],
  work: ({ number }) => {
    const size = chainSize(number.trim());
    if (size === null) {
      const named = pitchOfNumber(number.trim());
      const hint = named === null ? '' : ` (by its number the pitch would be ${withUnit(named, 'mm')})`;
      throw new TradeError(
        'unknown-choice',
        `No chain "${number}" is on file${hint}: measure pitch, inner width and roller instead.`,
      );
    }
    const { pitch: p, innerWidth, roller, tensile } = size;
    return {
      result: { pitch: p, innerWidth, roller, tensile },
      lines: [
        `${size.number}: pitch ${withUnit(p, 'mm')}, width ${withUnit(innerWidth, 'mm')}, roller ${withUnit(roller, 'mm')}`,
      ],
    };
  },
});

const sprocketDiameter = define({
  name: 'sprocket-diameter',
  title: 'Sprocket diameters',
  formula: 'pitch diameter = pitch / sin(180° / teeth); root = pitch diameter − roller',
  inputs: {
    teeth: field.teeth('Teeth of the sprocket'),
    pitch,
    roller: field.optional(
      field.length('Roller diameter, for the root and caliper diameters', { above: 0, max: 100 }),
    ),
  },
  outputs: {
    pitchDiameter: figure('mm', 'Circle through the pin centres'),
    rootDiameter: maybe(figure('mm', 'Circle at the bottom of the teeth')),
    caliperDiameter: maybe(figure('mm', 'What a caliper reads across the tooth bottoms')),
    articulationAngle: figure('°', 'Turn of each link as it runs on'),
    chordalVariationPercent: figure('%', 'Swing of the chain speed at even shaft speed'),
  },
  sources: [
    'ISO 606',
    'caliper diameter: engineersedge.com/hardware/precision_sprockets_caliper_diameters_13888.htm',
  ],
  work: ({ teeth, pitch: p, roller }) => {
    const diameter = pitchDiameter(teeth, p);
    const root = roller === undefined ? null : rootDiameter(teeth, p, roller);
    return {
      result: {
        pitchDiameter: diameter,
        rootDiameter: root,
        caliperDiameter: roller === undefined ? null : caliperDiameter(teeth, p, roller),
        articulationAngle: articulationAngle(teeth),
        chordalVariationPercent: chordalVariation(teeth),
      },
      lines: [
        `pitch diameter = ${withUnit(p, 'mm')} / sin(180° / ${teeth}) = ${withUnit(diameter, 'mm')}`,
        ...(root === null || roller === undefined
          ? []
          : [`root = ${withUnit(diameter, 'mm')} − ${withUnit(roller, 'mm')} = ${withUnit(root, 'mm')}`]),
      ],
    };
  },
});

const chainLength = define({
  name: 'chain-length',
  title: 'Chain length for a centre distance',
  formula:
    'L = 2C cos a + N(1/2 + a/π) + n(1/2 − a/π), sin a = (R − r)/C, all in pitches; short form 2C + (N + n)/2 + ((N − n)/2π)²/C',
  inputs: { front, rear, pitch, centre: field.length('Distance between the two shafts') },
  outputs: {
    pitches: figure('pitches', 'Taut chain, exact geometry'),
    approxPitches: figure('pitches', "Taut chain, handbook's short form"),
    evenPitches: count('pitches', 'Least even count that reaches'),
    evenCentre: figure('mm', 'Centre distance at which that count lies taut'),
    length: figure('mm', 'Exact length'),
  },
  sources: [geometry, "short form: Jindal, Machine Design, example 30-3 (a text book's worked example)"],
  work: (given) => {
    const exact = lengths.chainLength(given, given.pitch, given.centre);
    const approx = lengths.approximateLength(given, given.pitch, given.centre);
    const even = lengths.evenCount(exact);
    const evenCentre = lengths.centreDistance(given, given.pitch, even);
    return {
      result: {
        pitches: exact,
        approxPitches: approx,
        evenPitches: even,
        evenCentre,
        length: exact * given.pitch,
      },
      lines: [
        `centre = ${withUnit(given.centre, 'mm')} / ${withUnit(given.pitch, 'mm')} = ${withUnit(given.centre / given.pitch, 'pitches')}`,
        `exact length with ${given.rear} and ${given.front} teeth = ${withUnit(exact, 'pitches')}; short form ${withUnit(approx, 'pitches')}`,
        `least even count that reaches = ${even}, taut at a centre of ${withUnit(evenCentre, 'mm')}`,
      ],
    };
  },
});

const centreDistance = define({
  name: 'centre-distance',
  title: 'Centre distance for a chain',
  formula:
    'the C that solves L(C) = pitches on the exact geometry; short form C = ¼(s + √(s² − 8((N − n)/2π)²)), s = L − (N + n)/2',
  inputs: { front, rear, pitch, pitches: field.pitches('Pitches of the chain, joining link counted') },
  outputs: {
    centre: figure('mm', 'Distance between the shafts with the chain taut'),
    approxCentre: maybe(figure('mm', "The same by the handbook's short form")),
    centrePitches: figure('pitches', 'Centre distance in pitches'),
  },
  sources: [geometry],
  work: (given) => {
    const centre = lengths.centreDistance(given, given.pitch, given.pitches);
    const approx = lengths.approximateCentre(given, given.pitch, given.pitches);
    return {
      result: { centre, approxCentre: approx, centrePitches: centre / given.pitch },
      lines: [
        `${given.pitches} pitches of ${withUnit(given.pitch, 'mm')} on ${given.rear} and ${given.front} teeth lie taut at ${withUnit(centre / given.pitch, 'pitches')} = ${withUnit(centre, 'mm')}`,
        ...(approx === null ? [] : [`short form: ${withUnit(approx, 'mm')}`]),
      ],
    };
  },
});

const chainWear = define({
  name: 'chain-wear',
  title: 'Chain wear',
  formula:
    'elongation = 100 × (measured / (pitches × pitch) − 1); limit = least of 3 % and 200 / rear teeth %',
  inputs: {
    pitch,
    pitches: field.pitches('Pitches measured over, pin to pin with the chain pulled taut', {
      min: 2,
      max: 500,
    }),
    measured: field.length('Length measured over them'),
    rearTeeth: field.optional(field.teeth('Teeth on the large sprocket')),
    fixedCentres: field.optional(field.flag('True where nothing takes up slack: the limit is then 1.5 %')),
    limitPercent: field.optional(
      field.percent("The machine's own limit from its service manual", { above: 0, max: 5 }),
    ),
  },
  outputs: {
    elongationPercent: figure('%', 'Longer than new by'),
    limitPercent: figure('%', 'Renew at'),
    renewAt: figure('mm', 'Length over the same pitches at the limit'),
    verdict: verdict('Near limit from three quarters of it', ['serviceable', 'near limit', 'renew']),
  },
  sources: [
    "industrial chain makers' guidance that refers to ASME B29.1 (3 % and 200/z %)",
    'bearingservice.com/faq/when-replace-chain (3 %)',
  ],
  work: (given) => {
    const found = elongation(given.pitch, given.pitches, given.measured);
    const limit = given.limitPercent ?? elongationLimit(given.rearTeeth, given.fixedCentres === true);
    const renewAt = wornLength(given.pitch, given.pitches, limit);
    const says = chainVerdict(found, limit);
    return {
      result: { elongationPercent: found, limitPercent: limit, renewAt, verdict: says },
      lines: [
        `new: ${given.pitches} × ${withUnit(given.pitch, 'mm')} = ${withUnit(given.pitches * given.pitch, 'mm')}`,
        `elongation = 100 × (${formatFigure(given.measured, 'mm')} / ${formatFigure(given.pitches * given.pitch, 'mm')} − 1) = ${withUnit(found, '%')}`,
        `limit ${withUnit(limit, '%')}, that is ${withUnit(renewAt, 'mm')}: ${says}`,
      ],
    };
  },
});

const meetingCycleWorking = define({
  name: 'meeting-cycle',
  title: 'How often the same link meets the same tooth',
  formula:
    'g = greatest common divisor of teeth and pitches; chain turns = teeth / g, sprocket turns = pitches / g',
  inputs: { teeth: field.teeth('Teeth of the sprocket'), pitches: field.pitches('Pitches of the chain') },
  outputs: {
    gcd: count('', 'Greatest common divisor; 1 spreads the wear over all teeth'),
    chainTurns: count('turns', 'Turns of the chain until the same link meets the same tooth'),
    sprocketTurns: count('turns', 'Turns of the sprocket in that time'),
    toothMeetings: count('teeth', 'Teeth passed in that time'),
    hunting: truth('Every link meets every tooth'),
    says: words('What that means for the wear'),
  },
  sources: [
    'number theory; worked pairs at kiwibiker.co.nz/forums/archive/index.php/t-103430.html and yurichev.org/GCD',
  ],
  work: ({ teeth, pitches }) => {
    const cycle = meetingCycle(teeth, pitches);
    const says = cycle.hunting
      ? 'Every link meets every tooth: wear is spread as evenly as it can be.'
      : `Each link meets only one tooth in ${cycle.gcd}: wear is less even than with teeth and pitches that share no divisor.`;
    return {
      result: { ...cycle, says },
      lines: [
        `greatest common divisor of ${teeth} and ${pitches} = ${cycle.gcd}`,
        `chain turns = ${teeth} / ${cycle.gcd} = ${cycle.chainTurns}; sprocket turns = ${pitches} / ${cycle.gcd} = ${cycle.sprocketTurns}`,
      ],
    };
  },
});

export const chainWorkings = [
  chainSizeWorking,
  sprocketDiameter,
  chainLength,
  centreDistance,
  chainWear,
  meetingCycleWorking,
];
