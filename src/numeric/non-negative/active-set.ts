import { cholesky, solveCholesky } from "../cholesky.js";

export interface ActiveSetSolution {
  solution: Float64Array;
  /** Indices with x > 0, in no special order. */
  passive: number[];
  /** Lower Cholesky factor of the passive rows and columns, in the order of `passive`, p × p row by row. */
  factor: Float64Array;
}

/**
 * Non-negative least squares on the normal equations, min ½xᵀGx − cᵀx with x ≥ 0 where G = AᵀA and c = Aᵀb, by the active-set method
 * of Lawson and Hanson (Solving Least Squares Problems, 1974, ch. 23). Made for problems without a penalty, few of whose
 * unknowns are above zero: the small factor is made anew at each change. `nnls` does the same on A itself, whose
 * condition it does not square.
 *
 * @param gram G, n × n row by row
 * @param linear c, n numbers
 * @param targetNorm |b|, for what counts as a slope of zero
 * @param warmStart indices of an earlier solution
 */
export function activeSetQuadratic(
  gram: Float64Array,
  linear: Float64Array,
  targetNorm: number,
  warmStart: readonly number[],
): ActiveSetSolution {
  const n = linear.length;
  const solution = new Float64Array(n);
  const isPassive = new Uint8Array(n);
  const barred = new Uint8Array(n);
  const slopeScale = new Float64Array(n);
  for (let j = 0; j < n; j++) slopeScale[j] = slopeLimit * targetNorm * Math.sqrt(gram[j * n + j]);
  let passive: number[] = [];
  let factor = new Float64Array(0);
  let trial = new Float64Array(0);
  /** Factor and unconstrained solution of the passive set; false where it is not positive. */
  const solve = () => {
    const p = passive.length;
    factor = new Float64Array(p * p);
    trial = new Float64Array(p);
    for (let a = 0; a < p; a++) {
      const row = passive[a] * n;
      for (let b = 0; b <= a; b++) factor[a * p + b] = gram[row + passive[b]];
      trial[a] = linear[passive[a]];
    }
    if (!isPositive(factor, p)) return false;
    solveCholesky(factor, p, trial);
    return true;
  };
  const leave = (gone: (j: number, a: number) => boolean) => {
    passive = passive.filter((j, a) => {
      if (!gone(j, a)) return true;
      isPassive[j] = 0;
      solution[j] = 0;
      return false;
    });
  };

  for (const j of warmStart) {
    if (j >= n || isPassive[j] === 1 || !(gram[j * n + j] > 0)) continue;
    isPassive[j] = 1;
    passive.push(j);
  }
  // A start is any set whose own least-squares solution is positive.
  for (;;) {
    if (!solve()) {
      leave(() => true);
      solve();
      break;
    }
    if (trial.every((value) => value > 0)) break;
    leave((_, a) => trial[a] <= 0);
  }
  for (const [a, j] of passive.entries()) solution[j] = trial[a];

  for (let iteration = 0; iteration < 10 * n + 10; iteration++) {
    let best = -1;
    let steepest = 1;
    for (let j = 0; j < n; j++) {
      if (isPassive[j] === 1 || barred[j] === 1 || !(gram[j * n + j] > 0)) continue;
      let slope = linear[j];
      for (const k of passive) slope -= gram[j * n + k] * solution[k];
      if (slope > steepest * slopeScale[j]) {
        steepest = slope / slopeScale[j];
        best = j;
      }
    }
    if (best < 0) break;
    passive.push(best);
    if (!solve() || !(trial[passive.length - 1] > 0)) {
      // Depends on the others, or rounding gave the slope; it would leave at once.
      passive.pop();
      barred[best] = 1;
      solve();
      continue;
    }
    isPassive[best] = 1;
    barred.fill(0);
    // Walk towards the least-squares solution of the passive set as far as x ≥ 0 lets it.
    for (;;) {
      let fraction = 1;
      let blocking = -1;
      for (const [a, j] of passive.entries()) {
        if (trial[a] > 0) continue;
        const reach = solution[j] / (solution[j] - trial[a]);
        if (reach < fraction || blocking < 0) {
          fraction = Math.min(reach, 1);
          blocking = j;
        }
      }
      if (blocking < 0) break;
      for (const [a, j] of passive.entries()) solution[j] += fraction * (trial[a] - solution[j]);
      leave((j) => j === blocking || solution[j] <= 0);
      solve();
    }
    for (const [a, j] of passive.entries()) solution[j] = trial[a];
  }
  return { solution, passive, factor };
}

/** A slope smaller than this share of what its column could have is zero: it would lower the sum of squares by its square. */
const slopeLimit = 1e-11;

/** Cholesky, and no pivot lost in rounding: a column that depends on those before it leaves a rest of 1e-12 or less. */
function isPositive(matrix: Float64Array, p: number): boolean {
  const diagonal = Float64Array.from({ length: p }, (_, a) => matrix[a * p + a]);
  if (!cholesky(matrix, p)) return false;
  for (let a = 0; a < p; a++) {
    const pivot = matrix[a * p + a];
    if (pivot * pivot < 1e-12 * diagonal[a]) return false;
  }
  return true;
}
