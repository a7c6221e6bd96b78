import { square } from "../elementary/power.js";
import { factorise, solveUpper } from "./householder.js";

/** Euclidean length of one column of a matrix kept column by column. */
export function columnNorm(columns: Float64Array, column: number, rows: number): number {
  let sum = 0;
  for (let i = column * rows; i < (column + 1) * rows; i++) sum += columns[i] * columns[i];
  return Math.sqrt(sum);
}

/**
 * The Gauss–Newton step where its scaled length |D s| is within the radius, else the damped step of that
 * length to 10 %: the damping λ is found by the secant of 1/|D s(λ)| (Hebden; Moré 1978).
 * @param work the factor as `factorise` left it; `free` the columns that may move
 * @param scale D, one a parameter; `rhs` c, one a row of R
 */
export function stepWithin(
  work: Float64Array,
  count: number,
  free: number[],
  scale: Float64Array,
  radius: number,
  rhs: Float64Array,
): { step: Float64Array; length: number } {
  const n = free.length;
  const step = new Float64Array(n);
  const damped = new Float64Array((n + 1) * 2 * n);
  const lengthAt = (damping: number) => {
    dampedStep(work, count, free, scale, damping, rhs, damped, step);
    let sum = 0;
    for (let k = 0; k < n; k++) sum += square(scale[free[k]] * step[k]);
    return Math.sqrt(sum);
  };
  let length = lengthAt(0);
  if (length <= 1.1 * radius) return { step, length };
  // |D s| falls steadily with λ, so bracket the root in log λ and halve where the secant leaves the bracket.
  let low = 0;
  let high = columnNorm(rhs, 0, n) / radius;
  let damping = high * 1e-3;
  for (let round = 0; round < 60; round++) {
    length = lengthAt(damping);
    if (Math.abs(length - radius) <= 0.1 * radius) break;
    if (length > radius) low = damping;
    else high = damping;
    const h = Math.max(damping * 1e-4, Number.MIN_VALUE);
    const slope = (1 / lengthAt(damping + h) - 1 / length) / h;
    let next = damping + (1 / radius - 1 / length) / slope;
    if (!(next > low && next < high)) next = low > 0 ? Math.sqrt(low * high) : high * 1e-3;
    if (low === 0 && !(next > 0)) break;
    damping = next;
  }
  length = lengthAt(damping);
  return { step, length };
}

/** Least squares of [R; √λ D] s = [c; 0], R and c from the factorised Jacobian. */
function dampedStep(
  work: Float64Array,
  count: number,
  free: number[],
  scale: Float64Array,
  damping: number,
  rhs: Float64Array,
  damped: Float64Array,
  step: Float64Array,
): void {
  const n = free.length;
  const rows = 2 * n;
  damped.fill(0);
  for (let k = 0; k < n; k++) {
    for (let i = 0; i <= Math.min(k, count - 1); i++) damped[k * rows + i] = work[k * count + i];
    damped[k * rows + n + k] = Math.sqrt(damping) * scale[free[k]];
    if (k < count) damped[n * rows + k] = rhs[k];
  }
  factorise(damped, rows, n, 1);
  solveUpper(damped, rows, n, damped.subarray(n * rows, n * rows + n), step);
}

/**
 * |c|² − |c − R s|² over the rows of R: how much the linear model says the sum of squares falls.
 * @param work the factor as `factorise` left it; `rhs` c and `step` s
 */
export function predictedDecrease(
  work: Float64Array,
  count: number,
  free: number[],
  rhs: Float64Array,
  step: Float64Array,
): number {
  let decrease = 0;
  for (let i = 0; i < Math.min(free.length, count); i++) {
    let product = 0;
    for (let k = i; k < free.length; k++) product += work[k * count + i] * step[k];
    decrease += square(rhs[i]) - square(rhs[i] - product);
  }
  return Math.max(decrease, Number.MIN_VALUE);
}
