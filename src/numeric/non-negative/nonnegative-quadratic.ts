import { dot } from "../dot.js";
import { backSolve, extendFactor, growingFactor } from "./extend-factor.js";

export interface QuadraticSolution {
  solution: Float64Array;
  /** n marks, 1 for a number above zero. */
  passive: Uint8Array;
  /** False where the signs do not settle soon or H is not positive: the solution is then not to be used. */
  converged: boolean;
  /** The p indices above zero, in the order of the factor. */
  order: Int32Array;
  /** Lower Cholesky factor of H over `order`, row by row with stride n. */
  factor: Float64Array;
}

/** Steps one at a time, in all; where rounding decides on signs they go round in circles. */
const mostSingles = 20;

/**
 * min ½xᵀHx − cᵀx with x ≥ 0 for a positive matrix H (row by row, n × n), by block principal pivoting
 * (Júdice and Pires, Computers and Operations Research 21, 587, 1994): all indices on the wrong side change
 * over at once, one at a time where that stalls. Made for the regularised spectrum, whose H is well
 * conditioned and whose passive set is large; a warm start from a neighbouring problem takes a few rounds.
 * What newly comes in stands last, so that the rows of the factor before the first that left are kept.
 * @param linear c, n numbers
 * @param warmStart n marks, 1 for a number above zero in the earlier solution; null: all of them
 */
export function nonNegativeQuadratic(
  matrix: Float64Array,
  linear: Float64Array,
  warmStart: Uint8Array | null,
): QuadraticSolution {
  const n = linear.length;
  const passive = warmStart === null ? new Uint8Array(n).fill(1) : warmStart.slice();
  const solution = new Float64Array(n);
  const grown = growingFactor(n);
  const { order, factor } = grown;
  const work = new Float64Array(n);
  let size = 0;
  let kept = 0;
  for (let j = 0; j < n; j++) if (passive[j] === 1) order[size++] = j;
  let fewest = n + 1;
  let patience = 3;
  let singles = 0;
  let scale = 0;
  for (let j = 0; j < n; j++) scale = Math.max(scale, Math.abs(linear[j]));
  const tolerance = 1e-12 * scale;
  const wrong = new Uint8Array(n);
  let converged = false;
  for (let round = 0; round < 2 * n + 20; round++) {
    if (!extendFactor(matrix, linear, grown, kept, size, 0)) break;
    solution.fill(0);
    backSolve(grown, size, work, solution);
    let count = 0;
    let last = -1;
    for (let j = 0; j < n; j++) {
      if (passive[j] === 1) wrong[j] = solution[j] < 0 ? 1 : 0;
      else {
        const slope = dot(matrix, j * n, solution, 0, n) - linear[j];
        wrong[j] = slope < -tolerance ? 1 : 0;
      }
      if (wrong[j] === 1) {
        count++;
        last = j;
      }
    }
    if (count === 0) {
      converged = true;
      break;
    }
    if (count < fewest) {
      fewest = count;
      patience = 3;
    } else if (patience > 0) patience--;
    else if (singles++ === mostSingles) break;
    else {
      wrong.fill(0);
      wrong[last] = 1;
    }
    // Those that leave are taken out of the order, those that come in stand last.
    kept = size;
    let staying = 0;
    for (let a = 0; a < size; a++) {
      const j = order[a];
      if (wrong[j] === 0) order[staying++] = j;
      else {
        kept = Math.min(kept, a);
        passive[j] = 0;
        wrong[j] = 0;
      }
    }
    size = staying;
    for (let j = 0; j < n; j++) {
      if (wrong[j] === 0) continue;
      passive[j] = 1;
      order[size++] = j;
    }
  }
  return { solution, passive, converged, order: order.subarray(0, size), factor };
}
