import { cutChain, type Fit } from '../chain-cut.ts';
import { centreDistance, chainLength } from '../chain-length.ts';
import { centreAtAngle, slackAtRest, slackOfChain, tightSpot } from '../chain-slack.ts';
import * as field from '../field.ts';
import { mm } from '../quantity.ts';
import { formatFigure, withUnit } from '../units.ts';
import { count, define, figure, group, maybe, rows, truth, verdict, words } from './define.ts';

const front = field.teeth('Teeth on the front (engine) sprocket');
const rear = field.teeth('Teeth on the rear (wheel) sprocket');
const pitch = field.chainPitch();
const any = { min: 0, max: 500 };

const fitFields = {
  pitches: count('pitches', 'Pitches, joining link counted'),
  centre: figure('mm', 'Where the axle sits, as centre distance'),
  fits: truth('The axle is within the adjuster'),
  adjusterUsedPercent: figure('%', 'Adjuster travel used when new'),
  wearReservePercent: figure('%', 'Elongation the rest of the travel takes up'),
  crankedLink: truth('Odd count: needs a cranked link, which is weaker'),
  why: words('In a sentence'),
};

const row = ({ pitches, centre, fits, adjusterUsedPercent, wearReservePercent, crankedLink, why }: Fit) => ({
  pitches,
  centre,
  fits,
  adjusterUsedPercent,
  wearReservePercent,
  crankedLink,
  why,
});

const chainCut = define({
  name: 'chain-cut',
  title: 'Where to cut the new chain',
  formula:
    'the shortest even count of pitches whose axle position lies within the adjuster; exact chain geometry',
  inputs: {
    pitch,
    old: field.record('What is on the machine now', {
      front,
      rear,
      pitches: field.pitches('Pitches of the old chain, joining link counted'),
      centre: field.length('Centre distance now'),
    }),
    new: field.record('Sprockets to fit', { front, rear }),
    adjuster: field.record('Where the axle can sit, as centre distance from the front shaft', {
      min: field.length('Shortest centre distance'),
      max: field.length('Longest centre distance'),
    }),
    link: field.optional(field.choice('How the chain is closed', ['clip', 'rivet', 'endless'])),
    slack: field.optional(field.length('Free movement of the lower run to be set; 0 when left out', any)),
  },
  outputs: {
    pitches: maybe(
      count('pitches', 'Pitches of the finished chain, joining link counted; null when none fits'),
    ),
    centre: maybe(figure('mm', 'Where the axle will sit, as centre distance')),
    adjusterUsedPercent: maybe(figure('%', 'Adjuster travel used when new')),
    wearReservePercent: maybe(figure('%', 'Elongation that the rest of the travel can take up')),
    cutAfterPitch: maybe(
      count(
        'pitches',
        'Count this many pitches, from inner link to inner link, and part the chain; null for an endless chain',
      ),
    ),
    axleMove: maybe(figure('mm', 'How far the axle moves back from where it is now; negative is forward')),
    oldElongationPercent: figure('%', 'Elongation that the old centre distance shows; a cross-check'),
    fits: truth('An even count fits the adjuster'),
    why: words('Why this count, or why none'),
    notes: rows('What to look at before cutting', words('A note')),
    alternatives: rows('Other lengths near it', group('One other length', fitFields)),
  },
  sources: [
    'geometry of a belt on two circles; sprocket pitch circles as in ISO 606',
    'even counts, cranked links weaker: mechanical-design-handbook.blogspot.com/2011/03/',
    'chain starts and ends on an inner link before the joining link: adoz.cz/en/actualities/how-to-determine-the-proper-length-of-a-roller-chain',
  ],
  work: (given) => {
    const slack = given.slack ?? mm(0);
    const cut = cutChain({ sprockets: given.new, pitch: given.pitch, adjuster: given.adjuster, slack });
    const { old } = given;
    const oldElongation = 100 * (chainLength(old, given.pitch, old.centre) / old.pitches - 1);
    const notes: string[] = [];
    // New chain lies within a few tenths of a percent; past 3 % it should long have been renewed.
    if (oldElongation < -1 || oldElongation > 3) {
      const taut = centreDistance(old, given.pitch, old.pitches);
      notes.push(
        `The old figures disagree: ${old.pitches} new pitches lie taut at ${withUnit(taut, 'mm')}, not ${withUnit(old.centre, 'mm')}. Count and measure again before cutting; if both are right the old chain is worn past any limit.`,
      );
    }
    const { chosen } = cut;
    if (chosen !== null && chosen.wearReservePercent < 1)
      notes.push(
        `Only ${withUnit(chosen.wearReservePercent, '%')} of wear can be taken up: the chain runs out of adjuster early.`,
      );
    if (given.link === 'endless')
      notes.push('An endless chain is not cut: order it with this count of pitches.');
    const cutAfter = chosen === null || given.link === 'endless' ? null : chosen.pitches - 1;
    return {
      result: {
        pitches: chosen?.pitches ?? null,
        centre: chosen?.centre ?? null,
        adjusterUsedPercent: chosen?.adjusterUsedPercent ?? null,
        wearReservePercent: chosen?.wearReservePercent ?? null,
        cutAfterPitch: cutAfter,
        axleMove: chosen === null ? null : chosen.centre - old.centre,
        oldElongationPercent: oldElongation,
        fits: chosen !== null,
        why: cut.why,
        notes,
        alternatives: cut.alternatives.map(row),
      },
      lines: [
        `at ${withUnit(given.adjuster.min, 'mm')} the new sprockets take ${withUnit(chainLength(given.new, given.pitch, given.adjuster.min), 'pitches')}, at ${withUnit(given.adjuster.max, 'mm')} ${withUnit(chainLength(given.new, given.pitch, given.adjuster.max), 'pitches')}`,
        cut.why,
        ...(chosen === null
          ? []
          : [
              `${chosen.pitches} pitches put the axle at ${withUnit(chosen.centre, 'mm')}: ${withUnit(chosen.adjusterUsedPercent, '%')} of the adjuster used`,
            ]),
        ...(cutAfter === null
          ? []
          : [`count ${cutAfter} pitches and part the chain; the joining link makes ${cutAfter + 1}`]),
        ...notes,
      ],
    };
  },
});

const chainSlack = define({
  name: 'chain-slack',
  title: 'Slack to set at rest',
  formula:
    'C² = a² + b² + 2ab cos θ; the chain is tightest with front sprocket, pivot and axle in line (θ = 0), and must keep the least slack there; slack = √((run + extra)² − run²)',
  inputs: {
    pivotToFront: field.length('From the swing-arm pivot to the front sprocket shaft', any),
    pivotToAxle: field.length('From the pivot to the wheel axle', { above: 0, max: 3000 }),
    restAngle: field.angle(
      'Angle of the arm at rest from the line through front sprocket and pivot; 0 is in line',
      {
        min: -60,
        max: 60,
      },
    ),
    pitch,
    front,
    rear,
    leastSlack: field.length('Least free movement allowed at the tightest point, up and down in all', any),
    pitches: field.optional(
      field.pitches('Pitches of the chain, to see the slack it has with the axle here'),
    ),
    measured: field.optional(
      field.list('Slack measured at rest, at several wheel positions', field.length('Slack', any)),
    ),
    mostSlack: field.optional(field.length('Most free movement allowed at rest', any)),
  },
  outputs: {
    slackAtRest: figure('mm', 'Free movement to set at rest, at the tight spot'),
    centreAtRest: figure('mm', 'Centre distance at rest'),
    centreInLine: figure('mm', 'Centre distance with the three in line'),
    extraChain: figure('mm', 'Chain set free at rest, compared with the three in line'),
    slackNow: maybe(figure('mm', 'Slack at rest that the given count of unworn pitches has')),
    tightest: maybe(figure('mm', 'Least slack measured')),
    tightestAt: maybe(count('', 'Which measurement that was, from 1')),
    spread: maybe(figure('mm', 'Greatest less least slack measured')),
    verdict: maybe(verdict('The tight spot against the slack to set', ['too tight', 'enough', 'too loose'])),
  },
  sources: [
    'geometry of a triangle and of a belt on two circles',
    'setting slack for the in-line position: common practice, no source',
  ],
  work: (given) => {
    const swing = { ...given, sprockets: given };
    const rest = slackAtRest(swing, given.leastSlack);
    const spot = given.measured === undefined ? null : tightSpot(given.measured);
    const now =
      given.pitches === undefined
        ? null
        : slackOfChain(given, given.pitch, centreAtAngle(given, given.restAngle), given.pitches);
    const judged =
      spot === null
        ? null
        : spot.tightest < rest.slackAtRest
          ? 'too tight'
          : given.mostSlack !== undefined && spot.tightest > given.mostSlack
            ? 'too loose'
            : 'enough';
    return {
      result: {
        ...rest,
        slackNow: now,
        tightest: spot?.tightest ?? null,
        tightestAt: spot?.tightestAt ?? null,
        spread: spot?.spread ?? null,
        verdict: judged,
      },
      lines: [
        `in line: ${formatFigure(given.pivotToFront, 'mm')} + ${formatFigure(given.pivotToAxle, 'mm')} = ${withUnit(rest.centreInLine, 'mm')}`,
        `at rest, ${withUnit(given.restAngle, '°')}: ${withUnit(rest.centreAtRest, 'mm')}, which sets ${withUnit(rest.extraChain, 'mm')} of chain free`,
        `so ${withUnit(given.leastSlack, 'mm')} in line is ${withUnit(rest.slackAtRest, 'mm')} at rest`,
        ...(spot === null
          ? []
          : [
              `tight spot: ${withUnit(spot.tightest, 'mm')} at position ${spot.tightestAt}, spread ${withUnit(spot.spread, 'mm')}: ${judged}`,
            ]),
      ],
    };
  },
});

export const chainFitWorkings = [chainCut, chainSlack];
