import { choleskyFactor, choleskyInverse, choleskySolve } from "./cholesky.js";

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
  /** Gives the coefficients for other ordinates at the same abscissae and strength. */
  refit(y: ArrayLike<number>): Float64Array;
  fitted: Float64Array;
}

const degree = 3;

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
  const gram = new Float64Array(p * p);
  for (let i = 0; i < n; i++) {
    for (let a = 0; a < 4; a++) {
      for (let b = 0; b < 4; b++) {
        gram[(firstOf[i] + a) * p + firstOf[i] + b] += basis[i * 4 + a] * basis[i * 4 + b];
      }
    }
  }
  const penalty = differencePenalty(p, penaltyOrder);
  const project = (ordinates: ArrayLike<number>) => {
    const right = new Float64Array(p);
    for (let i = 0; i < n; i++) {
      for (let a = 0; a < 4; a++) right[firstOf[i] + a] += basis[i * 4 + a] * ordinates[i];
    }
    return right;
  };
  const fitAt = (coefficients: Float64Array) => {
    const fitted = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      for (let a = 0; a < 4; a++) fitted[i] += basis[i * 4 + a] * coefficients[firstOf[i] + a];
    }
    return fitted;
  };
  const right = project(y);
  const solveFor = (lambda: number) => {
    const matrix = new Float64Array(p * p);
    for (let i = 0; i < matrix.length; i++) matrix[i] = gram[i] + lambda * penalty[i];
    // Knot intervals without data leave the Gram matrix singular in directions the penalty hardly sees.
    for (let i = 0; i < p; i++) matrix[i * p + i] += 1e-10;
    const factor = choleskyFactor(matrix, p);
    return { factor, coefficients: choleskySolve(factor, p, right) };
  };
  const restrictedLikelihood = (lambda: number) => {
    const { factor, coefficients } = solveFor(lambda);
    const fitted = fitAt(coefficients);
    let sumOfSquares = 0;
    for (let i = 0; i < n; i++) sumOfSquares += (y[i] - fitted[i]) ** 2;
    const roughness = quadraticForm(penalty, coefficients);
    let logDeterminant = 0;
    for (let i = 0; i < p; i++) logDeterminant += 2 * Math.log(factor[i * p + i]);
    return (
      (n - penaltyOrder) * Math.log(sumOfSquares + lambda * roughness + 1e-300) +
      logDeterminant -
      (p - penaltyOrder) * Math.log(lambda)
    );
  };
  const lambda = 10 ** minimise((log) => restrictedLikelihood(10 ** log), -6, 8);
  const { factor, coefficients } = solveFor(lambda);
  const inverse = choleskyInverse(factor, p);
  let effectiveParameters = 0;
  for (let i = 0; i < gram.length; i++) effectiveParameters += gram[i] * inverse[i];
  const fitted = fitAt(coefficients);
  let sumOfSquares = 0;
  for (let i = 0; i < n; i++) sumOfSquares += (y[i] - fitted[i]) ** 2;
  return {
    low,
    knotSpacing,
    coefficients,
    scatter: Math.sqrt(sumOfSquares / Math.max(n - effectiveParameters, 1)),
    effectiveParameters,
    refit: (ordinates) => choleskySolve(factor, p, project(ordinates)),
    fitted,
  };
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
  if (order > 0) for (let a = 0; a < 4; a++) weights[a] /= spline.knotSpacing ** order;
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

function differencePenalty(p: number, order: number): Float64Array {
  const penalty = new Float64Array(p * p);
  let row = [1];
  for (let k = 0; k < order; k++) row = [...row, 0].map((value, i) => value - (i > 0 ? row[i - 1] : 0));
  for (let k = 0; k + order < p; k++) {
    for (let a = 0; a <= order; a++) {
      for (let b = 0; b <= order; b++) penalty[(k + a) * p + k + b] += row[a] * row[b];
    }
  }
  return penalty;
}

function quadraticForm(matrix: Float64Array, vector: Float64Array): number {
  const p = vector.length;
  let sum = 0;
  for (let i = 0; i < p; i++) for (let j = 0; j < p; j++) sum += matrix[i * p + j] * vector[i] * vector[j];
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
  for (let i = 0; i < 10; i++) {
    const c = b - ratio * (b - a);
    const d = a + ratio * (b - a);
    if (f(c) < f(d)) b = d;
    else a = c;
  }
  return (a + b) / 2;
}
