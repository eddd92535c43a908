/**
 * Power spectrum of a real window by a radix-2 transform, everything allocated once.
 * `size` must be a power of two; the answer has size / 2 + 1 powers and is overwritten by the next call.
 */
export function powerSpectrum(size: number): (samples: Float32Array) => Float32Array {
  const re = new Float64Array(size);
  const im = new Float64Array(size);
  const power = new Float32Array(size / 2 + 1);
  const cos = Float64Array.from({ length: size / 2 }, (_, i) => Math.cos((2 * Math.PI * i) / size));
  const sin = Float64Array.from({ length: size / 2 }, (_, i) => Math.sin((2 * Math.PI * i) / size));
  const bits = Math.log2(size);
  const swapped = Uint32Array.from({ length: size }, (_, i) => {
    let r = 0;
    for (let b = 0; b < bits; b++) r |= ((i >> b) & 1) << (bits - 1 - b);
    return r;
  });

  return (samples) => {
    for (let i = 0; i < size; i++) {
      const from = swapped[i] ?? 0;
      re[i] = from < samples.length ? (samples[from] ?? 0) : 0;
      im[i] = 0;
    }
    for (let half = 1; half < size; half *= 2) {
      const step = size / (2 * half);
      for (let start = 0; start < size; start += 2 * half) {
        for (let k = 0; k < half; k++) {
          const a = start + k;
          const b = a + half;
          const c = cos[k * step] as number;
          const s = sin[k * step] as number;
          const br = re[b] as number;
          const bi = im[b] as number;
          const xr = br * c + bi * s;
          const xi = bi * c - br * s;
          const ar = re[a] as number;
          const ai = im[a] as number;
          re[b] = ar - xr;
          im[b] = ai - xi;
          re[a] = ar + xr;
          im[a] = ai + xi;
        }
      }
    }
    for (let i = 0; i <= size / 2; i++) {
      const r = re[i] as number;
      const m = im[i] as number;
      power[i] = r * r + m * m;
    }
    return power;
  };
}
