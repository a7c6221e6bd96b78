import { dot } from "../dot.js";
import { backSolve, extendFactor, type GrowingFactor, growingFactor } from "./extend-factor.js";
import { firstBlocked } from "./first-blocked.js";

export interface ActiveSetSolution {
  solution: Float64Array;
  /** Indices with x > 0, in no special order. */
  passive: number[];
  /** Lower Cholesky factor of the passive rows and columns, in the order of `passive`, row by row with stride n. */
  factor: Float64Array;
}

/** A slope smaller than this share of what its column could have is zero: it would lower the sum of squares by its square. */
const slopeLimit = 1e-11;
/** A column that depends on those before it leaves a rest of this share. */
const leastPivot = 1e-12;

/**
 * Non-negative least squares on the normal equations, min ½xᵀGx − cᵀx with x ≥ 0 where G = AᵀA and c = Aᵀb, by the active-set method
 * of Lawson and Hanson (Solving Least Squares Problems, 1974, ch. 23). Made for problems without a penalty, few of whose
 * unknowns are above zero: the factor of those is kept and grows by a row for each that comes in. `nnls` does the same
 * on A itself, whose condition it does not square.
 *
 * @param gram G, n × n row by row
 * @param linear c, n numbers
 * @param targetNorm |b|, for what counts as a slope of zero
 * @param warmStart indices of an earlier solution
 * @param room for the factor, of the same n: it is what comes back as `factor`, and the next solve in it writes it over
 */
export function activeSetQuadratic(
  gram: Float64Array,
  linear: Float64Array,
  targetNorm: number,
  warmStart: readonly number[],
  room: GrowingFactor = growingFactor(linear.length),
): ActiveSetSolution {
  const n = linear.length;
  const solution = new Float64Array(n);
  const trial = new Float64Array(n);
  const work = new Float64Array(n);
  const slopeScale = new Float64Array(n);
  for (let j = 0; j < n; j++) slopeScale[j] = slopeLimit * targetNorm * Math.sqrt(gram[j * n + j]);
  const isPassive = new Uint8Array(n);
  const barred = new Uint8Array(n);
  const { order } = room;
  let size = 0;
  /** The unconstrained solution of the passive set, its factor made anew from row `kept` on; false where it is not positive. */
  const solve = (kept: number) => {
    if (!extendFactor(gram, linear, room, kept, size, leastPivot)) return false;
    backSolve(room, size, work, trial);
    return true;
  };
  /** Takes out of the passive set those that are named; the first row that changed. */
  const leave = (isGone: (j: number) => boolean) => {
    let staying = 0;
    let first = size;
    for (let a = 0; a < size; a++) {
      const j = order[a];
      if (isGone(j)) {
        isPassive[j] = 0;
        solution[j] = 0;
        first = Math.min(first, a);
      } else order[staying++] = j;
    }
    size = staying;
    return first;
  };
  const take = () => {
    for (let a = 0; a < size; a++) solution[order[a]] = trial[order[a]];
  };

  for (const j of warmStart) {
    if (j >= n || isPassive[j] === 1 || !(gram[j * n + j] > 0)) continue;
    isPassive[j] = 1;
    order[size++] = j;
  }
  // A start is any set whose own least-squares solution is positive.
  for (let kept = 0; ; ) {
    if (!solve(kept)) {
      leave(() => true);
      break;
    }
    const before = size;
    kept = leave((j) => trial[j] <= 0);
    if (size === before) break;
  }
  take();

  for (let iteration = 0; iteration < 10 * n + 10; iteration++) {
    let best = -1;
    let steepest = 1;
    for (let j = 0; j < n; j++) {
      if (isPassive[j] === 1 || barred[j] === 1 || slopeScale[j] === 0) continue;
      const slope = (linear[j] - dot(gram, j * n, solution, 0, n)) / slopeScale[j];
      if (slope > steepest) {
        steepest = slope;
        best = j;
      }
    }
    if (best < 0) break;
    order[size++] = best;
    if (!solve(size - 1) || !(trial[best] > 0)) {
      // Depends on the others, or rounding gave the slope; it would leave at once.
      size--;
      barred[best] = 1;
      continue;
    }
    isPassive[best] = 1;
    barred.fill(0);
    // Walk towards the least-squares solution of the passive set as far as x ≥ 0 lets it.
    for (;;) {
      const blocked = firstBlocked(order.subarray(0, size), solution, trial);
      if (blocked === null) break;
      const { fraction, blocking } = blocked;
      for (let a = 0; a < size; a++) {
        const j = order[a];
        solution[j] += fraction * (trial[j] - solution[j]);
      }
      solve(leave((j) => j === blocking || solution[j] <= 0));
    }
    take();
  }
  return { solution, passive: Array.from(order.subarray(0, size)), factor: room.factor };
}
