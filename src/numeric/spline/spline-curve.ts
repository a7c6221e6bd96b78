import { power } from "../elementary/power.js";

/** A cubic spline on equal knots: a combination of B-splines. */
export interface SplineCurve {
  /** Where the first knot interval begins. */
  low: number;
  knotSpacing: number;
  /** One more than knot intervals, plus two. */
  coefficients: Float64Array;
}

/** Of the B-splines. */
export const degree = 3;

/** Weights of the coefficients in the curve's value (or derivative of `order` 1 or 2) at x. */
function splineWeights(
  spline: SplineCurve,
  x: number,
  order: 0 | 1 | 2,
): { first: number; weights: Float64Array } {
  const segments = spline.coefficients.length - degree;
  const u = (x - spline.low) / spline.knotSpacing;
  const first = Math.max(0, Math.min(segments - 1, Math.floor(u)));
  const weights = new Float64Array(4);
  if (order === 0) cubicBasis(u - first, weights, 0);
  else cubicBasisDerivative(u - first, weights, order);
  if (order > 0) for (let a = 0; a < 4; a++) weights[a] /= power(spline.knotSpacing, order);
  return { first, weights };
}

/** The curve's value, slope (order 1) or curvature (order 2) at x, for given coefficients. */
export function evaluateSpline(
  spline: SplineCurve,
  x: number,
  order: 0 | 1 | 2 = 0,
  coefficients: Float64Array = spline.coefficients,
): number {
  const { first, weights } = splineWeights(spline, x, order);
  let value = 0;
  for (let a = 0; a < 4; a++) value += weights[a] * coefficients[first + a];
  return value;
}

/** Weights of four coefficients in the curve's slope at x, times the knot spacing. @returns the first of the four */
export function slopeWeightsAt(spline: SplineCurve, x: number, out: Float64Array): number {
  const segment = segmentOf(spline, x);
  cubicBasisDerivative((x - spline.low) / spline.knotSpacing - segment, out, 1);
  return segment;
}

/** The curve's slope at x for given coefficients; the same as `evaluateSpline` of order 1, for inner loops. */
export function splineSlope(spline: SplineCurve, x: number, coefficients: Float64Array): number {
  const segment = segmentOf(spline, x);
  const t = (x - spline.low) / spline.knotSpacing - segment;
  const { constant, linear, quadratic } = slopeParabola(coefficients, segment);
  return (constant + t * (linear + t * quadratic)) / spline.knotSpacing;
}

/**
 * The curve on a grid, for many sets of coefficients: the places of the grid in the segments are looked up once.
 * @param grid m abscissae, ascending
 * @returns writes value and slope at each into two arrays of m
 */
export function splineOnGrid(
  spline: SplineCurve,
  grid: Float64Array,
): (coefficients: Float64Array, value: Float64Array, slope: Float64Array) => void {
  const { low, knotSpacing } = spline;
  const segments = Int32Array.from(grid, (x) => segmentOf(spline, x));
  const t = grid.map((x, i) => (x - low) / knotSpacing - segments[i]);
  return (c, value, slope) => {
    let segment = -1;
    let constant = 0;
    let linear = 0;
    let square = 0;
    let cubic = 0;
    for (let i = 0; i < grid.length; i++) {
      if (segments[i] !== segment) {
        segment = segments[i];
        const a = c[segment + 1] - c[segment];
        const b = c[segment + 2] - c[segment + 1];
        const d = c[segment + 3] - c[segment + 2];
        constant = c[segment + 1] + (b - a) / 6;
        linear = (a + b) / 2;
        square = (b - a) / 2;
        cubic = (a - 2 * b + d) / 6;
      }
      const u = t[i];
      value[i] = constant + u * (linear + u * (square + u * cubic));
      slope[i] = (linear + u * (2 * square + 3 * u * cubic)) / knotSpacing;
    }
  };
}

/**
 * Where the slope falls through zero between `from` (slope not below zero) and `to` (not above it), less than a
 * knot interval apart: in each segment the slope is a parabola, so the root is exact.
 */
export function slopeRoot(spline: SplineCurve, from: number, to: number, coefficients: Float64Array): number {
  const { low, knotSpacing } = spline;
  let segment = segmentOf(spline, from);
  const last = segmentOf(spline, to);
  if (last > segment && splineSlope(spline, low + last * knotSpacing, coefficients) > 0) segment = last;
  const { constant, linear, quadratic } = slopeParabola(coefficients, segment);
  const root = Math.sqrt(Math.max(0, linear * linear - 4 * quadratic * constant));
  // The falling one of the two roots, by the form of its formula that cancels nothing.
  const t = linear > 0 ? (-linear - root) / (2 * quadratic) : (2 * constant) / (root - linear);
  return Math.min(to, Math.max(from, low + (segment + (t || 0)) * knotSpacing));
}

function segmentOf({ low, knotSpacing, coefficients }: SplineCurve, x: number): number {
  const segments = coefficients.length - degree;
  return Math.max(0, Math.min(segments - 1, Math.floor((x - low) / knotSpacing)));
}

/** Slope times knot spacing in a segment, as constant + linear t + quadratic t², t from 0 to 1. */
function slopeParabola(c: Float64Array, segment: number) {
  const a = c[segment + 1] - c[segment];
  const b = c[segment + 2] - c[segment + 1];
  const d = c[segment + 3] - c[segment + 2];
  return { constant: (a + b) / 2, linear: b - a, quadratic: (a - 2 * b + d) / 2 };
}

/** The four B-splines that are not zero in a knot interval, at t (0 to 1) of its length, in `out` from `at` on. */
export function cubicBasis(t: number, out: Float64Array, at: number): void {
  const r = 1 - t;
  out[at] = (r * r * r) / 6;
  out[at + 1] = (3 * t * t * t - 6 * t * t + 4) / 6;
  out[at + 2] = (-3 * t * t * t + 3 * t * t + 3 * t + 1) / 6;
  out[at + 3] = (t * t * t) / 6;
}

function cubicBasisDerivative(t: number, out: Float64Array, order: 1 | 2): void {
  const r = 1 - t;
  const values =
    order === 1
      ? [(-r * r) / 2, (3 * t * t - 4 * t) / 2, (-3 * t * t + 2 * t + 1) / 2, (t * t) / 2]
      : [r, 3 * t - 2, -3 * t + 1, t];
  out.set(values);
}
