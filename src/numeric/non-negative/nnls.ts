import { dot } from "../dot.js";
import { hypotenuse } from "../elementary/power.js";
import { firstBlocked } from "./first-blocked.js";

/** A dense matrix kept column by column: column j is `values.subarray(j * rows, (j + 1) * rows)`. */
export interface ColumnMatrix {
  rows: number;
  columns: number;
  values: Float64Array;
}

export interface NonNegativeSolution {
  solution: Float64Array;
  /** |A x − b|² */
  residualSumOfSquares: number;
  /** b − A x */
  residuals: Float64Array;
  /** Indices of the columns with x > 0, in no special order. */
  passive: number[];
  iterations: number;
}

/**
 * Non-negative least squares, min |A x − b| with x ≥ 0, by the active-set method of Lawson and Hanson
 * (Solving Least Squares Problems, 1974, ch. 23). The orthogonal factor of the passive columns is kept and
 * updated, so a column costs O(rows × passive) to add or to remove, and the condition of A is never squared.
 * `warmStart` names the columns of an earlier solution: the next of a series of like problems then takes a
 * few steps only.
 *
 * Agreement with SciPy's nnls and the time against ml-fcnnls (which squares the condition by AᵀA) are
 * measured in tests/outside/fit-scipy.test.ts; the figures stand in docs/fitting-yardstick.md.
 *
 * @param matrix A, kept column by column; `rhs` b, one number a row
 * @example nnls({ rows: 2, columns: 2, values: Float64Array.of(1, 0, 0, 1) }, Float64Array.of(3, -1)).solution // [3, 0]
 */
export function nnls(
  matrix: ColumnMatrix,
  rhs: Float64Array,
  warmStart: readonly number[] = [],
): NonNegativeSolution {
  const { rows, columns, values } = matrix;
  if (values.length < rows * columns || rhs.length !== rows) {
    throw new RangeError(
      `nnls: ${values.length} values and ${rhs.length} right-hand sides do not make a ${rows} × ${columns} system.`,
    );
  }
  const norms = new Float64Array(columns);
  for (let j = 0; j < columns; j++) norms[j] = Math.sqrt(dot(values, j * rows, values, j * rows, rows));
  const scale = Math.sqrt(dot(rhs, 0, rhs, 0, rows));
  const factor = new PassiveFactor(matrix, rhs, Math.min(rows, columns));
  const inPassive = new Uint8Array(columns);
  const solution = new Float64Array(columns);
  const residuals = new Float64Array(rows);
  const trial = new Float64Array(columns);
  const barred = new Uint8Array(columns);
  let iterations = 0;

  for (const j of warmStart) {
    if (j < columns && norms[j] > 0 && inPassive[j] === 0 && factor.add(j, norms[j])) inPassive[j] = 1;
  }
  // A start is any set whose own least-squares solution is positive.
  for (;;) {
    factor.solve(trial);
    const negative = factor.passive.filter((j) => trial[j] <= 0);
    if (negative.length === 0) break;
    for (const j of negative) {
      factor.remove(j);
      inPassive[j] = 0;
    }
  }
  for (const j of factor.passive) solution[j] = trial[j];

  const limit = 1e-13 * scale;
  const maxIterations = 10 * columns + 10;
  for (;;) {
    factor.residuals(residuals);
    let best = -1;
    let steepest = limit;
    for (let j = 0; j < columns; j++) {
      if (inPassive[j] === 1 || barred[j] === 1 || norms[j] === 0) continue;
      const slope = dot(values, j * rows, residuals, 0, rows) / norms[j];
      if (slope > steepest) {
        steepest = slope;
        best = j;
      }
    }
    if (best < 0 || iterations++ >= maxIterations) break;
    if (!factor.add(best, norms[best])) {
      barred[best] = 1;
      continue;
    }
    factor.solve(trial);
    if (!(trial[best] > 0)) {
      // Rounding gave the gradient; the column would leave at once.
      factor.remove(best);
      barred[best] = 1;
      continue;
    }
    inPassive[best] = 1;
    barred.fill(0);
    // Walk towards the least-squares solution of the passive set as far as x ≥ 0 lets it.
    for (;;) {
      const blocked = firstBlocked(factor.passive, solution, trial);
      if (blocked === null) break;
      const { fraction, blocking } = blocked;
      for (const j of factor.passive) solution[j] += fraction * (trial[j] - solution[j]);
      for (const j of factor.passive.filter((k) => k === blocking || solution[k] <= 0)) {
        solution[j] = 0;
        inPassive[j] = 0;
        factor.remove(j);
      }
      factor.solve(trial);
    }
    for (const j of factor.passive) solution[j] = trial[j];
  }
  factor.residuals(residuals);
  return {
    solution,
    residualSumOfSquares: dot(residuals, 0, residuals, 0, rows),
    residuals,
    passive: factor.passive.slice(),
    iterations,
  };
}

/** a ← a − share · b */
function subtract(
  a: Float64Array,
  aStart: number,
  share: number,
  b: Float64Array,
  bStart: number,
  length: number,
): void {
  let i = 0;
  for (; i + 3 < length; i += 4) {
    a[aStart + i] -= share * b[bStart + i];
    a[aStart + i + 1] -= share * b[bStart + i + 1];
    a[aStart + i + 2] -= share * b[bStart + i + 2];
    a[aStart + i + 3] -= share * b[bStart + i + 3];
  }
  for (; i < length; i++) a[aStart + i] -= share * b[bStart + i];
}

/** Q R of the passive columns by Gram–Schmidt done twice (Daniel et al., Math. Comp. 30, 772, 1976). */
class PassiveFactor {
  readonly passive: number[] = [];
  private readonly q: Float64Array;
  private readonly r: Float64Array;
  private readonly projected: Float64Array;

  constructor(
    private readonly matrix: ColumnMatrix,
    private readonly rhs: Float64Array,
    private readonly capacity: number,
  ) {
    this.q = new Float64Array(matrix.rows * capacity);
    this.r = new Float64Array(capacity * capacity);
    this.projected = new Float64Array(capacity);
  }

  /** False where the column depends on those already there. */
  add(column: number, norm: number): boolean {
    const { rows, values } = this.matrix;
    const count = this.passive.length;
    if (count >= this.capacity) return false;
    const target = count * rows;
    this.q.set(values.subarray(column * rows, (column + 1) * rows), target);
    const rStart = count * this.capacity;
    for (let k = 0; k < count; k++) this.r[rStart + k] = 0;
    let left = 0;
    for (let pass = 0; pass < 2; pass++) {
      for (let k = 0; k < count; k++) {
        const share = dot(this.q, k * rows, this.q, target, rows);
        this.r[rStart + k] += share;
        subtract(this.q, target, share, this.q, k * rows, rows);
      }
      left = Math.sqrt(dot(this.q, target, this.q, target, rows));
      // Rounding is left orthogonal to norm/left · 1e-16; a second pass is for columns that nearly cancel.
      if (left > 0.01 * norm) break;
    }
    if (!(left > 1e-13 * norm)) return false;
    this.r[rStart + count] = left;
    for (let i = 0; i < rows; i++) this.q[target + i] /= left;
    this.projected[count] = dot(this.q, target, this.rhs, 0, rows);
    this.passive.push(column);
    return true;
  }

  /** Takes a column out and rotates R back to a triangle (Givens). */
  remove(column: number): void {
    const { rows } = this.matrix;
    const { capacity, r, q } = this;
    const at = this.passive.indexOf(column);
    const count = this.passive.length;
    this.passive.splice(at, 1);
    for (let j = at; j < count - 1; j++) {
      for (let i = 0; i <= j + 1; i++) r[j * capacity + i] = r[(j + 1) * capacity + i];
    }
    for (let k = at; k < count - 1; k++) {
      const a = r[k * capacity + k];
      const b = r[k * capacity + k + 1];
      const h = hypotenuse(a, b);
      const c = a / h;
      const s = b / h;
      r[k * capacity + k] = h;
      for (let j = k + 1; j < count - 1; j++) {
        const upper = r[j * capacity + k];
        const lower = r[j * capacity + k + 1];
        r[j * capacity + k] = c * upper + s * lower;
        r[j * capacity + k + 1] = c * lower - s * upper;
      }
      for (let i = 0; i < rows; i++) {
        const upper = q[k * rows + i];
        const lower = q[(k + 1) * rows + i];
        q[k * rows + i] = c * upper + s * lower;
        q[(k + 1) * rows + i] = c * lower - s * upper;
      }
      const upper = this.projected[k];
      const lower = this.projected[k + 1];
      this.projected[k] = c * upper + s * lower;
      this.projected[k + 1] = c * lower - s * upper;
    }
  }

  /** Least squares on the passive columns; writes their entries of `out`. */
  solve(out: Float64Array): void {
    const { capacity, r, passive } = this;
    for (let k = passive.length - 1; k >= 0; k--) {
      let value = this.projected[k];
      for (let j = k + 1; j < passive.length; j++) value -= r[j * capacity + k] * out[passive[j]];
      out[passive[k]] = value / r[k * capacity + k];
    }
  }

  /** b − Q Qᵀ b. */
  residuals(out: Float64Array): void {
    const { rows } = this.matrix;
    out.set(this.rhs);
    for (let k = 0; k < this.passive.length; k++) {
      const share = dot(this.q, k * rows, out, 0, rows);
      subtract(out, 0, share, this.q, k * rows, rows);
    }
  }
}
