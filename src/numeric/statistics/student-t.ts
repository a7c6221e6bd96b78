import { atan } from "../elementary/angle.js";

/**
 * Probability that Student's t does not exceed a value, by the finite series for a whole number of degrees of freedom
 * (Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4).
 * @param degreesOfFreedom whole, at least 1
 * @example studentTBelow(2.228138852, 10) // 0.975000000…
 */
export function studentTBelow(t: number, degreesOfFreedom: number): number {
  if (Number.isNaN(t)) return Number.NaN;
  const ratio = (t * t) / degreesOfFreedom;
  if (ratio === Number.POSITIVE_INFINITY) return t > 0 ? 1 : 0;
  const cosine2 = 1 / (1 + ratio);
  const sine = Math.sqrt(ratio * cosine2);
  const isOdd = degreesOfFreedom % 2 === 1;
  let term = isOdd ? Math.sqrt(cosine2) : 1;
  let sum = degreesOfFreedom === 1 ? 0 : term;
  for (let k = isOdd ? 3 : 2; k <= degreesOfFreedom - 2; k += 2) {
    term *= ((k - 1) / k) * cosine2;
    sum += term;
    if (term < 1e-17 * sum) break;
  }
  const within = isOdd ? (2 / Math.PI) * (atan(Math.sqrt(ratio)) + sine * sum) : sine * sum;
  return t > 0 ? (1 + within) / 2 : (1 - within) / 2;
}
