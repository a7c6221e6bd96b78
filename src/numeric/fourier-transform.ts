import { cos, sin } from "./elementary/angle.js";

/**
 * Discrete Fourier transform X_k = Σ_j x_j e^{−2πi jk/n} (Cooley and Tukey, Math. Comput. 19 (1965) 297)
 * with sines that are the same on every engine.
 *
 * @param signal - n real values, n a power of two
 * @returns n real and n imaginary parts
 * @throws RangeError where n is no power of two
 */
export function fourierTransform(signal: Float64Array): { re: Float64Array; im: Float64Array } {
  const n = signal.length;
  if (n < 1 || (n & (n - 1)) !== 0) throw new RangeError(`${n} values: a power of two is needed.`);
  const re = new Float64Array(n);
  const im = new Float64Array(n);
  let reversed = 0;
  for (let i = 0; i < n; i++) {
    re[i] = signal[reversed];
    let bit = n >> 1;
    for (; reversed & bit; bit >>= 1) reversed ^= bit;
    reversed |= bit;
  }
  const half = n >> 1;
  const cosine = Float64Array.from({ length: half }, (_, k) => cos((2 * Math.PI * k) / n));
  const sine = Float64Array.from({ length: half }, (_, k) => -sin((2 * Math.PI * k) / n));
  for (let size = 2; size <= n; size *= 2) {
    const stride = n / size;
    for (let first = 0; first < n; first += size) {
      for (let k = 0; k < size / 2; k++) {
        const a = first + k;
        const b = a + size / 2;
        const c = cosine[k * stride];
        const s = sine[k * stride];
        const turnedRe = re[b] * c - im[b] * s;
        const turnedIm = re[b] * s + im[b] * c;
        re[b] = re[a] - turnedRe;
        im[b] = im[a] - turnedIm;
        re[a] += turnedRe;
        im[a] += turnedIm;
      }
    }
  }
  return { re, im };
}
