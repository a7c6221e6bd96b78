import { dot } from "../../numeric/dot.js";
import { exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { square } from "../../numeric/elementary/power.js";
import { settledQuadratic } from "../../numeric/non-negative/settled-quadratic.js";
import { countBelow, maxwellGram } from "./maxwell-gram.js";
import { type ModulusPoints, weightedModuli } from "./maxwell-kernel.js";

/** One solution of the penalised problem; u is the moduli divided by `scale`, the equilibrium modulus last. */
export interface PenalisedSolution {
  solution: Float64Array;
  passive: Uint8Array;
  /** (fit − measured) × weight, storage first, then loss. */
  residuals: Float64Array;
  rss: number;
  effectiveParameters: number;
  score: number;
}

/**
 * |A u − b|² + λ |D² u|² with u ≥ 0, u the moduli divided by the local loss modulus, as a quadratic form. Where modes stand
 * further apart u is the modulus of one at the distance of the slowest two, so that strengths mean the same.
 */
export class PenalisedSpectrum {
  readonly scale: Float64Array;
  /** How many moduli have a weight. */
  readonly count: number;
  private readonly rhs: Float64Array;
  private readonly gram: Float64Array;
  private readonly linear: Float64Array;
  private readonly penaltyWeight: number;
  private readonly size: number;
  /** Rows of D², three numbers each. */
  private readonly curvature: Float64Array;

  constructor(
    private readonly points: ModulusPoints,
    readonly times_s: Float64Array,
    readonly equilibrium: boolean,
  ) {
    const modes = times_s.length;
    this.size = equilibrium ? modes + 1 : modes;
    this.rhs = weightedModuli(points);
    this.count = 0;
    for (const value of this.rhs) if (value !== 0) this.count++;
    const { widths, curvature } = secondDifferences(times_s);
    this.curvature = curvature;
    this.scale = localLossModulus(points, times_s);
    for (let j = 0; j < modes; j++) this.scale[j] *= widths[j];
    const { size, scale } = this;
    const { gram, linear } = maxwellGram(
      points.angularFrequency_rad_s,
      points.storageWeight,
      points.lossWeight,
      this.rhs,
      times_s,
    );
    // Without an equilibrium modulus its row and column, the last, are left out.
    this.linear = linear.subarray(0, size);
    this.gram = equilibrium ? gram : new Float64Array(size * size);
    let trace = 0;
    let span = 0;
    for (let j = 0; j < size; j++) {
      linear[j] *= scale[j];
      for (let k = 0; k < size; k++) {
        this.gram[j * size + k] = gram[j * (modes + 1) + k] * scale[j] * scale[k];
      }
      const width = j < modes ? widths[j] : 1;
      trace += this.gram[j * size + j] / width;
      if (j < modes) span += width;
    }
    this.penaltyWeight = trace / (6 * span);
  }

  /** (fit − measured) × weight, storage first, then loss. */
  residuals(solution: Float64Array): Float64Array {
    const { angularFrequency_rad_s, storageWeight, lossWeight } = this.points;
    const n = angularFrequency_rad_s.length;
    const modes = this.times_s.length;
    const equilibrium_Pa = this.equilibrium ? solution[modes] * this.scale[modes] : 0;
    const storage_Pa = new Float64Array(n).fill(equilibrium_Pa);
    const loss_Pa = new Float64Array(n);
    for (let j = 0; j < modes; j++) {
      if (solution[j] === 0) continue;
      const time_s = this.times_s[j];
      const modulus_Pa = solution[j] * this.scale[j];
      for (let i = 0; i < n; i++) {
        const x = angularFrequency_rad_s[i] * time_s;
        const share_Pa = (modulus_Pa * x) / (1 + x * x);
        storage_Pa[i] += share_Pa * x;
        loss_Pa[i] += share_Pa;
      }
    }
    const out = new Float64Array(2 * n);
    for (let i = 0; i < n; i++) {
      out[i] = storageWeight[i] * storage_Pa[i] - this.rhs[i];
      out[n + i] = lossWeight[i] * loss_Pa[i] - this.rhs[n + i];
    }
    return out;
  }

  solve(strength: number, warm: Uint8Array | null, withScore: boolean): PenalisedSolution {
    const matrix = this.gram.slice();
    const weight = strength * this.penaltyWeight;
    eachCurvature(this.curvature, (i, j, value) => {
      matrix[i * this.size + j] += weight * value;
    });
    // A trace of ridge keeps modes that the data hardly see apart.
    for (let j = 0; j < this.size; j++) matrix[j * this.size + j] *= 1 + 1e-13;
    const { solution, passive, order, factor } = settledQuadratic(matrix, this.linear, this.rhs, warm);
    const residuals = this.residuals(solution);
    let rss = 0;
    for (const r of residuals) rss += r * r;
    const effectiveParameters = withScore ? this.influence(order, factor, strength) : Number.NaN;
    const left = this.count - effectiveParameters;
    const score = left > 0 ? (this.count * rss) / square(left) : Number.POSITIVE_INFINITY;
    return { solution, passive, residuals, rss, effectiveParameters, score };
  }

  /** tr((G + λP)⁻¹ G) over the passive set, which is its size less λ tr((G + λP)⁻¹ P): with (G + λP) = L Lᵀ and P = DᵀD the last is |L⁻¹ Dᵀ|². */
  private influence(order: Int32Array, factor: Float64Array, strength: number): number {
    const { size } = this;
    const n = order.length;
    const place = new Int32Array(size).fill(-1);
    for (const [a, j] of order.entries()) place[j] = a;
    let squares = 0;
    const column = new Float64Array(n);
    for (let j = 1; j + 1 < this.times_s.length; j++) {
      column.fill(0);
      let first = n;
      for (let k = 0; k < 3; k++) {
        const a = place[j - 1 + k];
        if (a < 0) continue;
        column[a] = this.curvature[3 * (j - 1) + k];
        first = Math.min(first, a);
      }
      for (let a = first; a < n; a++) {
        const row = a * size;
        const value = (column[a] - dot(factor, row + first, column, first, a - first)) / factor[row + a];
        column[a] = value;
        squares += value * value;
      }
    }
    return n - strength * this.penaltyWeight * squares;
  }
}

/**
 * Second differences of numbers at times that may stand unevenly in their logarithm, such that the sum of their squares is the
 * same integral on every grid.
 * @param times_s m times, ascending
 * @returns the rows, three numbers each, and the width of each mode, both in steps of the slowest two
 */
export function secondDifferences(times_s: Float64Array): { curvature: Float64Array; widths: Float64Array } {
  const modes = times_s.length;
  const logs = times_s.map(log10);
  const step = logs[modes - 1] - logs[modes - 2];
  const curvature = new Float64Array(3 * (modes - 2));
  const widths = new Float64Array(modes);
  widths[0] = (logs[1] - logs[0]) / step;
  widths[modes - 1] = 1;
  for (let j = 1; j + 1 < modes; j++) {
    const before = (logs[j] - logs[j - 1]) / step;
    const after = (logs[j + 1] - logs[j]) / step;
    widths[j] = 0.5 * (before + after);
    const root = Math.sqrt(widths[j]);
    const at = 3 * (j - 1);
    curvature[at] = 1 / (before * root);
    curvature[at + 2] = 1 / (after * root);
    curvature[at + 1] = -curvature[at] - curvature[at + 2];
  }
  return { curvature, widths };
}

/** The elements of D²ᵀD² over the modes, in parts that add up. */
export function eachCurvature(
  curvature: Float64Array,
  take: (row: number, column: number, value: number) => void,
): void {
  for (let j = 0; 3 * j < curvature.length; j++) {
    for (let a = 0; a < 3; a++)
      for (let b = 0; b < 3; b++) take(j + a, j + b, curvature[3 * j + a] * curvature[3 * j + b]);
  }
}

/** A quarter of a decade either way. */
const near = exp10(0.25);

/** The loss modulus near ω = 1/τ (mean of the points within a quarter decade, else the nearest); last entry: the lowest M′. */
function localLossModulus(points: ModulusPoints, times_s: Float64Array): Float64Array {
  const { angularFrequency_rad_s, storageModulus_Pa, lossModulus_Pa, storageWeight, lossWeight } = points;
  const n = angularFrequency_rad_s.length;
  let lowestStorage = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    if (storageWeight[i] > 0) lowestStorage = Math.min(lowestStorage, storageModulus_Pa[i]);
  }
  const last = Number.isFinite(lowestStorage) ? lowestStorage : 1;
  const scale = new Float64Array(times_s.length + 1).fill(last);
  const modes = times_s.length;
  const sums = new Float64Array(modes);
  const counts = new Int32Array(modes);
  for (let i = 0; i < n; i++) {
    if (!(lossWeight[i] > 0)) continue;
    const omega = angularFrequency_rad_s[i];
    for (let j = countBelow(times_s, 1 / (omega * near)); j < modes && omega * times_s[j] < near; j++) {
      sums[j] += lossModulus_Pa[i];
      counts[j]++;
    }
  }
  for (let j = 0; j < modes; j++) {
    if (counts[j] > 0) {
      scale[j] = sums[j] / counts[j];
      continue;
    }
    let nearest = Number.POSITIVE_INFINITY;
    for (let i = 0; i < n; i++) {
      const x = angularFrequency_rad_s[i] * times_s[j];
      const distance = Math.max(x, 1 / x);
      if (!(lossWeight[i] > 0) || distance >= nearest) continue;
      nearest = distance;
      scale[j] = lossModulus_Pa[i];
    }
  }
  return scale;
}
