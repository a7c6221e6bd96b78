import { square } from "../elementary/power.js";
import {
  evaluateSpline,
  fitPenalisedSpline,
  type PenalisedSpline,
  slopeRoot,
  splineSlope,
} from "./penalised-spline.js";
import { quantile } from "./quantile.js";
import type { Random } from "./random.js";

/** A maximum found by penalised regression, with its 95 % interval. */
export interface PeakEstimate {
  position: number;
  low: number;
  high: number;
  /** Value of the regression at the maximum, in the ordinate's own unit (log where the ordinate is a log). */
  value: number;
}

/** What kind of maximum is expected. */
export interface PeakShape {
  /** See `fitPenalisedSpline`. */
  penaltyOrder: number;
  /** The regression sees the curve down to this far below its maximum, as a natural log: the peak, not the glass. */
  windowDepth: number;
}

/** Found on sweeps of known spectra (tests/fit/glass-transition.test.ts): least scatter at honest coverage. */
export const roundPeak: PeakShape = { penaltyOrder: 5, windowDepth: 1 };
export const lopsidedPeak: PeakShape = { penaltyOrder: 4, windowDepth: 1.2 };

const fewestPoints = 9;
const padding = 3;
/** Enough for a single peak, and few enough that rounding does not decide on the strength of the penalty. */
const mostSegments = 20;

/**
 * Place of the maximum near `index`, by penalised regression of `y` (a natural log) on the real, uneven `x`,
 * with a residual bootstrap for its interval (Efron and Tibshirani, An Introduction to the Bootstrap, ch. 9).
 *
 * @param x n abscissae, ascending
 * @param y n ordinates, natural log of a positive quantity
 * @param index the sample at or next to the maximum
 * @param shape `roundPeak` for tan δ, `lopsidedPeak` for a loss modulus
 * @param noise standard deviation of y's scatter over the sweep, from `scatterAboutTrend`
 * @returns null where the data near `index` have no maximum of their own
 */
export function estimatePeak(
  x: Float64Array,
  y: Float64Array,
  index: number,
  noise: number,
  shape: PeakShape,
  random: Random,
  draws: number,
): PeakEstimate | null {
  const { first, end } = peakWindow(y, index, shape.windowDepth);
  const xs = x.subarray(first, end);
  const ys = y.subarray(first, end);
  const n = xs.length;
  if (n < 6 || xs[n - 1] <= xs[0]) return null;
  const spline = fitPenalisedSpline(xs, ys, Math.min(mostSegments, Math.max(3, n - 1)), shape.penaltyOrder);
  const position = highestPoint(spline, spline.coefficients, xs[0], xs[n - 1], x[index]);
  if (position === null) return null;

  const residuals = new Float64Array(n);
  let sumOfSquares = 0;
  for (let i = 0; i < n; i++) {
    residuals[i] = ys[i] - spline.fitted[i];
    sumOfSquares += square(residuals[i]);
  }
  // Residuals are smaller than the errors that made them; they are brought to the errors' scatter.
  const inflation = sumOfSquares > 0 ? Math.max(spline.scatter, noise) / Math.sqrt(sumOfSquares / n) : 0;
  const deviations = new Float64Array(draws);
  const resampled = new Float64Array(n);
  const coefficients = new Float64Array(spline.coefficients.length);
  let kept = 0;
  for (let d = 0; d < draws; d++) {
    for (let i = 0; i < n; i++) resampled[i] = spline.fitted[i] + inflation * residuals[random.index(n)];
    spline.refit(resampled, coefficients);
    const drawn = highestPoint(spline, coefficients, xs[0], xs[n - 1], position);
    if (drawn !== null) deviations[kept++] = drawn - position;
  }
  if (kept < draws / 2) return null;
  const sorted = deviations.subarray(0, kept).sort();
  return {
    position,
    low: position + Math.min(0, quantile(sorted, 0.025)),
    high: position + Math.max(0, quantile(sorted, 0.975)),
    value: evaluateSpline(spline, position),
  };
}

function peakWindow(y: Float64Array, index: number, windowDepth: number): { first: number; end: number } {
  const floor = y[index] - windowDepth;
  let first = index;
  let last = index;
  while (first > 0 && y[first - 1] >= floor) first--;
  while (last < y.length - 1 && y[last + 1] >= floor) last++;
  first = Math.max(0, Math.min(first - padding, index - (fewestPoints >> 1)));
  last = Math.min(y.length - 1, Math.max(last + padding, index + (fewestPoints >> 1)));
  return { first, end: last + 1 };
}

/** The local maximum next to `start`; null where the curve climbs out of the data. */
function highestPoint(
  spline: PenalisedSpline,
  coefficients: Float64Array,
  low: number,
  high: number,
  start: number,
): number | null {
  const stride = spline.knotSpacing / 2;
  const uphill = splineSlope(spline, start, coefficients) > 0 ? 1 : -1;
  let a = start;
  let b = start + uphill * stride;
  while (splineSlope(spline, b, coefficients) * uphill > 0) {
    a = b;
    b += uphill * stride;
    if (b < low || b > high) return null;
  }
  return slopeRoot(spline, Math.min(a, b), Math.max(a, b), coefficients);
}
