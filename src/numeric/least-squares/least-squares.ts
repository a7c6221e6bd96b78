import { square } from "../elementary/power.js";
import { factorise, solveUpper } from "./householder.js";
import { columnNorm, predictedDecrease, stepWithin } from "./trust-step.js";

export interface LeastSquaresProblem {
  /** How many residuals there are. */
  count: number;
  start: ArrayLike<number>;
  /** Writes the residuals (already weighted) at the parameters. A value that is not finite rejects the step. */
  residuals: (parameters: Float64Array, out: Float64Array) => void;
  /**
   * Writes d residual_i / d parameter_j at `out[j * count + i]`. Left out: central differences, refined by
   * Richardson extrapolation close to the solution.
   */
  jacobian?: (parameters: Float64Array, out: Float64Array) => void;
  lower?: ArrayLike<number>;
  upper?: ArrayLike<number>;
  /** Default 1000. */
  maxIterations?: number;
  /** Stops when no parameter moves by more than this fraction. Default: at the last digits. */
  tolerance?: number;
}

export interface LeastSquaresResult {
  parameters: Float64Array;
  /** σ √(diagonal of (JᵀJ)⁻¹), σ² = rss / degreesOfFreedom; NaN where there are none or the data do not tell. */
  standardErrors: Float64Array;
  /** σ² (JᵀJ)⁻¹, row by row, n × n. */
  covariance: Float64Array;
  residualSumOfSquares: number;
  degreesOfFreedom: number;
  iterations: number;
  /** False where the iterations ran out first. */
  converged: boolean;
}

/**
 * Nonlinear least squares by the Levenberg–Marquardt method in the scaled form of Moré (Numerical Analysis,
 * Lecture Notes in Mathematics 630, 105, 1978), each step from a QR factorisation and not from the normal
 * equations, inside a trust radius. Bounds are kept by holding a parameter at its
 * bound while the sum of squares pulls outwards. tests/outside/fit-nist.test.ts shows what
 * ml-levenberg-marquardt (unscaled damping, normal equations) does on the same problems.
 *
 * @example leastSquares({ count: 3, start: [1], residuals: (p, out) => { for (let i = 0; i < 3; i++) out[i] = p[0] * i - 2 * i; } }).parameters // [2]
 */
export function leastSquares(problem: LeastSquaresProblem): LeastSquaresResult {
  checkProblem(problem);
  let best: LeastSquaresResult | null = null;
  // A first step that is too bold can throw a parameter out to where nothing depends on it. Such an end shows
  // in a Jacobian of lower rank; then the same start is tried again with shorter first steps.
  for (const boldness of [100, 1, 0.1]) {
    const result = descend(problem, boldness);
    if (best === null || result.residualSumOfSquares < best.residualSumOfSquares) best = result;
    if (result.converged && result.standardErrors.every(Number.isFinite)) break;
  }
  return best!;
}

/** The tolerance at which the last digits are polished. */
const lastDigits = 1e-12;

/** `boldness` is the first trust radius as a multiple of the scaled length of the start. */
function descend(problem: LeastSquaresProblem, boldness: number): LeastSquaresResult {
  const { count } = problem;
  const size = problem.start.length;
  const tolerance = problem.tolerance ?? lastDigits;
  const maxIterations = problem.maxIterations ?? 1000;
  let parameters = Float64Array.from(problem.start);
  clip(parameters, problem);
  let residuals = new Float64Array(count);
  problem.residuals(parameters, residuals);
  let rss = sumOfSquares(residuals);
  if (!Number.isFinite(rss)) {
    throw new RangeError("The residuals at the start are not finite; start where the model has a value.");
  }
  const jacobian = new Float64Array(size * count);
  const work = new Float64Array((size + 1) * count);
  const scale = new Float64Array(size);
  let trial = new Float64Array(size);
  let trialResiduals = new Float64Array(count);
  let radius = 0;
  let iterations = 0;
  let converged = rss === 0;
  // Differences are coarse on the way and fine close to the solution.
  let fine = problem.jacobian !== undefined;

  while (!converged && iterations < maxIterations) {
    iterations++;
    evaluateJacobian(problem, parameters, residuals, jacobian, fine);
    const free = freeParameters(problem, parameters, residuals, jacobian);
    for (const j of free) scale[j] = Math.max(scale[j], columnNorm(jacobian, j, count), 1e-300);
    if (radius === 0) {
      let length = 0;
      for (const j of free) length += square(scale[j] * parameters[j]);
      radius = boldness * (Math.sqrt(length) || 1);
    }
    const rhs = factoriseJacobian(jacobian, residuals, free, work);
    for (let settled = false; !settled; ) {
      const { step, length } = stepWithin(work, count, free, scale, radius, rhs);
      trial.set(parameters);
      for (let k = 0; k < free.length; k++) trial[free[k]] += step[k];
      clip(trial, problem);
      problem.residuals(trial, trialResiduals);
      const trialRss = sumOfSquares(trialResiduals);
      const gain = (rss - trialRss) / predictedDecrease(work, count, free, rhs, step);
      const moved = largestMove(parameters, trial);
      // The radius of MINPACK: a quarter where the linear model fails, twice the step where it holds.
      if (!(gain > 0.25)) radius = Math.min(radius, length) * (gain > -1 ? 0.5 : 0.1);
      else if (gain > 0.75) radius = 2 * length;
      if (trialRss < rss) {
        [parameters, trial] = [trial, parameters];
        [residuals, trialResiduals] = [trialResiduals, residuals];
        rss = trialRss;
        settled = true;
        converged = rss === 0 || (fine && moved <= tolerance);
        if (moved < 1e-6) fine = true;
      } else if (moved <= tolerance || !(length > 0)) {
        // No smaller sum of squares this way: the end, or once more with the better derivative.
        settled = true;
        converged = fine;
        fine = true;
        radius = 0;
      }
    }
  }
  if (tolerance <= lastDigits) {
    polish(problem, parameters, residuals, jacobian, work);
    rss = sumOfSquares(residuals);
  }
  return summarise(problem, parameters, rss, iterations, converged);
}

/**
 * Rounding hides a fall of the sum of squares long before the parameters stop improving. So the last digits
 * come from undamped Gauss–Newton steps, kept while the gradient (in the metric of the Jacobian) falls.
 */
function polish(
  problem: LeastSquaresProblem,
  parameters: Float64Array,
  residuals: Float64Array,
  jacobian: Float64Array,
  work: Float64Array,
): void {
  const { count } = problem;
  const before = parameters.slice();
  const trialResiduals = new Float64Array(count);
  const limit = sumOfSquares(residuals) * (1 + 1e-9);
  let slope = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 5; round++) {
    evaluateJacobian(problem, parameters, residuals, jacobian, true);
    const free = freeParameters(problem, parameters, residuals, jacobian);
    const rhs = factoriseJacobian(jacobian, residuals, free, work);
    let projected = 0;
    for (let k = 0; k < Math.min(free.length, count); k++) projected += rhs[k] * rhs[k];
    if (!(projected < slope)) {
      parameters.set(before);
      problem.residuals(parameters, residuals);
      return;
    }
    slope = projected;
    before.set(parameters);
    const step = new Float64Array(free.length);
    solveUpper(work, count, free.length, rhs, step);
    if (!step.every(Number.isFinite)) return;
    for (let k = 0; k < free.length; k++) parameters[free[k]] += step[k];
    clip(parameters, problem);
    problem.residuals(parameters, trialResiduals);
    if (!(sumOfSquares(trialResiduals) <= limit)) {
      parameters.set(before);
      return;
    }
    residuals.set(trialResiduals);
  }
}

/** QR of the free columns; returns Qᵀ times the negative residuals, a view into `work`. */
function factoriseJacobian(
  jacobian: Float64Array,
  residuals: Float64Array,
  free: number[],
  work: Float64Array,
): Float64Array {
  const count = residuals.length;
  for (let k = 0; k < free.length; k++) {
    work.set(jacobian.subarray(free[k] * count, (free[k] + 1) * count), k * count);
  }
  const rhs = work.subarray(free.length * count, (free.length + 1) * count);
  for (let i = 0; i < count; i++) rhs[i] = -residuals[i];
  factorise(work, count, free.length, 1);
  return rhs;
}

function checkProblem({ count, start, lower, upper }: LeastSquaresProblem): void {
  if (start.length === 0 || count < 1) throw new RangeError("Nothing to fit: no parameter or no residual.");
  for (let j = 0; j < start.length; j++) {
    if (!Number.isFinite(start[j]))
      throw new RangeError(`start[${j}] is ${start[j]}; expected a finite number.`);
    if (lower && upper && lower[j] > upper[j]) {
      throw new RangeError(`lower[${j}] = ${lower[j]} lies above upper[${j}] = ${upper[j]}.`);
    }
  }
}

function clip(parameters: Float64Array, { lower, upper }: LeastSquaresProblem): void {
  for (let j = 0; j < parameters.length; j++) {
    if (lower && parameters[j] < lower[j]) parameters[j] = lower[j];
    if (upper && parameters[j] > upper[j]) parameters[j] = upper[j];
  }
}

function sumOfSquares(values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] * values[i];
  return sum;
}

/** Largest relative move of a parameter. */
function largestMove(from: Float64Array, to: Float64Array): number {
  let largest = 0;
  for (let j = 0; j < from.length; j++) {
    const size = Math.max(Math.abs(from[j]), Math.abs(to[j]));
    if (size > 0) largest = Math.max(largest, Math.abs(to[j] - from[j]) / size);
  }
  return largest;
}

/** A parameter at its bound is held while a step along the gradient would leave the bounds. */
function freeParameters(
  { lower, upper, count }: LeastSquaresProblem,
  parameters: Float64Array,
  residuals: Float64Array,
  jacobian: Float64Array,
): number[] {
  const free: number[] = [];
  for (let j = 0; j < parameters.length; j++) {
    let slope = 0;
    for (let i = 0; i < count; i++) slope += jacobian[j * count + i] * residuals[i];
    const held =
      (lower !== undefined && parameters[j] <= lower[j] && slope > 0) ||
      (upper !== undefined && parameters[j] >= upper[j] && slope < 0);
    if (!held) free.push(j);
  }
  return free;
}

function summarise(
  problem: LeastSquaresProblem,
  parameters: Float64Array,
  rss: number,
  iterations: number,
  converged: boolean,
): LeastSquaresResult {
  const { count } = problem;
  const size = parameters.length;
  const columns = new Float64Array(size * count);
  const residuals = new Float64Array(count);
  problem.residuals(parameters, residuals);
  evaluateJacobian(problem, parameters, residuals, columns, true);
  factorise(columns, count, size, 0);
  const degreesOfFreedom = Math.max(0, count - size);
  const variance = degreesOfFreedom > 0 ? rss / degreesOfFreedom : Number.NaN;
  const covariance = new Float64Array(size * size);
  // Rows of R⁻¹: (JᵀJ)⁻¹ = R⁻¹ R⁻ᵀ.
  const inverse: Float64Array[] = [];
  const unit = new Float64Array(size);
  for (let j = 0; j < size; j++) {
    unit.fill(0);
    unit[j] = 1;
    const column = new Float64Array(size);
    if (j >= count || isDependent(columns, j, count)) column.fill(Number.NaN);
    else solveUpper(columns, count, size, unit, column);
    inverse.push(column);
  }
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < size; b++) {
      let sum = 0;
      for (let k = 0; k < size; k++) sum += inverse[k][a] * inverse[k][b];
      covariance[a * size + b] = sum * variance;
    }
  }
  const standardErrors = Float64Array.from({ length: size }, (_, j) => Math.sqrt(covariance[j * size + j]));
  return {
    parameters,
    standardErrors,
    covariance,
    residualSumOfSquares: rss,
    degreesOfFreedom,
    iterations,
    converged,
  };
}

/** True where what is left of a column after the earlier ones is rounding. */
function isDependent(columns: Float64Array, column: number, rows: number): boolean {
  let norm = 0;
  for (let i = 0; i <= column; i++) norm += square(columns[column * rows + i]);
  return !(Math.abs(columns[column * rows + column]) > 1e-14 * Math.sqrt(norm)) || norm < 1e-60;
}

/**
 * The Jacobian as given, or by differences: two points a side of h = ε^(1/3)|p|, or, `fine`, four points by
 * Richardson extrapolation with h = 1e-4 |p|: a compromise between rounding and a location parameter far from
 * zero beside a narrow peak (Eckerle4 of NIST).
 */
function evaluateJacobian(
  problem: LeastSquaresProblem,
  parameters: Float64Array,
  residuals: Float64Array,
  out: Float64Array,
  fine: boolean,
): void {
  if (problem.jacobian) {
    problem.jacobian(parameters, out);
    return;
  }
  const { count } = problem;
  const moved = Float64Array.from(parameters);
  const plus = new Float64Array(count);
  const minus = new Float64Array(count);
  for (let j = 0; j < parameters.length; j++) {
    const column = out.subarray(j * count, (j + 1) * count);
    const size = parameters[j] === 0 ? 1e-3 : Math.abs(parameters[j]);
    const slope = (h: number, target: Float64Array) => {
      moved[j] = Math.min(parameters[j] + h, problem.upper?.[j] ?? Number.POSITIVE_INFINITY);
      const above = moved[j];
      problem.residuals(moved, plus);
      moved[j] = Math.max(parameters[j] - h, problem.lower?.[j] ?? Number.NEGATIVE_INFINITY);
      const below = moved[j];
      problem.residuals(moved, minus);
      moved[j] = parameters[j];
      for (let i = 0; i < count; i++) {
        // One-sided where the model has no value on the other side.
        if (!Number.isFinite(plus[i])) target[i] = (residuals[i] - minus[i]) / (parameters[j] - below);
        else if (!Number.isFinite(minus[i])) target[i] = (plus[i] - residuals[i]) / (above - parameters[j]);
        else target[i] = (plus[i] - minus[i]) / (above - below);
        if (!Number.isFinite(target[i])) target[i] = 0;
      }
    };
    if (!fine) {
      slope(6e-6 * size, column);
      continue;
    }
    const wide = new Float64Array(count);
    const h = 1e-4 * size;
    slope(2 * h, wide);
    slope(h, column);
    for (let i = 0; i < count; i++) column[i] += (column[i] - wide[i]) / 3;
  }
}
