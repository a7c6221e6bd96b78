import { cosh, exp } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { square } from "../../numeric/elementary/power.js";

/** A one-dimensional power spectrum, two-sided: h_rms² = ∫_{−∞}^{∞} C1(q) dq. */
export interface LineSpectrum {
  wavenumber_per_m: number[];
  spectrum_m3: number[];
  /** How many independent waves of the profile each bin holds. */
  modes: number[];
}

/** Neighbours on either side that smooth a bin's level and slope. */
const smoothingBins = 3;
const highestHyperbolicAngle = 12;
const angleStep = 0.02;

/**
 * The isotropic two-dimensional spectrum behind a profile's one-dimensional one, by Abel's inversion:
 *
 *   C1(q) = ∫_{−∞}^{∞} C(√(q² + y²)) dy,  C(q) = −(1/π) ∫_q^∞ C1′(p)/√(p² − q²) dp
 *                                              = (1/π) ∫_0^∞ [−C1′(p)] dt,  p = q cosh t
 *
 * (Nayak, Wear 26, 305, 1973, has the pair; from memory). C1 follows powers of q between its smoothed bins and
 * q^{−(1+2H)} beyond the last, H from the slope of all bins.
 */
export function isotropicSpectrum(line: LineSpectrum): { spectrum_m4: number[]; hurstExponent: number } {
  const logQ = line.wavenumber_per_m.map(ln);
  const logC = line.spectrum_m3.map(ln);
  const whole = weightedLine(logQ, logC, line.modes, 0, logQ.length - 1);
  const hurstExponent = Math.min(1, Math.max(0.05, (-whole.slope - 1) / 2));
  const smooth = logQ.map((at, i) => {
    const first = Math.max(0, i - smoothingBins);
    const last = Math.min(logQ.length - 1, i + smoothingBins);
    const local = weightedLine(logQ, logC, line.modes, first, last);
    return { level: local.level + local.slope * (at - local.centre), slope: local.slope };
  });

  const last = logQ.length - 1;
  /** −p C1′(p) at log p, by straight lines in log–log with the smoothed slopes between bins. */
  const steepness = (logP: number): number => {
    if (logP >= logQ[last]) {
      const slope = -(1 + 2 * hurstExponent);
      return -slope * exp(smooth[last].level + slope * (logP - logQ[last]));
    }
    let k = 0;
    while (k < last - 1 && logQ[k + 1] <= logP) k++;
    const part = (logP - logQ[k]) / (logQ[k + 1] - logQ[k]);
    const level = smooth[k].level + part * (smooth[k + 1].level - smooth[k].level);
    const slope = smooth[k].slope + part * (smooth[k + 1].slope - smooth[k].slope);
    return -slope * exp(level);
  };
  const spectrum_m4 = logQ.map((at, i) => {
    let sum = 0;
    for (let t = 0; t <= highestHyperbolicAngle; t += angleStep) {
      const logP = at + ln(cosh(t));
      sum += ((t === 0 ? 0.5 : 1) * steepness(logP)) / exp(logP);
    }
    const inverted = (angleStep * sum) / Math.PI;
    // Noise can leave a bin without a positive value: the power law of its surroundings stands in.
    return inverted > 0 ? inverted : powerLawInversion(exp(at), smooth[i].level, hurstExponent);
  });
  return { spectrum_m4, hurstExponent };
}

/** C = C1 √(1 + 3H)/(π q), within 1 % of the exact factor for a power law (from memory, and checked). */
function powerLawInversion(q: number, logLevel: number, hurstExponent: number): number {
  return (exp(logLevel) * Math.sqrt(1 + 3 * hurstExponent)) / (Math.PI * q);
}

/** Least-squares line through the points first…last, each weighted by its modes. */
function weightedLine(x: number[], y: number[], weights: number[], first: number, last: number) {
  let total = 0;
  let centre = 0;
  let level = 0;
  for (let i = first; i <= last; i++) {
    total += weights[i];
    centre += weights[i] * x[i];
    level += weights[i] * y[i];
  }
  centre /= total;
  level /= total;
  let covariance = 0;
  let variance = 0;
  for (let i = first; i <= last; i++) {
    covariance += weights[i] * (x[i] - centre) * (y[i] - level);
    variance += weights[i] * square(x[i] - centre);
  }
  return { centre, level, slope: variance > 0 ? covariance / variance : 0 };
}
