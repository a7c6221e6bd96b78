import { exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";

/**
 * What a generalised Maxwell fit works on: points of complex modulus and the weight of each residual. A
 * weight is 1/modulus for relative residuals, and 0 where the value is missing.
 */
export interface ModulusPoints {
  angularFrequency_rad_s: Float64Array;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
  storageWeight: Float64Array;
  lossWeight: Float64Array;
  /** Reduced frequency in rad/s from which on the points were measured in the glass; missing: none were. */
  glassFrom_rad_s?: number;
}

/**
 * Weights for relative residuals of both moduli; values that are not positive and finite get 0.
 * @param values n moduli in Pa
 * @returns n weights in 1/Pa
 */
export function relativeWeights(values: Float64Array): Float64Array {
  return values.map((value) => (value > 0 && Number.isFinite(value) ? 1 / value : 0));
}

/**
 * Relaxation times spaced evenly in log τ, from 1/ω of the fastest point to that of the slowest, `margin`
 * decades further at each end, since a mode beyond the window still shows its flank inside it.
 * @returns s, ascending, at least two
 */
export function logSpacedTimes(
  lowest_rad_s: number,
  highest_rad_s: number,
  modesPerDecade: number,
  margin = 1,
): Float64Array {
  return evenTimes(-log10(highest_rad_s) - margin, -log10(lowest_rad_s) + margin, modesPerDecade);
}

function evenTimes(first: number, last: number, modesPerDecade: number): Float64Array {
  const count = Math.max(2, Math.ceil((last - first) * modesPerDecade) + 1);
  const times_s = new Float64Array(count);
  for (let j = 0; j < count; j++) times_s[j] = exp10(first + ((last - first) * j) / (count - 1));
  return times_s;
}

/** Two modes a decade draw the glass: by the ripple of `smoothModesPerDecade` its loss modulus is even to 0.7 %, its storage modulus far better. */
const glassModesPerDecade = 2;
/** So far inside the glass its loss modulus has left the flank of the transition. */
const intoGlass_decades = 2;

/**
 * The times of `logSpacedTimes` over points; those that only the glass sees stand further apart. By the tangent of its law a
 * sweep fills thirty decades and more there, on which nothing is sharper than a kelvin.
 */
export function relaxationTimes(points: ModulusPoints, modesPerDecade: number, margin = 1): Float64Array {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = 0;
  for (const w of points.angularFrequency_rad_s) {
    lowest = Math.min(lowest, w);
    highest = Math.max(highest, w);
  }
  const all = () => logSpacedTimes(lowest, highest, modesPerDecade, margin);
  if (points.glassFrom_rad_s === undefined || modesPerDecade <= glassModesPerDecade) return all();
  const first = -log10(highest) - margin;
  const border = -log10(points.glassFrom_rad_s) - intoGlass_decades;
  if (border < first + 1) return all();
  const inGlass = evenTimes(first, border, glassModesPerDecade);
  const others = evenTimes(border, -log10(lowest) + margin, modesPerDecade);
  return Float64Array.of(...inGlass.subarray(0, -1), ...others);
}

/**
 * Writes the weighted kernel column by column: rows 0 … n−1 hold w′ω²τ²/(1+ω²τ²), rows n … 2n−1 hold
 * w″ωτ/(1+ω²τ²) (science of the generalised Maxwell model: Ferry, 3rd ed., ch. 3); one column a relaxation
 * time, and as the last column the equilibrium modulus (w′ and 0).
 * @param angularFrequency_rad_s n frequencies; both weights n each, in 1/Pa
 * @param times_s m times
 * @param out 2n × (m + 1) numbers, column by column
 */
export function maxwellKernel(
  angularFrequency_rad_s: Float64Array,
  storageWeight: Float64Array,
  lossWeight: Float64Array,
  times_s: Float64Array,
  out: Float64Array,
): void {
  const n = angularFrequency_rad_s.length;
  const rows = 2 * n;
  for (let j = 0; j < times_s.length; j++) {
    const time_s = times_s[j];
    const start = j * rows;
    for (let i = 0; i < n; i++) {
      const x = angularFrequency_rad_s[i] * time_s;
      const loss = 1 / (x + 1 / x);
      out[start + i] = storageWeight[i] * x * loss;
      out[start + n + i] = lossWeight[i] * loss;
    }
  }
  const start = times_s.length * rows;
  out.set(storageWeight, start);
  out.fill(0, start + n, start + rows);
}

/**
 * The weighted data that the kernel's rows stand for.
 * @returns 2n numbers without unit: storage first, then loss; 0 where a weight is
 */
export function weightedModuli(points: ModulusPoints): Float64Array {
  const n = points.angularFrequency_rad_s.length;
  const out = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) {
    out[i] = points.storageWeight[i] === 0 ? 0 : points.storageWeight[i] * points.storageModulus_Pa[i];
    out[n + i] = points.lossWeight[i] === 0 ? 0 : points.lossWeight[i] * points.lossModulus_Pa[i];
  }
  return out;
}
