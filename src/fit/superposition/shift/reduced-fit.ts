import { dot } from "../../../numeric/dot.js";
import { exp10 } from "../../../numeric/elementary/exponential.js";
import { activeSetQuadratic } from "../../../numeric/non-negative/active-set.js";
import { growingFactor } from "../../../numeric/non-negative/extend-factor.js";
import { type MaxwellGram, maxwellGram } from "../../spectrum/maxwell-gram.js";
import { logSpacedTimes, relativeWeights } from "../../spectrum/maxwell-kernel.js";
import type { IsothermSet } from "../isotherms/isotherms.js";

/**
 * One spectrum under all isotherms: for given shifts the spectrum follows by non-negative least squares, so
 * that only the shifts are left to vary (variable projection; Golub and Pereyra, SIAM J. Numer. Anal. 10,
 * 413, 1973, with the derivative of Kaufman, BIT 15, 49, 1975). Residuals are relative:
 * (model − measured)/measured × weight, storage first, then loss.
 */
export class ReducedFit {
  readonly isothermCount: number;
  /** How many residuals have a weight. */
  readonly count: number;
  readonly storageWeight: Float64Array;
  readonly lossWeight: Float64Array;
  times_s: Float64Array;
  private readonly reduced: Float64Array;
  private readonly weightedStorage: Float64Array;
  private readonly weightedLoss: Float64Array;
  private readonly target: Float64Array;
  /** |target|² */
  private square: number;
  private warm: number[] = [];
  /** Room that every evaluation writes over. */
  private normal: MaxwellGram | null = null;
  private factor = growingFactor(0);
  private columns = new Float64Array(0);

  /**
   * @param offset log10 of what each point's frequency is multiplied by beside its isotherm's shift, from
   * its distance to the isotherm's mean temperature
   * @param lossTrust weight of a loss residual against a storage residual
   * @param before with whose modes the first spectrum begins
   */
  constructor(
    readonly set: IsothermSet,
    readonly offset: Float64Array,
    log10aT: ArrayLike<number>,
    private readonly modesPerDecade: number,
    readonly lossTrust: number,
    before: ReducedFit | null = null,
  ) {
    const n = set.frequency_Hz.length;
    this.isothermCount = set.isotherms.length;
    this.storageWeight = relativeWeights(set.storageModulus_Pa);
    this.lossWeight = relativeWeights(set.lossModulus_Pa).map((w) => w * lossTrust);
    this.reduced = new Float64Array(n);
    this.weightedStorage = new Float64Array(n);
    this.weightedLoss = new Float64Array(n);
    this.target = new Float64Array(2 * n);
    let count = 0;
    this.square = 0;
    for (let i = 0; i < n; i++) {
      this.target[i] = 1;
      this.target[n + i] = this.lossWeight[i] > 0 ? lossTrust : 0;
      count += this.lossWeight[i] > 0 ? 2 : 1;
    }
    this.count = count;
    for (const value of this.target) this.square += value * value;
    this.times_s = before?.times_s ?? new Float64Array(0);
    this.warm = before?.warm ?? [];
    this.layGrid(log10aT);
  }

  /** Lays the relaxation times over the window that these shifts open. */
  layGrid(log10aT: ArrayLike<number>): void {
    this.reduceFrequencies(log10aT);
    const { lowest_rad_s, highest_rad_s } = this.window();
    this.useTimes(logSpacedTimes(lowest_rad_s, highest_rad_s, this.modesPerDecade, 1));
  }

  /** Whether the grid still reaches well beyond the window that these shifts open. */
  covers(log10aT: ArrayLike<number>): boolean {
    this.reduceFrequencies(log10aT);
    const { lowest_rad_s, highest_rad_s } = this.window();
    const times = this.times_s;
    return times[0] * highest_rad_s < 0.25 && times[times.length - 1] * lowest_rad_s > 4;
  }

  /** Halves the grid about the modes in use, so that a sharp mode may stand where it belongs. */
  refineGrid(): void {
    const modes = this.times_s.length;
    const used = this.warm.filter((j) => j < modes);
    const times = new Set<number>();
    for (let j = 0; j < modes; j++) times.add(this.times_s[j]);
    for (const j of used) {
      if (j > 0) times.add(Math.sqrt(this.times_s[j] * this.times_s[j - 1]));
      if (j + 1 < modes) times.add(Math.sqrt(this.times_s[j] * this.times_s[j + 1]));
    }
    this.useTimes(Float64Array.from(times).sort());
  }

  /** Takes another grid; the modes in use go on from the nearest of its times. */
  useTimes(times_s: Float64Array): void {
    const before = this.times_s;
    const nearest = (time_s: number) => {
      let k = 0;
      while (k + 1 < times_s.length && times_s[k + 1] <= time_s) k++;
      return k + 1 < times_s.length && times_s[k + 1] / time_s < time_s / times_s[k] ? k + 1 : k;
    };
    const warm = this.warm.map((j) => (j < before.length ? nearest(before[j]) : times_s.length));
    this.warm = [...new Set(warm)];
    this.times_s = times_s;
    this.factor = growingFactor(times_s.length + 1);
  }

  private reduceFrequencies(log10aT: ArrayLike<number>): void {
    const { isotherms, frequency_Hz } = this.set;
    for (let k = 0; k < isotherms.length; k++) {
      for (let i = isotherms[k].first; i < isotherms[k].end; i++) {
        this.reduced[i] = 2 * Math.PI * frequency_Hz[i] * exp10(log10aT[k] + this.offset[i]);
      }
    }
  }

  /**
   * Solves for the spectrum at these shifts.
   * @param log10aT horizontal shift of each isotherm
   * @param log10bT vertical shift of each isotherm: measured × bT lies on the master curve
   */
  evaluate(log10aT: ArrayLike<number>, log10bT: ArrayLike<number>): ReducedState {
    this.reduceFrequencies(log10aT);
    const { set } = this;
    for (let k = 0; k < set.isotherms.length; k++) {
      const scale = exp10(-log10bT[k]);
      for (let i = set.isotherms[k].first; i < set.isotherms[k].end; i++) {
        this.weightedStorage[i] = this.storageWeight[i] * scale;
        this.weightedLoss[i] = this.lossWeight[i] * scale;
      }
    }
    const { gram, linear } = maxwellGram(
      this.reduced,
      this.weightedStorage,
      this.weightedLoss,
      this.target,
      this.times_s,
      this.normal,
    );
    this.normal = { gram, linear };
    const { solution, passive, factor } = activeSetQuadratic(
      gram,
      linear,
      Math.sqrt(this.square),
      this.warm,
      this.factor,
    );
    this.warm = passive;
    const residuals = this.target.map((value) => -value);
    const slopes = new Float64Array(residuals.length);
    const columns = this.columnsOf(passive, solution, residuals, slopes);
    let rss = 0;
    for (const residual of residuals) rss += residual * residual;
    return {
      rss,
      moduli_Pa: solution.subarray(0, this.times_s.length),
      equilibriumModulus_Pa: solution[this.times_s.length],
      modes: passive.length,
      residuals,
      slopes,
      columns,
      factor,
    };
  }

  /**
   * The kernel's columns of the modes in use, the equilibrium modulus counted as the last of all, and what they add to the residuals
   * and to their slopes.
   * @param residuals 2n numbers, added to; `slopes` as many, d residual / d log10 aT of its isotherm, added to
   */
  private columnsOf(
    passive: number[],
    solution: Float64Array,
    residuals: Float64Array,
    slopes: Float64Array,
  ): Float64Array {
    const { reduced, weightedStorage, weightedLoss } = this;
    const n = reduced.length;
    const needed = 2 * n * passive.length;
    if (this.columns.length < needed) this.columns = new Float64Array(2 * needed);
    const { columns } = this;
    for (const [p, j] of passive.entries()) {
      const ofStorage = 2 * n * p;
      const ofLoss = ofStorage + n;
      const modulus = solution[j];
      const isEquilibrium = j === this.times_s.length;
      for (let i = 0; i < n; i++) {
        const x = isEquilibrium ? 0 : reduced[i] * this.times_s[j];
        const q = 1 / (1 + x * x);
        const storage = weightedStorage[i] * (isEquilibrium ? 1 : x * x * q);
        const loss = weightedLoss[i] * x * q;
        columns[ofStorage + i] = storage;
        columns[ofLoss + i] = loss;
        residuals[i] += modulus * storage;
        residuals[n + i] += modulus * loss;
        // d/d ln x of x²/(1+x²) is 2x²/(1+x²)², of x/(1+x²) it is x(1−x²)/(1+x²)².
        if (!isEquilibrium) slopes[i] += 2 * Math.LN10 * modulus * storage * q;
        slopes[n + i] += Math.LN10 * modulus * loss * (2 * q - 1);
      }
    }
    return columns;
  }

  /**
   * Of the state that was evaluated last: gradient and Gauss–Newton matrix of ½ rss, per decade, by the horizontal shifts of the
   * K isotherms, then by V vertical ones. The spectrum's own freedom is projected out.
   * @param verticalOf which vertical shift each isotherm has, −1 for none, out of `verticalCount`
   * @returns K + V numbers, and as many rows of as many
   */
  derivatives(
    state: ReducedState,
    verticalOf: ArrayLike<number>,
    verticalCount: number,
  ): { gradient: Float64Array; matrix: Float64Array } {
    const { isotherms } = this.set;
    const size = isotherms.length + verticalCount;
    const n = this.reduced.length;
    const { columns, factor, modes, residuals, slopes } = state;
    const gradient = new Float64Array(size);
    const matrix = new Float64Array(size * size);
    // Coordinates of each derivative in an orthonormal basis of the modes' columns A, A L⁻ᵀ with L Lᵀ = AᵀA.
    const inBasis = new Float64Array(size * modes);
    // Measured × bT: what the model gives falls by ln 10 of itself for each decade of b.
    const fall = residuals.map((r, i) => -Math.LN10 * (r + this.target[i]));
    for (const [k, { first, end }] of isotherms.entries()) {
      const over = (a: Float64Array, b: Float64Array, from = 0) =>
        dot(a, from + first, b, first, end - first) + dot(a, from + n + first, b, n + first, end - first);
      const add = (row: number, own: Float64Array) => {
        gradient[row] += over(own, residuals);
        matrix[row * size + row] += over(own, own);
        for (let p = 0; p < modes; p++) inBasis[row * modes + p] += over(columns, own, 2 * n * p);
      };
      add(k, slopes);
      if (verticalOf[k] < 0) continue;
      const row = isotherms.length + verticalOf[k];
      add(row, fall);
      matrix[row * size + k] = over(fall, slopes);
    }
    for (let row = 0; row < size; row++) {
      forwardSolve(factor, this.times_s.length + 1, inBasis, row * modes, modes);
    }
    for (let a = 0; a < size; a++) {
      for (let b = 0; b <= a; b++) {
        matrix[a * size + b] -= dot(inBasis, a * modes, inBasis, b * modes, modes);
        matrix[b * size + a] = matrix[a * size + b];
      }
    }
    return { gradient, matrix };
  }

  /** Lowest and highest reduced angular frequency as last set. */
  private window(): { lowest_rad_s: number; highest_rad_s: number } {
    let lowest_rad_s = Number.POSITIVE_INFINITY;
    let highest_rad_s = 0;
    for (const w of this.reduced) {
      lowest_rad_s = Math.min(lowest_rad_s, w);
      highest_rad_s = Math.max(highest_rad_s, w);
    }
    return { lowest_rad_s, highest_rad_s };
  }
}

export interface ReducedState {
  rss: number;
  moduli_Pa: Float64Array;
  equilibriumModulus_Pa: number;
  /** Columns of the kernel in use, the equilibrium modulus counted. */
  modes: number;
  residuals: Float64Array;
  /** d residual / d log10 aT of its isotherm. */
  slopes: Float64Array;
  /** Those columns, 2n numbers each; of the state that was evaluated last, as `factor`. */
  columns: Float64Array;
  /** Lower Cholesky factor of their products, row by row; its stride is the number of times and one. */
  factor: Float64Array;
}

/** Overwrites `size` numbers from a place of x on with L⁻¹ of themselves. */
function forwardSolve(
  factor: Float64Array,
  stride: number,
  x: Float64Array,
  from: number,
  size: number,
): void {
  for (let i = 0; i < size; i++) {
    x[from + i] = (x[from + i] - dot(factor, i * stride, x, from, i)) / factor[i * stride + i];
  }
}
