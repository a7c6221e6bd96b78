import {
  type BandMatrix,
  bandIndex,
  bandMatrix,
  bandOfInverse,
  choleskyFactor,
  choleskySolve,
  choleskySolveTransposed,
} from "../cholesky.js";
import { exp, exp10 } from "../elementary/exponential.js";
import { ln } from "../elementary/logarithm.js";
import { cube, square } from "../elementary/power.js";
import { leastBetween } from "../least-over.js";
import type { Random } from "../statistics/random.js";
import { studentTBelow } from "../statistics/student-t.js";
import { cubicBasis, degree, type SplineCurve, slopeWeightsAt } from "./spline-curve.js";

/**
 * A smooth curve through scattered data: cubic B-splines on equal knots with a penalty on high
 * differences of their coefficients (Eilers and Marx, Statistical Science 11, 89, 1996). A penalised spline
 * is a local regression whose window follows the data (Silverman, Ann. Statist. 12, 898, 1984); its strength
 * is found by restricted maximum likelihood (Wood, J. R. Stat. Soc. B 73, 3, 2011).
 */
export interface PenalisedSpline extends SplineCurve {
  /** Residual standard deviation with the effective degrees of freedom taken off. */
  scatter: number;
  effectiveParameters: number;
  /** Gives the coefficients for other ordinates at the same abscissae and strength, in `out` where it is given. */
  refit(y: ArrayLike<number>, out?: Float64Array): Float64Array;
  fitted: Float64Array;
  /** The fit at each strength of the coarse grid, weakest first. */
  strengths: StrengthFit[];
  /** Points less the coefficients of the polynomial that is not penalised, and those of the scatter that was expected. */
  degreesOfFreedom: number;
}

/** The curve at one strength of the penalty. */
export interface StrengthFit {
  log10Strength: number;
  coefficients: Float64Array;
  /** Cholesky factor of Gram matrix + strength × penalty. */
  factor: BandMatrix;
  /** Sum of squares + strength × roughness, and that of the scatter that was expected. */
  penalisedSumOfSquares: number;
  /** −2 ln of the restricted likelihood, but for a constant common to all strengths. */
  deviance: number;
}

/**
 * What is known of the scatter before the points are seen, as if so many degrees of freedom had shown it: the conjugate
 * prior of a normal variance (Gelman and others, Bayesian Data Analysis, 3rd ed., 2013, ch. 3). Few points cannot tell
 * their scatter from a shape between them.
 */
export interface ExpectedScatter {
  scatter: number;
  degreesOfFreedom: number;
}

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
 * @param penaltyOrder which differences are penalised: 3 follows a knee, 4 a peak, 5 scatters less on a round one
 */
export function fitPenalisedSpline(
  x: Float64Array,
  y: Float64Array,
  segments: number,
  penaltyOrder: number,
  expected: ExpectedScatter = { scatter: 0, degreesOfFreedom: 0 },
): PenalisedSpline {
  const n = x.length;
  const low = x[0];
  const knotSpacing = (x[n - 1] - low) / segments;
  const p = segments + degree;
  const degreesOfFreedom = n - penaltyOrder + expected.degreesOfFreedom;
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
  const strengths: StrengthFit[] = [];
  const fitOf = (log10Strength: number): StrengthFit => {
    const strength = exp10(log10Strength);
    const penalisedSumOfSquares =
      solveFor(strength) +
      strength * quadraticForm(penalty, coefficients) +
      expected.degreesOfFreedom * square(expected.scatter) +
      1e-300;
    let logDeterminant = 0;
    for (let i = 0; i < p; i++) logDeterminant += 2 * ln(factor.values[bandIndex(factor, i, i)]);
    const deviance =
      degreesOfFreedom * ln(penalisedSumOfSquares) +
      logDeterminant -
      (p - penaltyOrder) * Math.LN10 * log10Strength;
    return { log10Strength, coefficients, factor, penalisedSumOfSquares, deviance };
  };
  for (let log10Strength = weakest; log10Strength <= strongest; log10Strength++) {
    const fit = fitOf(log10Strength);
    strengths.push({
      ...fit,
      coefficients: coefficients.slice(),
      factor: { ...factor, values: factor.values.slice() },
    });
  }
  // A coarse grid first, because the likelihood can have a shoulder.
  const { log10Strength } = strengths.reduce((best, fit) => (fit.deviance < best.deviance ? fit : best));
  const lambda = exp10(
    leastBetween((log10) => fitOf(log10).deviance, log10Strength - 1, log10Strength + 1, 0.02),
  );
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
    strengths,
    degreesOfFreedom,
  };
}

/** tr(G (L Lᵀ)⁻¹): both are of one band. */
function influenceTrace(gram: BandMatrix, factor: BandMatrix): number {
  const inverse = bandOfInverse(factor);
  let trace = 0;
  for (let i = 0; i < gram.p; i++) {
    for (let j = Math.max(0, i - degree); j <= i; j++) {
      const at = bandIndex(gram, i, j);
      trace += (i === j ? 1 : 2) * gram.values[at] * inverse.values[at];
    }
  }
  return trace;
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

/**
 * Strengths, log10, from which on the curve is a polynomial whatever the strength. Each further decade would count
 * this one curve again, and the draws would believe in it more than the data do.
 */
const strongestDrawn = 2;

/**
 * Draws curves that the data allow: the strength of the penalty by its restricted likelihood, then the scatter, then
 * the coefficients from their normal distribution given both, with the penalty as what is known beforehand (Wahba, J.
 * R. Stat. Soc. B 45, 133, 1983; Nychka, J. Am. Stat. Assoc. 83, 1134, 1988: such intervals hold the smoothing's
 * bias, unlike those of a bootstrap at one strength).
 *
 * @returns writes the coefficients of the next curve into `out`
 */
export function splineDraws(spline: PenalisedSpline, random: Random): (out: Float64Array) => void {
  const { strengths, weights, total } = likelyStrengths(spline);
  const degreesOfFreedom = Math.max(1, spline.degreesOfFreedom);
  return (out) => {
    let left = random.uniform() * total;
    let k = 0;
    while (k < weights.length - 1 && left > weights[k]) left -= weights[k++];
    const { coefficients, factor, penalisedSumOfSquares } = strengths[k];
    const scatter = Math.sqrt(penalisedSumOfSquares / chiSquared(degreesOfFreedom, random));
    for (let i = 0; i < out.length; i++) out[i] = random.normal();
    choleskySolveTransposed(factor, out);
    for (let i = 0; i < out.length; i++) out[i] = coefficients[i] + scatter * out[i];
  };
}

/** The strengths that may be, each with how likely the data make it. */
function likelyStrengths(spline: PenalisedSpline): {
  strengths: StrengthFit[];
  weights: number[];
  total: number;
} {
  const strengths = spline.strengths.filter(({ log10Strength }) => log10Strength <= strongestDrawn);
  const least = Math.min(...strengths.map(({ deviance }) => deviance));
  const weights = strengths.map(({ deviance }) => exp((least - deviance) / 2));
  return { strengths, weights, total: weights.reduce((sum, weight) => sum + weight, 0) };
}

/** Strengths less likely than this beside all others change no probability that matters. */
const leastShare = 1e-5;

/** How probable it is that a curve which the data allow rises at an abscissa, strength by strength. */
export interface Rises {
  /** How likely each strength is; their sum is one, but for those left out. */
  weights: number[];
  /** Writes the probability at each strength into `out`. */
  at(x: number, out: Float64Array): void;
}

/**
 * How probable it is that a curve rises: over all the curves of `splineDraws`, without drawing any. At one strength the
 * slope's distribution is Student's t about the fitted slope.
 */
export function probabilityOfRise(spline: PenalisedSpline): Rises {
  const { strengths, weights, total } = likelyStrengths(spline);
  const degreesOfFreedom = Math.max(1, spline.degreesOfFreedom);
  const likely = strengths.flatMap(({ coefficients, factor, penalisedSumOfSquares }, k) =>
    weights[k] < leastShare * total
      ? []
      : {
          weight: weights[k] / total,
          coefficients,
          inverse: bandOfInverse(factor),
          variance: penalisedSumOfSquares / degreesOfFreedom,
        },
  );
  const slopeWeights = new Float64Array(degree + 1);
  const at = (x: number, out: Float64Array) => {
    const first = slopeWeightsAt(spline, x, slopeWeights);
    for (let k = 0; k < likely.length; k++) {
      const { coefficients, inverse, variance } = likely[k];
      let slope = 0;
      let spread = 0;
      for (let a = 0; a <= degree; a++) {
        slope += slopeWeights[a] * coefficients[first + a];
        for (let b = 0; b <= a; b++) {
          const covariance = inverse.values[bandIndex(inverse, first + a, first + b)];
          spread += (a === b ? 1 : 2) * slopeWeights[a] * slopeWeights[b] * covariance;
        }
      }
      out[k] = studentTBelow(slope / Math.sqrt(variance * spread), degreesOfFreedom);
    }
  };
  return { weights: likely.map(({ weight }) => weight), at };
}

/** A draw of chi-squared, by Wilson and Hilferty's cube root (Proc. Natl. Acad. Sci. USA 17, 684, 1931). */
function chiSquared(degreesOfFreedom: number, random: Random): number {
  const variance = 2 / (9 * degreesOfFreedom);
  return degreesOfFreedom * cube(Math.max(0.3, 1 - variance + Math.sqrt(variance) * random.normal()));
}
