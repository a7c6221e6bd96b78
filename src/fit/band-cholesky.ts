import { power } from "../elementary/power.js";

/**
 * A symmetric p × p matrix with nothing beyond `band` places from its diagonal. The lower triangle is kept row
 * by row, band + 1 places each: element (i, j), i − band ≤ j ≤ i, stands at i · (band + 1) + band + j − i.
 */
export interface BandMatrix {
  p: number;
  band: number;
  values: Float64Array;
}

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

/** Overwrites x, the right-hand side, with the solution of L Lᵀ x = right. */
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

/** Overwrites x, the right-hand side, with the solution of Lᵀ x = right. */
export function choleskySolveTransposed({ p, band, values }: BandMatrix, x: Float64Array): void {
  for (let i = p - 1; i >= 0; i--) {
    const last = Math.min(p - 1, i + band);
    let sum = x[i];
    for (let k = i + 1; k <= last; k++) sum -= values[k * band + band + i] * x[k];
    x[i] = sum / values[i * band + band + i];
  }
}
