/**
 * A phrase as the model's own words, longest first: "number two" -> number, two. Null where any part of it is none of them;
 * then only the search in the phones can find it.
 */
export function tokensOf(phrase: string, known: readonly string[]): number[] | null {
  const words = phrase.trim().toLowerCase().split(/\s+/);
  const longest = Math.max(0, ...known.map((k) => k.split(' ').length));
  const out: number[] = [];
  for (let at = 0; at < words.length; ) {
    let size = Math.min(longest, words.length - at);
    while (size > 0 && !known.includes(words.slice(at, at + size).join(' '))) size -= 1;
    if (size === 0) return null;
    out.push(known.indexOf(words.slice(at, at + size).join(' ')) + 1);
    at += size;
  }
  return out;
}
