import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { dictionary } from 'cmu-pronouncing-dictionary';
import { procedures } from '../../procedures/index.ts';
import { commandWords } from '../hear/command-words.ts';
import { OWN_WORDS } from '../hear/own-words.ts';

/*
 * tsx src/cli/voice-words.ts
 * Compiles the phones of every word that can be said: the app's own words and the phrases of the shipped procedures.
 * The pronouncing dictionary (ISC licence) has 4.7 MB and stays out of the app; what is written here has a few kB.
 * Prints the words that no table knows: their phones are guessed from the spelling.
 */

function phrasesIn(value: unknown): string[] {
  if (Array.isArray(value)) return value.flatMap(phrasesIn);
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) =>
    key === 'phrase' && typeof inner === 'string' ? [inner] : phrasesIn(inner),
  );
}

const definitions = await Promise.all(procedures.map((listed) => listed.load()));
const text = [...commandWords, ...phrasesIn(definitions)].join(' ').toLowerCase();
const words = [...new Set(text.match(/[a-z']+/g) ?? [])].toSorted();
const table: Record<string, string> = {};
const guessed: string[] = [];
for (const word of words) {
  const phones = OWN_WORDS[word] ?? dictionary[word]?.replace(/\d/g, '');
  if (phones) table[word] = phones;
  else guessed.push(word);
}
const out = fileURLToPath(new URL('../../assets/voice/words.json', import.meta.url));
writeFileSync(out, `${JSON.stringify(table, null, 0).replaceAll('","', '",\n"')}\n`);
console.log(`${Object.keys(table).length} words compiled.`);
if (guessed.length > 0) console.log(`Guessed from their spelling: ${guessed.join(', ')}`);
