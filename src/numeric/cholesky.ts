import { dot } from "./dot.js";
import { power } from "./elementary/power.js";

/** In-place Cholesky of the leading n × n block (row by row, stride n). False where it is not positive. */
export function cholesky(a: Float64Array, n: number): boolean {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const sum = a[i * n + j] - dot(a, i * n, a, j * n, j);
      if (i === j) {
        if (!(sum > 0)) return false;
        a[i * n + i] = Math.sqrt(sum);
      } else a[i * n + j] = sum / a[j * n + j];
    }
  }
  return true;
}

/**
 * Solves L Lᵀ x = b in place with the factor from `cholesky`.
 * @param l n × n, row by row; `x` n numbers, the right-hand side, overwritten with the solution
 * @param stride from one row of l to the next
 */
export function solveCholesky(l: Float64Array, n: number, x: Float64Array, stride = n): void {
  for (let i = 0; i < n; i++) {
    x[i] = (x[i] - dot(l, i * stride, x, 0, i)) / l[i * stride + i];
  }
  for (let i = n - 1; i >= 0; i--) {
    const value = x[i] / l[i * stride + i];
    x[i] = value;
    for (let k = 0; k < i; k++) x[k] -= l[i * stride + k] * value;
  }
}

/**
 * A symmetric p × p matrix with nothing beyond `band` places from its diagonal. The lower triangle is kept row
 * by row, band + 1 places each: element (i, j), i − band ≤ j ≤ i, stands at i · (band + 1) + band + j − i.
 */
export interface BandMatrix {
  p: number;
  band: number;
  values: Float64Array;
}

/** A symmetric matrix of order p with so many diagonals beside the main one, all zero. */
export function bandMatrix(p: number, band: number): BandMatrix {
  return { p, band, values: new Float64Array(p * (band + 1)) };
}

/** Place of element (i, j) with j ≤ i. */
export const bandIndex = ({ band }: BandMatrix, i: number, j: number) => i * (band + 1) + band + j - i;

/**
 * Writes the Cholesky factor L of a positive definite band matrix over it; L has the same band. A pivot that
 * rounding has made non-positive is replaced by a tiny one, so that a nearly singular direction is damped, not
 * lost.
 */
export function choleskyFactor({ p, band, values }: BandMatrix): void {
  for (let i = 0; i < p; i++) {
    const rowI = i * band + band;
    for (let j = Math.max(0, i - band); j <= i; j++) {
      const rowJ = j * band + band;
      let sum = values[rowI + j];
      for (let k = Math.max(0, i - band); k < j; k++) sum -= values[rowI + k] * values[rowJ + k];
      if (i === j) values[rowI + i] = Math.sqrt(sum > 0 ? sum : power(Number.MIN_VALUE, 0.25));
      else values[rowI + j] = sum / values[rowJ + j];
    }
  }
}

/**
 * The elements of (L Lᵀ)⁻¹ inside the band of L, from its end backwards, each from those before (Takahashi, Fagan and
 * Chen, Proc. 8th PICA Conf., 63, 1973): no full inverse is made.
 */
export function bandOfInverse(factor: BandMatrix): BandMatrix {
  const { p, band, values } = factor;
  const inverse = bandMatrix(p, band);
  const found = inverse.values;
  for (let i = p - 1; i >= 0; i--) {
    const last = Math.min(p - 1, i + band);
    const diagonal = values[i * band + band + i];
    for (let j = last; j >= i; j--) {
      let sum = j === i ? 1 / diagonal : 0;
      for (let k = i + 1; k <= last; k++) {
        const at = k > j ? k * band + band + j : j * band + band + k;
        sum -= values[k * band + band + i] * found[at];
      }
      found[j * band + band + i] = sum / diagonal;
    }
  }
  return inverse;
}

/**
 * Overwrites x, the right-hand side, with the solution of L Lᵀ x = right.
 * @param x p numbers
 */
export function choleskySolve(factor: BandMatrix, x: Float64Array): void {
  const { p, band, values } = factor;
  for (let i = 0; i < p; i++) {
    const row = i * band + band;
    let sum = x[i];
    for (let k = Math.max(0, i - band); k < i; k++) sum -= values[row + k] * x[k];
    x[i] = sum / values[row + i];
  }
  choleskySolveTransposed(factor, x);
}

/**
 * Overwrites x, the right-hand side, with the solution of Lᵀ x = right.
 * @param x p numbers
 */
export function choleskySolveTransposed({ p, band, values }: BandMatrix, x: Float64Array): void {
  for (let i = p - 1; i >= 0; i--) {
    const last = Math.min(p - 1, i + band);
    let sum = x[i];
    for (let k = i + 1; k <= last; k++) sum -= values[k * band + band + i] * x[k];
    x[i] = sum / values[i * band + band + i];
  }
}
