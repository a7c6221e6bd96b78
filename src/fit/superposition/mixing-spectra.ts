import { cholesky, solveCholesky } from "../../numeric/cholesky.js";
import { writeColumnProducts } from "../../numeric/column-products.js";
import { dot } from "../../numeric/dot.js";
import { exp, exp10 } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { square } from "../../numeric/elementary/power.js";
import { settledQuadratic } from "../../numeric/non-negative/settled-quadratic.js";
import { orthonormalColumns } from "../../numeric/statistics/deviates.js";
import { complexLog, complexPower, complexQuotient, complexSum } from "../spectrum/complex-modulus.js";
import { eachCurvature, secondDifferences } from "../spectrum/penalised-spectrum.js";
import { entropicFactor, mixedPhaseModulus, poweredPhase } from "../spectrum/phase-mixing.js";
import { seenDirections } from "../spectrum/seen-errors.js";
import { log10ShiftFactor, type WlfLaw } from "../spectrum/shift-law.js";
import { range } from "./shift/reduced-points.js";
import {
  localLoss,
  PhasesAtLaws,
  responseBeyond_K,
  responseStep_K,
  type TwoPhaseOptions,
  type TwoPhasePoints,
} from "./two-phase-spectra.js";

/** One phase of a mixture at its law's reference temperature, with its volume fraction to the power 1/n in its moduli. */
interface PhaseOfMixture {
  law: WlfLaw;
  times_s: Float64Array;
  /** Of all modes, also those that are not in use. */
  moduli_Pa: Float64Array;
  equilibriumModulus_Pa: number;
  entropicPart: number;
}

export interface MixingSolution {
  /** Colder M″ peak first. */
  phases: [PhaseOfMixture, PhaseOfMixture];
  /** (fit − measured)/measured, storage first, then loss. */
  residuals: Float64Array;
  rms: number;
}

/** A solution with what its derivatives and draws need. */
export interface SolvedMixing extends MixingSolution {
  solution: Float64Array;
  passive: Uint8Array;
  /** (A/M)ⁿ of each phase at each point, which add up to one: a start for another n too. */
  shares: [Complex, Complex];
  /** Weighted columns of the modes and equilibrium moduli, 2n each. */
  kernel: Float64Array;
}

/** A solution at other parameters, or only its shares. */
type MixingStart = SolvedMixing | Pick<SolvedMixing, "shares">;

/** Of the modes, with the penalty on their curvature. */
interface NormalEquations {
  matrix: Float64Array;
  linear: Float64Array;
}

/** Lower Cholesky factor of the rows of the normal equations that are in use, in their order. */
interface UsedFactor {
  order: Int32Array;
  factor: Float64Array;
}

interface Complex {
  re: Float64Array;
  im: Float64Array;
}

/**
 * Of a draw too: after one round half of the draws of some blends missed the data by 10 %, by their solver's fault, which put
 * a tan δ peak off by 15 % in height.
 */
const mostRounds = { first: 24, next: 6, drawn: 8 };
const settled = 1e-3;
/** How much a mode is held to where it is after a step that led too far, as a share of what the data hold it to theirs. */
const damping = { first: 0.03, growth: 10, most: 1e4, least: 0.01 };

/**
 * The spectra of both phases of a mixture, M*ⁿ = A*ⁿ + B*ⁿ, at given laws and exponent. As M is homogeneous in A and B, it
 * is (A/M)^(n−1) A + (B/M)^(n−1) B exactly: with these shares held, the modes follow by non-negative least squares, and the
 * next shares from them (Gauss–Newton, damped as by Levenberg and Marquardt).
 * @param parameters six as of `phaseLaw`, ln n, and the entropic part of each phase
 */
export class MixingSpectra extends PhasesAtLaws {
  private readonly exponent: number;
  /** K of each column, n points a column; the equilibrium modulus is the last column of its phase. */
  private readonly plain: Complex;
  private readonly scale: Float64Array;
  /** ln of what each phase's moduli at each point grow by with temperature, for an entropic part of one. */
  private readonly growth: readonly [Float64Array, Float64Array];
  /** First column of each phase, and the number of all. */
  private readonly first: readonly [number, number];
  private readonly size: number;

  constructor(
    points: TwoPhasePoints,
    parameters: Float64Array,
    private readonly options: TwoPhaseOptions,
  ) {
    super(points, parameters, options.modesPerDecade);
    const { reduced } = this;
    const n = points.frequency_Hz.length;
    this.exponent = exp(parameters[6]);
    this.first = [0, this.times[0].length + 1];
    this.size = this.first[1] + this.times[1].length + 1;
    const growthOf = (phase: 0 | 1) =>
      points.temperature_C.map((T) => ln(entropicFactor(this.laws[phase], T, 1)));
    this.growth = [growthOf(0), growthOf(1)];
    const { size } = this;
    this.plain = { re: new Float64Array(n * size), im: new Float64Array(n * size) };
    this.scale = new Float64Array(size);
    let lowest_Pa = Number.POSITIVE_INFINITY;
    for (const m of points.storageModulus_Pa) if (m > 0) lowest_Pa = Math.min(lowest_Pa, m);
    for (const phase of [0, 1] as const) {
      const times_s = this.times[phase];
      const first = this.first[phase];
      const factor = this.growth[phase].map((growth) => exp(parameters[7 + phase] * growth));
      const scale_Pa = localLoss(reduced[phase], points.lossModulus_Pa, times_s);
      for (let j = 0; j < times_s.length; j++) {
        this.scale[first + j] = scale_Pa[j];
        for (let i = 0; i < n; i++) {
          const x = reduced[phase][i] * times_s[j];
          const loss = (factor[i] * scale_Pa[j]) / (x + 1 / x);
          const at = (first + j) * n + i;
          this.plain.re[at] = loss * x;
          this.plain.im[at] = loss;
        }
      }
      const last = first + times_s.length;
      this.scale[last] = lowest_Pa;
      for (let i = 0; i < n; i++) this.plain.re[last * n + i] = factor[i] * lowest_Pa;
    }
  }

  /** @param start a solution of the same points at much the same parameters; or `startOf` any */
  solve(start: MixingStart | null, isDraw = false): SolvedMixing {
    let best =
      start !== null && "solution" in start && start.solution.length === this.size
        ? this.described(start.solution, start.passive)
        : this.solveAt(this.equationsAt(this.weighted(this.plain, start?.shares ?? this.evenShares())));
    const rounds = isDraw ? mostRounds.drawn : start === null ? mostRounds.first : mostRounds.next;
    let equations: NormalEquations | null = null;
    let hold = 0;
    for (let round = 1; round < rounds && hold < damping.most; round++) {
      equations ??= this.equationsAt(best.kernel);
      // Where a phase has next to no share, its derivative is steep and bends: the whole step leads too far.
      const next = this.solveAt(
        hold === 0 ? equations : heldTo(best.solution, equations, hold),
        best.passive,
      );
      if (!(next.rms < best.rms)) {
        hold = Math.max(damping.first, damping.growth * hold);
        continue;
      }
      const gain = best.rms - next.rms;
      best = next;
      if (gain < settled * best.rms) break;
      hold = hold < damping.least ? 0 : hold / damping.growth;
      equations = null;
    }
    return best;
  }

  /** A start from a solution of other points or modes. */
  startOf({ phases }: MixingSolution): MixingStart {
    const { temperature_C, frequency_Hz } = this.points;
    const shares = this.evenShares();
    for (let i = 0; i < frequency_Hz.length; i++) {
      const powers = phases.map((phase) =>
        poweredPhase(phase, this.exponent, temperature_C[i], frequency_Hz[i]),
      );
      const whole = complexSum(powers[0], powers[1]);
      for (const phase of [0, 1] as const) {
        const share = complexQuotient(powers[phase], whole);
        shares[phase].re[i] = share.storageModulus_Pa;
        shares[phase].im[i] = share.lossModulus_Pa;
      }
    }
    return { shares };
  }

  /** Both phases alike. */
  private evenShares(): [Complex, Complex] {
    const n = this.points.frequency_Hz.length;
    const even = () => ({ re: new Float64Array(n).fill(0.5), im: new Float64Array(n) });
    return [even(), even()];
  }

  /** ∂M/∂A = (A/M)^(n−1). */
  private gainsOf(shares: [Complex, Complex]): [Complex, Complex] {
    const gain = (share: Complex): Complex => {
      const powers = Array.from(share.re, (_, i) =>
        complexPower(at(share, i), (this.exponent - 1) / this.exponent),
      );
      return {
        re: Float64Array.from(powers, (z) => z.storageModulus_Pa),
        im: Float64Array.from(powers, (z) => z.lossModulus_Pa),
      };
    };
    return [gain(shares[0]), gain(shares[1])];
  }

  private phaseOf(column: number): 0 | 1 {
    return column < this.first[1] ? 0 : 1;
  }

  /** Columns times ∂M/∂A or ∂M/∂B, each modulus by its weight. */
  private weighted({ re, im }: Complex, shares: [Complex, Complex]): Float64Array {
    const n = this.points.frequency_Hz.length;
    const gains = this.gainsOf(shares);
    const out = new Float64Array(2 * n * this.size);
    for (let j = 0; j < this.size; j++) {
      const gain = gains[this.phaseOf(j)];
      for (let i = 0; i < n; i++) {
        const at = j * n + i;
        out[2 * j * n + i] = (gain.re[i] * re[at] - gain.im[i] * im[at]) * this.storageWeight[i];
        out[(2 * j + 1) * n + i] = (gain.re[i] * im[at] + gain.im[i] * re[at]) * this.lossWeight[i];
      }
    }
    return out;
  }

  private equationsAt(kernel: Float64Array): NormalEquations {
    const { size, target, options, times, first } = this;
    const rows = target.length;
    const matrix = new Float64Array(size * size);
    const linear = new Float64Array(size);
    let trace = 0;
    const all = { from: 0, to: size };
    writeColumnProducts(kernel, rows, all, all, matrix, size);
    for (let a = 0; a < size; a++) {
      linear[a] = dot(kernel, a * rows, target, 0, rows);
      trace += matrix[a * size + a];
    }
    const weight = (options.strength * trace) / (6 * (size - 1));
    for (const phase of [0, 1] as const) {
      eachCurvature(secondDifferences(times[phase]).curvature, (i, j, value) => {
        matrix[(first[phase] + i) * size + first[phase] + j] += weight * value;
      });
    }
    for (let j = 0; j < size; j++) matrix[j * size + j] += 1e-6 * weight + 1e-12 * trace;
    return { matrix, linear };
  }

  private solveAt({ matrix, linear }: NormalEquations, marks: Uint8Array | null = null): SolvedMixing {
    const { solution, passive } = settledQuadratic(matrix, linear, this.target, marks);
    return this.described(solution, passive);
  }

  private usedFactor({ kernel, passive }: SolvedMixing): UsedFactor {
    const { matrix } = this.equationsAt(kernel);
    const order = Int32Array.from(passive.keys()).filter((j) => passive[j] === 1);
    const n = order.length;
    const factor = new Float64Array(n * n);
    for (let a = 0; a < n; a++) {
      for (let b = 0; b <= a; b++) factor[a * n + b] = matrix[order[a] * this.size + order[b]];
    }
    cholesky(factor, n);
    return { order, factor };
  }

  private described(solution: Float64Array, passive: Uint8Array): SolvedMixing {
    const { points, exponent, target } = this;
    const n = points.frequency_Hz.length;
    const parts = this.partsOf(solution);
    const shares: [Complex, Complex] = [
      { re: new Float64Array(n), im: new Float64Array(n) },
      { re: new Float64Array(n), im: new Float64Array(n) },
    ];
    const residuals = target.map((value) => -value);
    for (let i = 0; i < n; i++) {
      const mixed = this.mixedAt(parts, i);
      for (const phase of [0, 1] as const) {
        const ratio = complexQuotient(at(parts[phase], i), mixed);
        const share = complexPower(ratio, exponent);
        shares[phase].re[i] = share.storageModulus_Pa;
        shares[phase].im[i] = share.lossModulus_Pa;
      }
      residuals[i] += mixed.storageModulus_Pa * this.storageWeight[i];
      residuals[n + i] += mixed.lossModulus_Pa * this.lossWeight[i];
    }
    let rss = 0;
    let used = 0;
    for (let i = 0; i < residuals.length; i++) {
      rss += square(residuals[i]);
      used += target[i];
    }
    return {
      phases: [this.phase(0, solution), this.phase(1, solution)],
      residuals,
      rms: Math.sqrt(rss / used),
      solution,
      passive,
      shares,
      kernel: this.weighted(this.plain, shares),
    };
  }

  private phase(phase: 0 | 1, solution: Float64Array): PhaseOfMixture {
    const first = this.first[phase];
    const times_s = this.times[phase];
    const last = first + times_s.length;
    return {
      law: this.laws[phase],
      times_s,
      moduli_Pa: Float64Array.from(times_s, (_, j) => solution[first + j] * this.scale[first + j]),
      equilibriumModulus_Pa: solution[last] * this.scale[last],
      entropicPart: this.parameters[7 + phase],
    };
  }

  /** A and B at each point; never nothing, whose power has no derivative. */
  private partsOf(solution: Float64Array): [Complex, Complex] {
    const n = this.points.frequency_Hz.length;
    const part = (phase: 0 | 1) => {
      const sum = { re: new Float64Array(n), im: new Float64Array(n) };
      const end = phase === 0 ? this.first[1] : this.size;
      for (let j = this.first[phase]; j < end; j++) {
        if (solution[j] === 0) continue;
        for (let i = 0; i < n; i++) {
          sum.re[i] += this.plain.re[j * n + i] * solution[j];
          sum.im[i] += this.plain.im[j * n + i] * solution[j];
        }
      }
      for (let i = 0; i < n; i++) sum.re[i] = Math.max(sum.re[i], least * this.points.storageModulus_Pa[i]);
      return sum;
    };
    return [part(0), part(1)];
  }

  private mixedAt(parts: [Complex, Complex], i: number) {
    const [a, b] = parts.map((part) => complexPower(at(part, i), this.exponent));
    return complexPower(complexSum(a, b), 1 / this.exponent);
  }

  /**
   * The derivatives of the residuals by the outer parameters, the modes following (variable projection,
   * Kaufman's form).
   * @returns nine columns of 2n
   */
  derivatives(solved: SolvedMixing): Float64Array[] {
    const used = this.usedFactor(solved);
    return this.directions(solved).map((column) => this.projected(column, solved, used));
  }

  /** The same with the modes held. */
  directions(solved: SolvedMixing): Float64Array[] {
    const n = this.points.frequency_Hz.length;
    const columns: Float64Array[] = [];
    for (const phase of [0, 1] as const) {
      const slope = this.slopeOf(phase, solved);
      for (const shift of this.shiftDerivatives(phase)) {
        columns.push(slope.map((value, i) => value * Math.LN10 * shift[i]));
      }
    }
    columns.push(this.withoutScales(this.byExponent(solved), solved));
    for (const phase of [0, 1] as const) {
      const column = this.partOf(phase, solved);
      columns.push(column.map((value, i) => value * this.growth[phase][i % n]));
    }
    return columns;
  }

  /** ∂M/∂ln ω of a phase, weighted: of K it is ix/(1+ix)² = x (2x + i (1−x²))/(1+x²)². */
  private slopeOf(phase: 0 | 1, { solution, shares }: SolvedMixing): Float64Array {
    const n = this.points.frequency_Hz.length;
    const sum = { re: new Float64Array(n), im: new Float64Array(n) };
    const first = this.first[phase];
    for (const [j, time_s] of this.times[phase].entries()) {
      const modulus = solution[first + j];
      if (modulus === 0) continue;
      for (let i = 0; i < n; i++) {
        const x = this.reduced[phase][i] * time_s;
        const share = (modulus * this.plain.im[(first + j) * n + i]) / (1 + x * x);
        sum.re[i] += 2 * share * x;
        sum.im[i] += share * (1 - x * x);
      }
    }
    return this.weightedColumn(sum, this.gainsOf(shares)[phase]);
  }

  private weightedColumn(column: Complex, gain: Complex): Float64Array {
    const n = this.points.frequency_Hz.length;
    const out = new Float64Array(2 * n);
    for (let i = 0; i < n; i++) {
      out[i] = (gain.re[i] * column.re[i] - gain.im[i] * column.im[i]) * this.storageWeight[i];
      out[n + i] = (gain.re[i] * column.im[i] + gain.im[i] * column.re[i]) * this.lossWeight[i];
    }
    return out;
  }

  /**
   * A column less what a factor on each phase's modes makes of it: these follow n without bending, which the penalty, whose
   * weight goes with them, would otherwise seem to hinder.
   */
  private withoutScales(column: Float64Array, solved: SolvedMixing): Float64Array {
    const rows = column.length;
    const left = column.slice();
    for (const unit of orthonormalColumns([this.partOf(0, solved), this.partOf(1, solved)])) {
      const amount = dot(unit, 0, left, 0, rows);
      for (let i = 0; i < rows; i++) left[i] -= amount * unit[i];
    }
    return left;
  }

  /** ∂M/∂A · A of a phase, weighted. */
  private partOf(phase: 0 | 1, { kernel, solution }: SolvedMixing): Float64Array {
    const rows = this.target.length;
    const part = new Float64Array(rows);
    const end = phase === 0 ? this.first[1] : this.size;
    for (let j = this.first[phase]; j < end; j++) {
      if (solution[j] === 0) continue;
      for (let i = 0; i < rows; i++) part[i] += kernel[j * rows + i] * solution[j];
    }
    return part;
  }

  /** ∂M/∂ln n = M ((Aⁿ ln A + Bⁿ ln B)/(Aⁿ + Bⁿ) − ln M). */
  private byExponent({ solution }: SolvedMixing): Float64Array {
    const n = this.points.frequency_Hz.length;
    const parts = this.partsOf(solution);
    const column = new Float64Array(2 * n);
    for (let i = 0; i < n; i++) {
      const mixed = this.mixedAt(parts, i);
      const whole = complexPower(mixed, this.exponent);
      let re = 0;
      let im = 0;
      for (const part of parts) {
        // Aⁿ/Mⁿ · ln(A/M)
        const ratio = complexQuotient(complexPower(at(part, i), this.exponent), whole);
        const log = complexLog(complexQuotient(at(part, i), mixed));
        re += ratio.storageModulus_Pa * log.re - ratio.lossModulus_Pa * log.im;
        im += ratio.storageModulus_Pa * log.im + ratio.lossModulus_Pa * log.re;
      }
      column[i] = (mixed.storageModulus_Pa * re - mixed.lossModulus_Pa * im) * this.storageWeight[i];
      column[n + i] = (mixed.storageModulus_Pa * im + mixed.lossModulus_Pa * re) * this.lossWeight[i];
    }
    return column;
  }

  /** A column less what the modes in use take up of it. */
  private projected(
    column: Float64Array,
    { kernel }: SolvedMixing,
    { order, factor }: UsedFactor,
  ): Float64Array {
    const rows = column.length;
    const share = Float64Array.from(order, (j) => dot(kernel, j * rows, column, 0, rows));
    solveCholesky(factor, order.length, share);
    const left = column.slice();
    for (let a = 0; a < share.length; a++) {
      const from = order[a] * rows;
      for (let i = 0; i < rows; i++) left[i] -= share[a] * kernel[from + i];
    }
    return left;
  }

  /**
   * Errors of the moduli that move the moduli at a frequency, for 2n relative errors of these deviations; first those that
   * move them most.
   */
  seenErrors(
    solved: SolvedMixing,
    deviations: { storage: number; loss: number },
    frequency_Hz: number,
  ): Float64Array[] {
    return seenDirections(new Float64Array(), this.target, deviations, this.responses(solved, frequency_Hz));
  }

  /** By how much each weighted datum moves the logs of M′ and M″ at a frequency, every few kelvin; columns of 2n. */
  private responses(solved: SolvedMixing, frequency_Hz: number): Float64Array[] {
    const { order, factor } = this.usedFactor(solved);
    const rows = this.target.length;
    const measured = range(this.points.temperature_C);
    const columns: Float64Array[] = [];
    for (let T = measured.low; T <= measured.high + responseBeyond_K; T += responseStep_K) {
      const omega = this.laws.map((law) => 2 * Math.PI * frequency_Hz * exp10(log10ShiftFactor(law, T)));
      const factors = solved.phases.map(({ law, entropicPart }) => entropicFactor(law, T, entropicPart));
      const parts = solved.phases.map((phase, k) => {
        const { storageModulus_Pa, lossModulus_Pa } = mixedPhaseModulus(phase, omega[k]);
        return {
          storageModulus_Pa: factors[k] * storageModulus_Pa,
          lossModulus_Pa: factors[k] * lossModulus_Pa,
        };
      });
      if (!parts.every(({ storageModulus_Pa }) => storageModulus_Pa > 0)) continue;
      const [a, b] = parts.map((part) => complexPower(part, this.exponent));
      const mixed = complexPower(complexSum(a, b), 1 / this.exponent);
      const gains = parts.map((part) => complexPower(complexQuotient(part, mixed), this.exponent - 1));
      const storage = new Float64Array(order.length);
      const loss = new Float64Array(order.length);
      for (let k = 0; k < order.length; k++) {
        const j = order[k];
        const phase = this.phaseOf(j);
        const mode = j - this.first[phase];
        const x = omega[phase] * (this.times[phase][mode] ?? Number.POSITIVE_INFINITY);
        const scale = factors[phase] * this.scale[j];
        const re = scale / (1 + 1 / (x * x));
        const im = scale / (x + 1 / x);
        const gain = gains[phase];
        storage[k] = (gain.storageModulus_Pa * re - gain.lossModulus_Pa * im) / mixed.storageModulus_Pa;
        loss[k] = (gain.storageModulus_Pa * im + gain.lossModulus_Pa * re) / mixed.lossModulus_Pa;
      }
      for (const amounts of [storage, loss]) {
        solveCholesky(factor, order.length, amounts);
        const column = new Float64Array(rows);
        for (let k = 0; k < order.length; k++) {
          const from = order[k] * rows;
          for (let i = 0; i < rows; i++) column[i] += amounts[k] * solved.kernel[from + i];
        }
        columns.push(column);
      }
    }
    return columns;
  }
}

/** The same equations with each mode held to where it is, by a share of what the data hold it to theirs. */
function heldTo(solution: Float64Array, { matrix, linear }: NormalEquations, share: number): NormalEquations {
  const size = linear.length;
  const held = { matrix: matrix.slice(), linear: linear.slice() };
  for (let j = 0; j < size; j++) {
    const weight = share * matrix[j * size + j];
    held.matrix[j * size + j] += weight;
    held.linear[j] += weight * solution[j];
  }
  return held;
}

/** Of the measured M′. */
const least = 1e-12;

const at = ({ re, im }: Complex, i: number) => ({ storageModulus_Pa: re[i], lossModulus_Pa: im[i] });
