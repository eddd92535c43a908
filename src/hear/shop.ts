import { VOICE_ALONE_DB } from './judge.ts';

/** Under this many dB of speech over the shop, words are lost more often than a person bears; on the bench's audio. */
const WORDS_DB = 10;

export interface ShopVerdict {
  readonly stands: 'good' | 'some' | 'poor';
  /** What will work here by voice. */
  readonly says: string;
  /** What would make it better; null where nothing is wanting. */
  readonly remedy: string | null;
}

const NEARER =
  'A microphone nearer to the mouth, on the collar or at the ear defenders, gains 15 dB and more; so does a quieter moment.';

/** What a ratio of speech to the shop's noise, dB, lets a person do by voice. */
export function shopVerdict(ratio: number): ShopVerdict {
  if (ratio >= VOICE_ALONE_DB)
    return { stands: 'good', says: 'Everything works by voice here, hold points too.', remedy: null };
  if (ratio >= WORDS_DB)
    return {
      stands: 'some',
      says: 'Words and figures work by voice here. A hold point also needs the pedal or a key.',
      remedy: NEARER,
    };
  return {
    stands: 'poor',
    says: 'It is too loud here for the voice: use pedal and keys.',
    remedy: NEARER,
  };
}
