/** Says which phones a word is spoken with. */
export interface Lexicon {
  /** Phones of one word; a word the table lacks is spelt out by rule, so there is always an answer. */
  phones(word: string): string[];
  /** True where the phones come from the table, false where they were guessed from the spelling. */
  knows(word: string): boolean;
}

/**
 * Spelling rules for words the table lacks: the longest group of letters at the place wins. Enough to be told apart, not
 * to be beautiful; `npm run check` names the words it had to guess. Common practice, no source.
 */
const GROUPS: readonly (readonly [string, string])[] = [
  ['tion', 'SH AH N'],
  ['sion', 'ZH AH N'],
  ['ture', 'CH ER'],
  ['ight', 'AY T'],
  ['ough', 'AO'],
  ['augh', 'AO'],
  ['eigh', 'EY'],
  ['tch', 'CH'],
  ['dge', 'JH'],
  ['igh', 'AY'],
  ['eer', 'IH R'],
  ['ear', 'IH R'],
  ['air', 'EH R'],
  ['are', 'EH R'],
  ['ire', 'AY ER'],
  ['ore', 'AO R'],
  ['our', 'AO R'],
  ['ure', 'Y UH R'],
  ['oor', 'AO R'],
  ['all', 'AO L'],
  ['ing', 'IH NG'],
  ['ous', 'AH S'],
  ['ch', 'CH'],
  ['sh', 'SH'],
  ['th', 'TH'],
  ['ph', 'F'],
  ['wh', 'W'],
  ['ck', 'K'],
  ['qu', 'K W'],
  ['ng', 'NG'],
  ['nk', 'NG K'],
  ['kn', 'N'],
  ['wr', 'R'],
  ['gn', 'N'],
  ['mb', 'M'],
  ['ee', 'IY'],
  ['ea', 'IY'],
  ['ai', 'EY'],
  ['ay', 'EY'],
  ['oa', 'OW'],
  ['oo', 'UW'],
  ['ou', 'AW'],
  ['ow', 'OW'],
  ['oi', 'OY'],
  ['oy', 'OY'],
  ['au', 'AO'],
  ['aw', 'AO'],
  ['ew', 'Y UW'],
  ['ie', 'IY'],
  ['ue', 'UW'],
  ['ar', 'AA R'],
  ['er', 'ER'],
  ['ir', 'ER'],
  ['ur', 'ER'],
  ['or', 'AO R'],
  ['le', 'AH L'],
  ['bb', 'B'],
  ['cc', 'K'],
  ['dd', 'D'],
  ['ff', 'F'],
  ['gg', 'G'],
  ['ll', 'L'],
  ['mm', 'M'],
  ['nn', 'N'],
  ['pp', 'P'],
  ['rr', 'R'],
  ['ss', 'S'],
  ['tt', 'T'],
  ['zz', 'Z'],
  ['a', 'AE'],
  ['b', 'B'],
  ['c', 'K'],
  ['d', 'D'],
  ['e', 'EH'],
  ['f', 'F'],
  ['g', 'G'],
  ['h', 'HH'],
  ['i', 'IH'],
  ['j', 'JH'],
  ['k', 'K'],
  ['l', 'L'],
  ['m', 'M'],
  ['n', 'N'],
  ['o', 'AA'],
  ['p', 'P'],
  ['q', 'K'],
  ['r', 'R'],
  ['s', 'S'],
  ['t', 'T'],
  ['u', 'AH'],
  ['v', 'V'],
  ['w', 'W'],
  ['x', 'K S'],
  ['y', 'IY'],
  ['z', 'Z'],
];
const LONG: Readonly<Record<string, string>> = { a: 'EY', e: 'IY', i: 'AY', o: 'OW', u: 'UW', y: 'AY' };
const VOWELS = 'aeiouy';

/** Phones of a word guessed from its letters. */
export function spell(word: string): string[] {
  const text = word.toLowerCase().replace(/[^a-z]/g, '');
  const out: string[] = [];
  for (let i = 0; i < text.length; ) {
    const rest = text.slice(i);
    // A final e is silent and lengthens the vowel before the consonant: plate, wire.
    const magic =
      /^([aeiouy])[bcdfgklmnpstvz]e$/.exec(rest) ?? /^([aeiouy])[bcdfgklmnpstvz]e[ds]$/.exec(rest);
    if (magic) {
      out.push(LONG[magic[1] ?? ''] ?? 'AH');
      i += 1;
      continue;
    }
    if (i > 0 && rest === 'e' && !VOWELS.includes(text[i - 1] ?? '')) break;
    if (i > 1 && rest === 'ed') {
      const before = text[i - 1] ?? '';
      out.push(...('td'.includes(before) ? ['IH', 'D'] : 'pkfsxch'.includes(before) ? ['T'] : ['D']));
      break;
    }
    if (rest[0] === 'c' && 'eiy'.includes(rest[1] ?? '#')) {
      out.push('S');
      i += 1;
      continue;
    }
    if (rest[0] === 'y' && i === 0) {
      out.push('Y');
      i += 1;
      continue;
    }
    const group = GROUPS.find(([letters]) => rest.startsWith(letters));
    if (group) out.push(...group[1].split(' '));
    i += group ? group[0].length : 1;
  }
  return out;
}

/** A lexicon over a table of `word: "PH ON ES"`, compiled from the words that procedures and the app itself use. */
export function lexicon(table: Readonly<Record<string, string>>): Lexicon {
  const key = (word: string) => word.toLowerCase().replace(/[^a-z']/g, '');
  const knows = (word: string) => Object.hasOwn(table, key(word));
  return {
    knows,
    phones: (word) => (knows(word) ? (table[key(word)] ?? '').split(' ') : spell(word)),
  };
}
