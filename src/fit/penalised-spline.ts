import { exp10 } from "../elementary/exponential.js";
import { ln } from "../elementary/logarithm.js";
import { power, square } from "../elementary/power.js";
import { type BandMatrix, bandIndex, bandMatrix, choleskyFactor, choleskySolve } from "./band-cholesky.js";

/**
 * A smooth curve through scattered data: cubic B-splines on equal knots with a penalty on high
 * differences of their coefficients (Eilers and Marx, Statistical Science 11, 89, 1996). A penalised spline
 * is a local regression whose window follows the data (Silverman, Ann. Statist. 12, 898, 1984); its strength
 * is found by restricted maximum likelihood (Wood, J. R. Stat. Soc. B 73, 3, 2011).
 */
export interface PenalisedSpline {
  low: number;
  knotSpacing: number;
  coefficients: Float64Array;
  /** Residual standard deviation with the effective degrees of freedom taken off. */
  scatter: number;
  effectiveParameters: number;
  /** Gives the coefficients for other ordinates at the same abscissae and strength, in `out` where it is given. */
  refit(y: ArrayLike<number>, out?: Float64Array): Float64Array;
  fitted: Float64Array;
}

const degree = 3;
/**
 * Strengths that are tried, log10, with one decade more at each end. On 20 segments the curve is a polynomial of
 * the order that is not penalised long before the last; from 1e8 on the likelihood's own rounding (0.05 on 40
 * segments) is larger than the differences that it is to decide by.
 */
const weakest = -6;
const strongest = 6;

/**
 * @param x n abscissae, ascending, n ≥ 6
 * @param y n ordinates
 * @param segments number of knot intervals, at least `penaltyOrder` − 2
 * @param penaltyOrder which differences are penalised: 4 follows a lopsided peak, 5 scatters less on a round one
 */
export function fitPenalisedSpline(
  x: Float64Array,
  y: Float64Array,
  segments: number,
  penaltyOrder: number,
): PenalisedSpline {
  const n = x.length;
  const low = x[0];
  const knotSpacing = (x[n - 1] - low) / segments;
  const p = segments + degree;
  const firstOf = new Int32Array(n);
  const basis = new Float64Array(n * (degree + 1));
  for (let i = 0; i < n; i++) {
    const segment = Math.max(0, Math.min(segments - 1, Math.floor((x[i] - low) / knotSpacing)));
    firstOf[i] = segment;
    cubicBasis((x[i] - low) / knotSpacing - segment, basis, i * 4);
  }
  const band = Math.max(degree, penaltyOrder);
  const gram = bandMatrix(p, band);
  for (let i = 0; i < n; i++) {
    for (let a = 0; a < 4; a++) {
      for (let b = 0; b <= a; b++) {
        gram.values[bandIndex(gram, firstOf[i] + a, firstOf[i] + b)] += basis[i * 4 + a] * basis[i * 4 + b];
      }
    }
  }
  const penalty = differencePenalty(p, penaltyOrder, band);
  const project = (ordinates: ArrayLike<number>, out: Float64Array) => {
    out.fill(0);
    for (let i = 0; i < n; i++) {
      const at = firstOf[i];
      for (let a = 0; a < 4; a++) out[at + a] += basis[i * 4 + a] * ordinates[i];
    }
  };
  const fitAt = (coefficients: Float64Array, out: Float64Array) => {
    for (let i = 0; i < n; i++) {
      const at = firstOf[i];
      let sum = 0;
      for (let a = 0; a < 4; a++) sum += basis[i * 4 + a] * coefficients[at + a];
      out[i] = sum;
    }
  };
  const right = new Float64Array(p);
  project(y, right);
  const factor = bandMatrix(p, band);
  const coefficients = new Float64Array(p);
  const fitted = new Float64Array(n);
  /** Leaves factor, coefficients and fitted as they are at this strength. @returns the sum of squares */
  const solveFor = (lambda: number) => {
    for (let i = 0; i < factor.values.length; i++) {
      factor.values[i] = gram.values[i] + lambda * penalty.values[i];
    }
    // Knot intervals without data leave the Gram matrix singular in directions the penalty hardly sees.
    for (let i = 0; i < p; i++) factor.values[bandIndex(factor, i, i)] += 1e-10;
    choleskyFactor(factor);
    coefficients.set(right);
    choleskySolve(factor, coefficients);
    fitAt(coefficients, fitted);
    let sumOfSquares = 0;
    for (let i = 0; i < n; i++) sumOfSquares += square(y[i] - fitted[i]);
    return sumOfSquares;
  };
  const restrictedLikelihood = (lambda: number) => {
    const sumOfSquares = solveFor(lambda);
    const roughness = quadraticForm(penalty, coefficients);
    let logDeterminant = 0;
    for (let i = 0; i < p; i++) logDeterminant += 2 * ln(factor.values[bandIndex(factor, i, i)]);
    return (
      (n - penaltyOrder) * ln(sumOfSquares + lambda * roughness + 1e-300) +
      logDeterminant -
      (p - penaltyOrder) * ln(lambda)
    );
  };
  const lambda = exp10(minimise((log) => restrictedLikelihood(exp10(log)), weakest, strongest));
  const sumOfSquares = solveFor(lambda);
  const effectiveParameters = influenceTrace(gram, factor);
  return {
    low,
    knotSpacing,
    coefficients,
    scatter: Math.sqrt(sumOfSquares / Math.max(n - effectiveParameters, 1)),
    effectiveParameters,
    refit: (ordinates, out = new Float64Array(p)) => {
      project(ordinates, out);
      choleskySolve(factor, out);
      return out;
    },
    fitted,
  };
}

/** tr(G (L Lᵀ)⁻¹), column by column of the inverse. */
function influenceTrace(gram: BandMatrix, factor: BandMatrix): number {
  const { p } = gram;
  const column = new Float64Array(p);
  let trace = 0;
  for (let j = 0; j < p; j++) {
    column.fill(0);
    column[j] = 1;
    choleskySolve(factor, column);
    for (let i = Math.max(0, j - degree); i <= Math.min(p - 1, j + degree); i++) {
      trace += gram.values[bandIndex(gram, Math.max(i, j), Math.min(i, j))] * column[i];
    }
  }
  return trace;
}

/** Weights of the coefficients in the curve's value (or derivative of `order` 1 or 2) at x. */
export function splineWeights(
  spline: PenalisedSpline,
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
  spline: PenalisedSpline,
  x: number,
  order: 0 | 1 | 2 = 0,
  coefficients: Float64Array = spline.coefficients,
): number {
  const { first, weights } = splineWeights(spline, x, order);
  let value = 0;
  for (let a = 0; a < 4; a++) value += weights[a] * coefficients[first + a];
  return value;
}

/** The curve's slope at x for given coefficients; the same as `evaluateSpline` of order 1, for inner loops. */
export function splineSlope(spline: PenalisedSpline, x: number, coefficients: Float64Array): number {
  const segment = segmentOf(spline, x);
  const t = (x - spline.low) / spline.knotSpacing - segment;
  const { constant, linear, quadratic } = slopeParabola(coefficients, segment);
  return (constant + t * (linear + t * quadratic)) / spline.knotSpacing;
}

/**
 * Where the slope falls through zero between `from` (slope not below zero) and `to` (not above it), less than a
 * knot interval apart: in each segment the slope is a parabola, so the root is exact.
 */
export function slopeRoot(
  spline: PenalisedSpline,
  from: number,
  to: number,
  coefficients: Float64Array,
): number {
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

function segmentOf({ low, knotSpacing, coefficients }: PenalisedSpline, x: number): number {
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

function cubicBasis(t: number, out: Float64Array, at: number): void {
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

function differencePenalty(p: number, order: number, band: number): BandMatrix {
  const penalty = bandMatrix(p, band);
  let row = [1];
  for (let k = 0; k < order; k++) row = [...row, 0].map((value, i) => value - (i > 0 ? row[i - 1] : 0));
  for (let k = 0; k + order < p; k++) {
    for (let a = 0; a <= order; a++) {
      for (let b = 0; b <= a; b++) penalty.values[bandIndex(penalty, k + a, k + b)] += row[a] * row[b];
    }
  }
  return penalty;
}

function quadraticForm(matrix: BandMatrix, vector: Float64Array): number {
  const { p, band, values } = matrix;
  let sum = 0;
  for (let i = 0; i < p; i++) {
    for (let j = Math.max(0, i - band); j <= Math.min(p - 1, i + band); j++) {
      sum += values[Math.max(i, j) * band + band + Math.min(i, j)] * vector[i] * vector[j];
    }
  }
  return sum;
}

/** Coarse grid, then golden section, because the likelihood can have a shoulder. */
function minimise(f: (x: number) => number, low: number, high: number): number {
  let best = low;
  let bestValue = Number.POSITIVE_INFINITY;
  for (let x = low; x <= high; x += 1) {
    const value = f(x);
    if (value < bestValue) {
      bestValue = value;
      best = x;
    }
  }
  let a = best - 1;
  let b = best + 1;
  const ratio = (Math.sqrt(5) - 1) / 2;
  let c = b - ratio * (b - a);
  let d = a + ratio * (b - a);
  let atC = f(c);
  let atD = f(d);
  for (let i = 1; i < 10; i++) {
    if (atC < atD) {
      b = d;
      d = c;
      atD = atC;
      c = b - ratio * (b - a);
      atC = f(c);
    } else {
      a = c;
      c = d;
      atC = atD;
      d = a + ratio * (b - a);
      atD = f(d);
    }
  }
  if (atC < atD) b = d;
  else a = c;
  return (a + b) / 2;
}
