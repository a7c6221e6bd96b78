import { cholesky, solveCholesky } from "../../numeric/cholesky.js";
import { exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { square } from "../../numeric/elementary/power.js";
import { gramMatrix } from "../../numeric/gram-matrix.js";
import { nnls } from "../../numeric/non-negative/nnls.js";
import { nonNegativeQuadratic } from "../../numeric/non-negative/nonnegative-quadratic.js";
import { type ModulusPoints, maxwellKernel, weightedModuli } from "./maxwell-kernel.js";

/** One solution of the penalised problem; u is the moduli divided by `scale`, the equilibrium modulus last. */
export interface PenalisedSolution {
  solution: Float64Array;
  passive: Uint8Array;
  rss: number;
  effectiveParameters: number;
  score: number;
}

/** |A u − b|² + λ |D² u|² with u ≥ 0, u the moduli divided by the local loss modulus, as a quadratic form. */
export class PenalisedSpectrum {
  readonly scale: Float64Array;
  /** How many moduli have a weight. */
  readonly count: number;
  private readonly kernel: Float64Array;
  private readonly rhs: Float64Array;
  private readonly gram: Float64Array;
  private readonly linear: Float64Array;
  private readonly penalty: Float64Array;
  private readonly penaltyWeight: number;
  private readonly size: number;

  constructor(
    points: ModulusPoints,
    readonly times_s: Float64Array,
    readonly equilibrium: boolean,
  ) {
    const modes = times_s.length;
    const rows = 2 * points.angularFrequency_rad_s.length;
    this.size = equilibrium ? modes + 1 : modes;
    this.kernel = new Float64Array(rows * (modes + 1));
    maxwellKernel(
      points.angularFrequency_rad_s,
      points.storageWeight,
      points.lossWeight,
      times_s,
      this.kernel,
    );
    this.rhs = weightedModuli(points);
    this.count = this.rhs.filter((value) => value !== 0).length;
    this.scale = localLossModulus(points, times_s);
    for (let j = 0; j < this.size; j++) {
      for (let i = j * rows; i < (j + 1) * rows; i++) this.kernel[i] *= this.scale[j];
    }
    this.gram = gramMatrix(this.kernel, rows, this.size);
    this.linear = new Float64Array(this.size);
    for (let j = 0; j < this.size; j++) {
      let sum = 0;
      for (let i = 0; i < rows; i++) sum += this.kernel[j * rows + i] * this.rhs[i];
      this.linear[j] = sum;
    }
    this.penalty = curvaturePenalty(modes, this.size);
    let trace = 0;
    for (let j = 0; j < this.size; j++) trace += this.gram[j * this.size + j];
    this.penaltyWeight = trace / (6 * modes);
    for (let k = 0; k < this.penalty.length; k++) this.penalty[k] *= this.penaltyWeight;
  }

  residuals(solution: Float64Array): Float64Array {
    const rows = this.rhs.length;
    const out = this.rhs.map((value) => -value);
    for (let j = 0; j < this.size; j++) {
      if (solution[j] === 0) continue;
      for (let i = 0; i < rows; i++) out[i] += this.kernel[j * rows + i] * solution[j];
    }
    return out;
  }

  solve(strength: number, warm: Uint8Array | null, withScore: boolean): PenalisedSolution {
    const { gram, penalty, size } = this;
    const matrix = new Float64Array(gram.length);
    for (let k = 0; k < gram.length; k++) matrix[k] = gram[k] + strength * penalty[k];
    // A trace of ridge keeps modes that the data hardly see apart.
    for (let j = 0; j < size; j++) matrix[j * size + j] *= 1 + 1e-13;
    const quick = nonNegativeQuadratic(matrix, this.linear, warm);
    const { solution, passive } = quick.converged ? quick : this.solveStacked(strength);
    let rss = 0;
    for (const r of this.residuals(solution)) rss += r * r;
    const effectiveParameters = withScore ? this.influence(matrix, passive) : Number.NaN;
    const left = this.count - effectiveParameters;
    const score = left > 0 ? (this.count * rss) / square(left) : Number.POSITIVE_INFINITY;
    return { solution, passive, rss, effectiveParameters, score };
  }

  /** The same by Lawson and Hanson on the stacked rows, which does not square the condition. */
  private solveStacked(strength: number): { solution: Float64Array; passive: Uint8Array } {
    const { kernel, size, penaltyWeight } = this;
    const data = this.rhs.length;
    const modes = this.times_s.length;
    const rows = data + Math.max(0, modes - 2);
    const values = new Float64Array(rows * size);
    const root = Math.sqrt(strength * penaltyWeight);
    for (let j = 0; j < size; j++) {
      values.set(kernel.subarray(j * data, (j + 1) * data), j * rows);
      if (j >= modes) continue;
      for (const [at, value] of [
        [j, 1],
        [j - 1, -2],
        [j - 2, 1],
      ]) {
        if (at >= 0 && at < modes - 2) values[j * rows + data + at] = root * value;
      }
    }
    const target = new Float64Array(rows);
    target.set(this.rhs);
    const solved = nnls({ rows, columns: size, values }, target);
    const passive = new Uint8Array(size);
    for (const j of solved.passive) passive[j] = 1;
    return { solution: solved.solution, passive };
  }

  /** tr((G + λP)⁻¹ G) over the passive set. */
  private influence(matrix: Float64Array, passive: Uint8Array): number {
    const index: number[] = [];
    for (let j = 0; j < passive.length; j++) if (passive[j] === 1) index.push(j);
    const n = index.length;
    const block = new Float64Array(n * n);
    for (let a = 0; a < n; a++) {
      for (let b = 0; b < n; b++) block[a * n + b] = matrix[index[a] * this.size + index[b]];
    }
    if (!cholesky(block, n)) return n;
    let trace = 0;
    const column = new Float64Array(n);
    for (let b = 0; b < n; b++) {
      for (let a = 0; a < n; a++) column[a] = this.gram[index[a] * this.size + index[b]];
      solveCholesky(block, n, column);
      trace += column[b];
    }
    return trace;
  }
}

/** D²ᵀD² over the modes; the equilibrium modulus is free of it. */
function curvaturePenalty(modes: number, size: number): Float64Array {
  const penalty = new Float64Array(size * size);
  const stencil = [1, -2, 1];
  for (let j = 1; j + 1 < modes; j++) {
    for (let a = 0; a < 3; a++) {
      for (let b = 0; b < 3; b++) penalty[(j - 1 + a) * size + j - 1 + b] += stencil[a] * stencil[b];
    }
  }
  return penalty;
}

/** The loss modulus near ω = 1/τ (log mean of the points within a quarter decade, else the nearest); last entry: the lowest M′. */
function localLossModulus(points: ModulusPoints, times_s: Float64Array): Float64Array {
  const log10Omega: number[] = [];
  const log10Loss: number[] = [];
  let lowestStorage = Number.POSITIVE_INFINITY;
  for (let i = 0; i < points.angularFrequency_rad_s.length; i++) {
    if (points.storageWeight[i] > 0) lowestStorage = Math.min(lowestStorage, points.storageModulus_Pa[i]);
    if (!(points.lossWeight[i] > 0)) continue;
    log10Omega.push(log10(points.angularFrequency_rad_s[i]));
    log10Loss.push(log10(points.lossModulus_Pa[i]));
  }
  const scale = new Float64Array(times_s.length + 1).fill(1);
  scale[times_s.length] = Number.isFinite(lowestStorage) ? lowestStorage : 1;
  if (log10Omega.length === 0) return scale.fill(scale[times_s.length]);
  for (let j = 0; j < times_s.length; j++) {
    const at = -log10(times_s[j]);
    let sum = 0;
    let weight = 0;
    let nearest = 0;
    for (let i = 0; i < log10Omega.length; i++) {
      const distance = Math.abs(log10Omega[i] - at);
      if (distance < Math.abs(log10Omega[nearest] - at)) nearest = i;
      if (distance < 0.25) {
        sum += log10Loss[i];
        weight++;
      }
    }
    scale[j] = exp10(weight > 0 ? sum / weight : log10Loss[nearest]);
  }
  return scale;
}
