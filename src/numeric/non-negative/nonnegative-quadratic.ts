import { cholesky, solveCholesky } from "../cholesky.js";

/**
 * min ½xᵀHx − cᵀx with x ≥ 0 for a positive matrix H (row by row, n × n), by block principal pivoting
 * (Júdice and Pires, Computers and Operations Research 21, 587, 1994): all indices on the wrong side change
 * over at once, one at a time where that stalls. Made for the regularised spectrum, whose H is well
 * conditioned and whose passive set is large; a warm start from a neighbouring problem takes a few rounds.
 * `converged` is false where rounding keeps the signs from settling or H is not positive: the solution is then
 * not to be used.
 * @param linear c, n numbers
 * @param warmStart n marks, 1 for a number above zero in the earlier solution; null: all of them
 * @returns x, and its marks
 */
export function nonNegativeQuadratic(
  matrix: Float64Array,
  linear: Float64Array,
  warmStart: Uint8Array | null,
): { solution: Float64Array; passive: Uint8Array; converged: boolean } {
  const n = linear.length;
  const passive = warmStart === null ? new Uint8Array(n).fill(1) : warmStart.slice();
  const solution = new Float64Array(n);
  const factor = new Float64Array(n * n);
  const rhs = new Float64Array(n);
  let fewest = n + 1;
  let patience = 3;
  let scale = 0;
  for (let j = 0; j < n; j++) scale = Math.max(scale, Math.abs(linear[j]));
  const tolerance = 1e-12 * scale;
  let converged = false;
  for (let round = 0; round < 2 * n + 20; round++) {
    const index: number[] = [];
    for (let j = 0; j < n; j++) if (passive[j] === 1) index.push(j);
    const size = index.length;
    for (let a = 0; a < size; a++) {
      const row = index[a] * n;
      for (let b = 0; b <= a; b++) factor[a * size + b] = matrix[row + index[b]];
      rhs[a] = linear[index[a]];
    }
    if (!cholesky(factor, size)) break;
    solveCholesky(factor, size, rhs);
    solution.fill(0);
    for (let a = 0; a < size; a++) solution[index[a]] = rhs[a];
    const wrong: number[] = [];
    for (let j = 0; j < n; j++) {
      if (passive[j] === 1) {
        if (solution[j] < 0) wrong.push(j);
        continue;
      }
      let slope = -linear[j];
      for (let a = 0; a < size; a++) slope += matrix[j * n + index[a]] * rhs[a];
      if (slope < -tolerance) wrong.push(j);
    }
    if (wrong.length === 0) {
      converged = true;
      break;
    }
    let change = wrong;
    if (wrong.length < fewest) {
      fewest = wrong.length;
      patience = 3;
    } else if (patience > 0) patience--;
    else change = [wrong[wrong.length - 1]];
    for (const j of change) passive[j] = passive[j] === 1 ? 0 : 1;
  }
  return { solution, passive, converged };
}
