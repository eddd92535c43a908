import { digitsOf } from '../job/figures.ts';
import type { MachineCard } from '../job/workshop.ts';
import type { FigureValue } from '../procedure/amounts.ts';
import type { Facts } from '../procedure/facts.ts';
import { TradeError } from '../trade/fault.ts';
import {
  compareGears,
  type GearPair,
  type GearSetUp,
  readGearSetUp,
  type SpeedChart,
  speedChart,
} from '../trade/gearing.ts';
import { rpm } from '../trade/quantity.ts';
import { runWorking } from '../trade/workings.ts';

/** Sprockets that are considered for a machine, before any job. */
export interface Plan {
  readonly card: MachineCard;
  readonly front: number;
  readonly rear: number;
}

const figure = (card: MachineCard, name: string) => card.figures[name]?.value;

/** Begins with what the card says is to be fitted next, else with what is fitted now. */
export function planFor(card: MachineCard): Plan {
  const front = figure(card, 'newFront') ?? figure(card, 'oldFront') ?? 14;
  const rear = figure(card, 'newRear') ?? figure(card, 'oldRear') ?? 45;
  return { card, front, rear };
}

export const PLAN_ACTS = ['frontUp', 'frontDown', 'rearUp', 'rearDown', 'use'] as const;
export type PlanAct = (typeof PLAN_ACTS)[number];

/** One step of a sprocket, kept to sizes that exist at all. */
export function planStep(plan: Plan, act: Exclude<PlanAct, 'use'>): Plan {
  const within = (teeth: number, low: number, high: number) => Math.min(high, Math.max(low, teeth));
  switch (act) {
    case 'frontUp':
      return { ...plan, front: within(plan.front + 1, 9, 25) };
    case 'frontDown':
      return { ...plan, front: within(plan.front - 1, 9, 25) };
    case 'rearUp':
      return { ...plan, rear: within(plan.rear + 1, 20, 75) };
    case 'rearDown':
      return { ...plan, rear: within(plan.rear - 1, 20, 75) };
  }
}

export interface PlanAnswer {
  readonly label: string;
  readonly value: string;
}

export interface PlanView {
  readonly fitted: { readonly front: number; readonly rear: number } | null;
  readonly answers: readonly PlanAnswer[];
  /** Why something cannot be worked out, in one sentence; the rest is still shown. */
  readonly missing: readonly string[];
  readonly gears: readonly GearPair[];
  readonly chart: SpeedChart | null;
  readonly maxRpm: number;
}

type Tried =
  | { readonly result: Record<string, unknown>; readonly sentence?: never }
  | { readonly result?: never; readonly sentence: string };

function tried(name: string, input: unknown): Tried {
  try {
    return { result: runWorking(name, input) };
  } catch (error) {
    if (error instanceof TradeError) return { sentence: error.message };
    throw error;
  }
}

const answer = (label: string, value: unknown, unit: string): PlanAnswer[] =>
  typeof value === 'number' ? [{ label, value: `${digitsOf(value, unit)} ${unit}`.trim() }] : [];

const signed = (label: string, value: unknown): PlanAnswer[] =>
  typeof value === 'number' ? [{ label, value: `${value > 0 ? '+' : ''}${digitsOf(value, '%')} %` }] : [];

/** Everything the planner shows: computed, never typed in. A figure that the card lacks leaves out only what needs it. */
export function planView(plan: Plan): PlanView {
  const { card } = plan;
  const oldFront = figure(card, 'oldFront');
  const oldRear = figure(card, 'oldRear');
  const fitted = oldFront !== undefined && oldRear !== undefined ? { front: oldFront, rear: oldRear } : null;
  const to = { front: plan.front, rear: plan.rear };
  const ratio = tried('final-ratio', to);
  const change = fitted ? tried('ratio-change', { from: fitted, to }) : null;
  // Nobody has measured yet: where the old chain puts the axle follows from its length.
  const pitch = figure(card, 'pitch');
  const pitches = figure(card, 'oldPitches');
  const now = tried('centre-distance', { ...fitted, pitch, pitches });
  const cut = tried('chain-cut', {
    pitch,
    old: { ...fitted, pitches, centre: now.result?.centre },
    new: to,
    adjuster: { min: figure(card, 'adjusterMin'), max: figure(card, 'adjusterMax') },
    link: card.facts.link,
    slack: figure(card, 'slackMin') ?? 0,
  });
  const noFit =
    cut.result && cut.result.pitches === null ? String(cut.result.why ?? 'No length fits.') : null;
  const answers = [
    ...answer('Final ratio', ratio.result?.ratio, ''),
    ...signed('Ratio changes by', change?.result?.percent),
    ...signed('Engine speed at one road speed', change?.result?.engineSpeedPercent),
    ...answer('New chain', cut.result?.pitches, 'pitches'),
    ...answer('Shaft to axle', cut.result?.centre, 'mm'),
    ...answer('Adjuster used', cut.result?.adjusterUsedPercent, '%'),
    ...answer('Left for wear', cut.result?.wearReservePercent, '%'),
  ];
  const missing = [ratio, change, cut].flatMap((one) => (one?.sentence ? [one.sentence] : []));
  return { fitted, answers, missing: noFit ? [...missing, noFit] : missing, ...speeds(plan, fitted) };
}

function speeds(plan: Plan, fitted: PlanView['fitted']): Pick<PlanView, 'gears' | 'chart' | 'maxRpm'> {
  const { drive } = plan.card;
  if (!drive) return { gears: [], chart: null, maxRpm: 0 };
  const setUp = (name: string, front: number, rear: number): GearSetUp =>
    readGearSetUp({
      name,
      primary: drive.primary,
      gears: drive.gears,
      front,
      rear,
      rollingCircumference: drive.rollingCircumference,
    });
  const now = fitted ?? plan;
  const first = setUp('fitted', now.front, now.rear);
  const second = setUp('considered', plan.front, plan.rear);
  const range = { from: rpm(1000), to: rpm(drive.maxRpm), step: rpm(250) };
  return {
    gears: compareGears(first, second, rpm(drive.maxRpm)),
    chart: speedChart([first, second], range),
    maxRpm: drive.maxRpm,
  };
}

/** What a job takes over from a plan: its sprockets, and whether they are other sizes than those fitted. */
export function planForJob(plan: Plan): { figures: Record<string, FigureValue>; facts: Facts } {
  const { fitted } = planView(plan);
  const teeth = (value: number): FigureValue => ({ value, unit: 'teeth', source: 'working' });
  const regear = fitted !== null && (fitted.front !== plan.front || fitted.rear !== plan.rear);
  return { figures: { newFront: teeth(plan.front), newRear: teeth(plan.rear) }, facts: { regear } };
}
