/**
 * Cuts an instruction where a reader breathes: at the end of a sentence, else at a colon, semicolon or comma. A piece
 * with more than `most` letters is cut between words, because it has to fit on a page by itself. The pieces joined by
 * spaces are the text again.
 */
export function breaths(text: string, most: number): string[] {
  const clauses = text.split(/(?<=[.!?:;,])\s+/).filter((piece) => piece !== '');
  return clauses.flatMap((clause) => (clause.length <= most ? [clause] : byWords(clause, most)));
}

function byWords(clause: string, most: number): string[] {
  const pieces: string[] = [];
  for (const word of clause.split(/\s+/)) {
    const last = pieces.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= most)
      pieces[pieces.length - 1] = `${last} ${word}`;
    else pieces.push(word);
  }
  return pieces;
}
