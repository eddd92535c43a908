const escapes = Array.from({ length: 256 }, (_, byte) => `%${byte.toString(16).padStart(2, '0')}`);
const PERCENT = 0x25;

/**
 * The text of UTF-8 bytes, or null where they are not valid UTF-8 (overlong forms, surrogates and cut sequences
 * included). A byte order mark is kept, so that it shows. Done by `decodeURIComponent`, whose strict decoding ECMA-262
 * prescribes: TextDecoder is not part of the language.
 */
export function decodeUtf8(bytes: Uint8Array): string | null {
  const parts: string[] = [];
  for (let from = 0; from < bytes.length; ) {
    let to = Math.min(from + 8192, bytes.length);
    // Not in the middle of a character: its later bytes are 10xxxxxx.
    while (to < bytes.length && to > from + 8188 && ((bytes[to] ?? 0) & 0xc0) === 0x80) to--;
    const part = bytes.subarray(from, to);
    const plain = part.every((byte) => byte < 0x80);
    try {
      parts.push(plain ? String.fromCharCode(...part) : decodeURIComponent(escaped(part)));
    } catch {
      return null;
    }
    from = to;
  }
  return parts.join('');
}

function escaped(part: Uint8Array): string {
  let text = '';
  for (const byte of part) {
    text += byte < 0x80 && byte !== PERCENT ? String.fromCharCode(byte) : escapes[byte];
  }
  return text;
}
