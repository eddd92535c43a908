/**
 * Cuts an instruction where a reader breathes: at the end of a sentence, else at a colon, semicolon or comma. A piece
 * with more than `most` letters is cut between words, because it has to fit on a page by itself. The pieces joined by
 * spaces are the text again.
 */
export function breaths(text: string, most: number): string[] {
  const clauses = text.split(/(?<=[.!?:;,])\s+/).filter((piece) => piece !== '');
  return clauses.flatMap((clause) => (clause.length <= most ? [clause] : byWords(clause, most)));
}

/** Between words, into as few pieces as can be, as even as can be: no word is left alone on a page. */
function byWords(clause: string, most: number): string[] {
  const fewest = filled(clause, most);
  for (let even = Math.ceil(clause.length / fewest.length); even < most; even++) {
    const pieces = filled(clause, even);
    if (pieces.length === fewest.length && pieces.every(({ length }) => length <= most)) return pieces;
  }
  return fewest;
}

function filled(clause: string, most: number): string[] {
  const pieces: string[] = [];
  for (const word of clause.split(/\s+/)) {
    const last = pieces.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= most)
      pieces[pieces.length - 1] = `${last} ${word}`;
    else pieces.push(word);
  }
  return pieces;
}
