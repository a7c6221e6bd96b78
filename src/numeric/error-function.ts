import { exp } from "./elementary/exponential.js";

const twoOverSqrtPi = 2 / Math.sqrt(Math.PI);

/**
 * erf(x) = 2/√π ∫₀ˣ e^(−t²) dt to some 15 digits, for x ≥ 0: its series 7.1.6 below 2.5, the continued
 * fraction 7.1.14 of its complement above (Abramowitz and Stegun, Handbook of Mathematical Functions).
 * @example errorFunction(1) // 0.8427007929…
 */
export function errorFunction(x: number): number {
  if (x < 2.5) {
    let term = x;
    let sum = x;
    for (let n = 1; term > 1e-17 * sum; n++) {
      term *= (2 * x * x) / (2 * n + 1);
      sum += term;
    }
    return twoOverSqrtPi * exp(-x * x) * sum;
  }
  if (x > 6) return 1;
  let fraction = x;
  for (let n = 60; n > 0; n--) fraction = x + n / 2 / fraction;
  return 1 - exp(-x * x) / (Math.sqrt(Math.PI) * fraction);
}
