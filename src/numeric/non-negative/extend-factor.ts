import { dot } from "../dot.js";

/** The lower Cholesky factor L of some rows and columns of a positive n × n matrix, which are added and taken away. */
export interface GrowingFactor {
  /** Which rows, in the order of the factor; only the first so many count. */
  order: Int32Array;
  /** L, row by row with stride n. */
  factor: Float64Array;
  /** L⁻¹c. */
  forward: Float64Array;
}

export const growingFactor = (n: number): GrowingFactor => ({
  order: new Int32Array(n),
  factor: new Float64Array(n * n),
  forward: new Float64Array(n),
});

/**
 * Makes rows `kept` to `size` of L and of L⁻¹c anew; those before stay as they are.
 * @param matrix n × n, row by row
 * @param linear c, n numbers
 * @param leastPivot share of a diagonal element that must be left of it, for the row not to depend on those before
 * @returns false where a pivot falls short of that
 */
export function extendFactor(
  matrix: Float64Array,
  linear: Float64Array,
  { order, factor, forward }: GrowingFactor,
  kept: number,
  size: number,
  leastPivot: number,
): boolean {
  const n = linear.length;
  for (let a = kept; a < size; a++) {
    const row = a * n;
    const from = order[a] * n;
    // Two columns at a time, so that each number of the row is fetched once for both.
    let b = 0;
    for (; b + 1 < a; b += 2) {
      const one = b * n;
      const two = one + n;
      let ofOne = 0;
      let ofTwo = 0;
      let oddOne = 0;
      let oddTwo = 0;
      for (let k = 0; k < b; k += 2) {
        const even = factor[row + k];
        const odd = factor[row + k + 1];
        ofOne += even * factor[one + k];
        ofTwo += even * factor[two + k];
        oddOne += odd * factor[one + k + 1];
        oddTwo += odd * factor[two + k + 1];
      }
      const first = (matrix[from + order[b]] - (ofOne + oddOne)) / factor[one + b];
      const rest = matrix[from + order[b + 1]] - (ofTwo + oddTwo) - first * factor[two + b];
      factor[row + b] = first;
      factor[row + b + 1] = rest / factor[two + b + 1];
    }
    if (b < a) {
      const other = b * n;
      factor[row + b] = (matrix[from + order[b]] - dot(factor, row, factor, other, b)) / factor[other + b];
    }
    const diagonal = matrix[from + order[a]];
    const pivot = diagonal - dot(factor, row, factor, row, a);
    if (!(pivot > leastPivot * diagonal)) return false;
    factor[row + a] = Math.sqrt(pivot);
    forward[a] = (linear[order[a]] - dot(factor, row, forward, 0, a)) / factor[row + a];
  }
  return true;
}

/**
 * Writes L⁻ᵀ L⁻¹c, the solution of the first `size` rows, each number at its own index of `out`.
 * @param work n numbers, written over
 */
export function backSolve(
  { factor, order, forward }: GrowingFactor,
  size: number,
  work: Float64Array,
  out: Float64Array,
): void {
  const n = order.length;
  work.set(forward);
  for (let a = size - 1; a >= 0; a--) {
    const row = a * n;
    const value = work[a] / factor[row + a];
    out[order[a]] = value;
    for (let b = 0; b < a; b++) work[b] -= factor[row + b] * value;
  }
}
