import type { Amount, WorkingInput } from './amounts.ts';
import type { Condition, FactValue } from './facts.ts';

/** Signal words of ISO 3864-2 / ANSI Z535.4: danger *will* and warning *could* kill or maim; caution: lesser injury; notice: damage only. */
export type SignalWord = 'danger' | 'warning' | 'caution' | 'notice';

export interface Caution {
  readonly word: SignalWord;
  readonly text: string;
  /** The failure that it prevents, where the text does not say it all: told to whoever asks why. */
  readonly why?: string;
}

/** What every station says and shows. All of it is plain data: a published revision never changes. */
export interface Shown {
  /** The one instruction, spoken and shown: one act, short enough to be read from across the workshop. */
  readonly say: string;
  /** Cautions shown and spoken before the instruction. */
  readonly cautions?: readonly Caution[];
  /** The failure that this station prevents, in the words a foreman would use to an apprentice. */
  readonly why?: string;
  /** File name of a drawing in assets/drawings. */
  readonly drawing?: string;
  /** Figures shown in giant numerals beside the instruction. */
  readonly shows?: readonly ShownAmount[];
}

export interface ShownAmount {
  readonly label: string;
  readonly amount: Amount;
  readonly unit: string;
}

/** A figure that is to be measured: its name in the record, unit, target and limits, and what it is taken with. */
export interface Measure {
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  readonly target?: Amount;
  readonly min?: Amount;
  readonly max?: Amount;
  /** Limits as plus or minus this percentage of the target. */
  readonly tolerancePercent?: number;
  /** Kind of tool from the procedure's tools; where that tool must be calibrated, its calibration date is checked. */
  readonly tool?: string;
}

export interface StepStation extends Shown {
  readonly kind: 'step';
  /** A step that repairs what failed at a hold point; it leads back to it. */
  readonly rework?: true;
  /** Key of the kit item that is fitted here: its label can be scanned, and a wrong part is refused. */
  readonly fits?: string;
}

/** Who must confirm a hold point besides the person doing the work. */
export type WitnessRule = 'never' | 'apprentice' | 'always';

export interface HoldStation extends Shown {
  readonly kind: 'hold';
  /** The spoken phrase that opens this hold and no other. */
  readonly phrase: string;
  readonly why: string;
  readonly witness: WitnessRule;
  /** The facts under which this hold point applies; absent: always. */
  readonly applies?: Condition;
  /** Where the evidence is a figure: the hold opens only for a reading within its limits. */
  readonly measure?: Measure;
  /** An authorised person may concede this hold, for a recorded reason. Absent: nobody may. */
  readonly concession?: true;
}

export interface ReadingStation extends Shown {
  readonly kind: 'reading';
  readonly measure: Measure;
}

export type KitKind = 'protective' | 'tool' | 'part' | 'consumable' | 'person';

export interface KitItem {
  readonly calls: string;
  readonly kind: KitKind;
  /** Key of the procedure's tools: called off by the tool's own number, refused when its calibration has lapsed. */
  readonly tool?: string;
  readonly when?: Condition;
}

export interface KitStation extends Shown {
  readonly kind: 'kit';
  /** In the order in which they are called off: a list, because canonical JSON sorts keys. */
  readonly items: readonly (KitItem & { readonly key: string })[];
}

export interface ForkStation extends Shown {
  readonly kind: 'fork';
  readonly fact: string;
  /** The word to say for each value: `{ clip: 'clip link', rivet: 'riveted link' }`. */
  readonly choices: readonly { readonly value: FactValue; readonly phrase: string }[];
}

export interface WorkingStation extends Shown {
  readonly kind: 'working';
  readonly working: string;
  readonly inputs: Readonly<Record<string, WorkingInput>>;
  /** Results shown large: key of the working's output, label and unit. */
  readonly answers: readonly { readonly key: string; readonly label: string; readonly unit: string }[];
  /** Figures that the result sets for later stations: figure name -> key of the output, or `shims.0` for the first of a list. */
  readonly gives?: Readonly<Record<string, string>>;
}

export interface RoundStation extends Shown {
  readonly kind: 'round';
  /** Number of fasteners on the ring. */
  readonly fasteners: Amount;
  /** One entry a pass, in words: "run down by hand", "half torque", "full torque". */
  readonly passes: readonly string[];
  /** What one fastener is called: "bolt". */
  readonly fastener: string;
}

export interface WaitStation extends Shown {
  readonly kind: 'wait';
  readonly minutes: Amount;
}

export interface LookUpStation extends Shown {
  readonly kind: 'lookUp';
  /** Figures needed from here on; each one that the card lacks is asked for. */
  readonly needs: readonly { readonly figure: string; readonly when?: Condition }[];
}

/** What a state of a procedure is about: its `meta`. */
export type Station =
  | StepStation
  | HoldStation
  | ReadingStation
  | KitStation
  | ForkStation
  | WorkingStation
  | RoundStation
  | WaitStation
  | LookUpStation;

export type StationKind = Station['kind'];
