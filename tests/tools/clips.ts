import { readFileSync } from 'node:fs';

/** Samples a second of every clip. */
export const RATE = 16000;

// Tables of IMA ADPCM: Interactive Multimedia Association, "Recommended practices for enhancing digital audio
// compatibility in multimedia systems", 1992, from memory; the encoder of another program agrees.
const STEPS = [
  7, 8, 9, 10, 11, 12, 13, 14, 16, 17, 19, 21, 23, 25, 28, 31, 34, 37, 41, 45, 50, 55, 60, 66, 73, 80, 88, 97,
  107, 118, 130, 143, 157, 173, 190, 209, 230, 253, 279, 307, 337, 371, 408, 449, 494, 544, 598, 658, 724,
  796, 876, 963, 1060, 1166, 1282, 1411, 1552, 1707, 1878, 2066, 2272, 2499, 2749, 3024, 3327, 3660, 4026,
  4428, 4871, 5358, 5894, 6484, 7132, 7845, 8630, 9493, 10442, 11487, 12635, 13899, 15289, 16818, 18500,
  20350, 22385, 24623, 27086, 29794, 32767,
];
const TURNS = [-1, -1, -1, -1, 2, 4, 6, 8];

/** One block: its first sample and step, then two samples a byte, the low four bits first. */
function decodeBlock(block: Buffer, out: Float32Array, at: number): number {
  let sample = block.readInt16LE(0);
  let index = block.readUInt8(2);
  let to = at;
  const put = () => {
    if (to < out.length) out[to] = sample / 32768;
    to += 1;
  };
  put();
  for (const byte of block.subarray(4)) {
    for (const code of [byte & 15, byte >> 4]) {
      const step = STEPS[index] ?? 7;
      let by = step >> 3;
      if (code & 4) by += step;
      if (code & 2) by += step >> 1;
      if (code & 1) by += step >> 2;
      sample = Math.max(-32768, Math.min(32767, sample + (code & 8 ? -by : by)));
      index = Math.max(0, Math.min(88, index + (TURNS[code & 7] ?? 0)));
      put();
    }
  }
  return to;
}

/** Samples in -1..1 of a clip: WAV, 16 kHz, one channel, IMA ADPCM. @throws Error where it is something else */
export function samplesOf(bytes: Buffer): Float32Array {
  const chunk = (name: string): Buffer => {
    for (let at = 12; at + 8 <= bytes.length; ) {
      const size = bytes.readUInt32LE(at + 4);
      if (bytes.toString('latin1', at, at + 4) === name) return bytes.subarray(at + 8, at + 8 + size);
      at += 8 + size + (size % 2);
    }
    throw new Error(`This file has no part "${name}".`);
  };
  const format = chunk('fmt ');
  const [kind, channels, rate] = [format.readUInt16LE(0), format.readUInt16LE(2), format.readUInt32LE(4)];
  if (kind !== 0x11 || channels !== 1 || rate !== RATE)
    throw new Error('Not IMA ADPCM, 16 kHz, one channel.');
  const out = new Float32Array(chunk('fact').readUInt32LE(0));
  const data = chunk('data');
  const size = format.readUInt16LE(12);
  for (let from = 0, at = 0; from < data.length; from += size) {
    at = decodeBlock(data.subarray(from, from + size), out, at);
  }
  return out;
}

/** A clip of tests/whole/clips, by its name: a command's words with dashes between them. */
export const clip = (name: string): Float32Array =>
  samplesOf(readFileSync(new URL(`../whole/clips/${name.replaceAll(' ', '-')}.wav`, import.meta.url)));

/** The same sound faster (over 1) and higher, or slower and lower. */
export function faster(sound: Float32Array, by: number): Float32Array {
  return Float32Array.from({ length: Math.floor((sound.length - 1) / by) }, (_, i) => {
    const at = Math.floor(i * by);
    const part = i * by - at;
    return (sound[at] ?? 0) * (1 - part) + (sound[at + 1] ?? 0) * part;
  });
}

/** A hiss of the same samples every time, even between plus and minus `amplitude`: the quiet of a room. */
export function hiss(seconds: number, amplitude = 0.001): Float32Array {
  let state = 12345;
  return Float32Array.from({ length: Math.round(seconds * RATE) }, () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state / 2 ** 31 - 1) * amplitude;
  });
}

/** What is said when: `at` seconds from the start. */
export interface Said {
  readonly at: number;
  readonly sound: Float32Array;
}

/** Everything that is said, in a quiet room, until `tail` seconds after the last of it. */
export function spoken(said: readonly Said[], tail = 1): Float32Array {
  const ends = said.map(({ at, sound }) => at + sound.length / RATE);
  const room = hiss(Math.max(0, ...ends) + tail);
  for (const { at, sound } of said) {
    const from = Math.round(at * RATE);
    for (const [i, v] of sound.entries()) room[from + i] = (room[from + i] ?? 0) + v;
  }
  return room;
}

/** A WAV file, 16-bit PCM, one channel, 16 kHz. */
export function waveFile(sound: Float32Array): Buffer {
  const file = Buffer.alloc(44 + 2 * sound.length);
  file.write('RIFF', 0);
  file.writeUInt32LE(file.length - 8, 4);
  file.write('WAVEfmt ', 8);
  file.writeUInt32LE(16, 16);
  file.writeUInt16LE(1, 20);
  file.writeUInt16LE(1, 22);
  file.writeUInt32LE(RATE, 24);
  file.writeUInt32LE(2 * RATE, 28);
  file.writeUInt16LE(2, 32);
  file.writeUInt16LE(16, 34);
  file.write('data', 36);
  file.writeUInt32LE(2 * sound.length, 40);
  for (const [i, v] of sound.entries()) {
    file.writeInt16LE(Math.round(Math.max(-1, Math.min(1, v)) * 32767), 44 + 2 * i);
  }
  return file;
}
