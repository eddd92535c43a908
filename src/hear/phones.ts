/**
 * The 39 phones of American English as the CMU Pronouncing Dictionary writes them (ARPABET without stress), in the
 * order of the acoustic model's outputs. Output 0 is the blank of connectionist temporal classification.
 */
export const PHONES = [
  'AA',
  'AE',
  'AH',
  'AO',
  'AW',
  'AY',
  'B',
  'CH',
  'D',
  'DH',
  'EH',
  'ER',
  'EY',
  'F',
  'G',
  'HH',
  'IH',
  'IY',
  'JH',
  'K',
  'L',
  'M',
  'N',
  'NG',
  'OW',
  'OY',
  'P',
  'R',
  'S',
  'SH',
  'T',
  'TH',
  'UH',
  'UW',
  'V',
  'W',
  'Y',
  'Z',
  'ZH',
] as const;

export type Phone = (typeof PHONES)[number];

export const BLANK = 0;

const OUTPUT_OF = new Map<string, number>(PHONES.map((p, i) => [p, i + 1]));

/** The model's output for a phone, or null where it is no phone of ours. */
export const outputOf = (phone: string): number | null => OUTPUT_OF.get(phone) ?? null;
