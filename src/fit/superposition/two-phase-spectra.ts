import { solveCholesky } from "../../numeric/cholesky.js";
import { writeColumnProducts } from "../../numeric/column-products.js";
import { dot } from "../../numeric/dot.js";
import { exp, exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { square } from "../../numeric/elementary/power.js";
import { settledQuadratic } from "../../numeric/non-negative/settled-quadratic.js";
import { maxwellGram } from "../spectrum/maxwell-gram.js";
import { logSpacedTimes, maxwellKernel, relativeWeights } from "../spectrum/maxwell-kernel.js";
import { eachCurvature, secondDifferences } from "../spectrum/penalised-spectrum.js";
import { seenDirections } from "../spectrum/seen-errors.js";
import { log10ShiftFactor, type WlfLaw } from "../spectrum/shift-law.js";
import { conventionalGlassTemperature_C, decadesToGlass } from "./law/conventional-glass-temperature.js";
import { range } from "./shift/reduced-points.js";

/** Moduli at their temperatures and frequencies; values that are not positive carry no weight. */
export interface TwoPhasePoints {
  temperature_C: Float64Array;
  frequency_Hz: Float64Array;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
}

/** One phase: a spectrum at its law's reference temperature. */
export interface PhaseSpectrum {
  law: WlfLaw;
  times_s: Float64Array;
  moduli_Pa: Float64Array;
}

export interface TwoPhaseSolution {
  /** Colder M″ peak first. */
  phases: [PhaseSpectrum, PhaseSpectrum];
  equilibriumModulus_Pa: number;
  /** (fit − measured)/measured, storage first, then loss. */
  residuals: Float64Array;
  /** Marks of each phase's modes in use, the fastest first. */
  inUse: [Uint8Array, Uint8Array];
  rms: number;
}

/**
 * Per phase: the temperature of its M″ peak at 1 Hz, the logs of the slope of its shift factor there in decades per
 * kelvin and of the distance to T∞ in kelvin.
 */
export type TwoPhaseParameters = Float64Array;

/** Decades of relaxation time about the one that peaks at 1 Hz that a phase's spectrum may fill. */
const fastest_decades = -11;
const slowest_decades = 9;

/**
 * The law of one phase, its tangent below the static Tg that goes with its M″ peak at 1 Hz.
 * @param parameters six: per phase the M″ peak at 1 Hz in °C, ln of its slope in decades a kelvin, ln of its distance to T∞ in K
 */
export function phaseLaw(parameters: ArrayLike<number>, phase: 0 | 1): WlfLaw {
  const peak_C = parameters[3 * phase];
  const slope = exp(parameters[3 * phase + 1]);
  const distance_K = exp(parameters[3 * phase + 2]);
  const plain: WlfLaw = {
    kind: "wlf",
    referenceTemperature_C: peak_C,
    c1: slope * distance_K,
    c2_K: distance_K,
    tangentBelow_C: null,
  };
  const decades = decadesToGlass(1);
  const glass_C =
    plain.c1 > 1.3 * decades
      ? conventionalGlassTemperature_C(plain, { temperature_C: peak_C, frequency_Hz: 1 })
      : peak_C - 0.75 * distance_K;
  return { ...plain, tangentBelow_C: Math.max(glass_C, peak_C - 0.75 * distance_K) };
}

/** How the spectra are solved: relaxation times a decade, and the weight of the penalty on their curvature. */
export interface TwoPhaseOptions {
  modesPerDecade: number;
  strength: number;
}

/** Two phases at given laws as data see them, before any spectrum. */
export class PhasesAtLaws {
  protected readonly laws: readonly [WlfLaw, WlfLaw];
  /** Angular frequencies at each phase's reference temperature. */
  protected readonly reduced: readonly [Float64Array, Float64Array];
  protected readonly times: readonly [Float64Array, Float64Array];
  protected readonly storageWeight: Float64Array;
  protected readonly lossWeight: Float64Array;
  /** 2n weighted data, storage first: one, and zero where there is none. */
  protected readonly target: Float64Array;

  /**
   * @param points n temperatures in °C, frequencies in Hz and moduli in Pa; a modulus that is not positive has no weight
   * @param parameters as of `phaseLaw`
   */
  constructor(
    protected readonly points: TwoPhasePoints,
    protected readonly parameters: ArrayLike<number>,
    modesPerDecade: number,
  ) {
    const { frequency_Hz, temperature_C, storageModulus_Pa, lossModulus_Pa } = points;
    this.laws = [phaseLaw(parameters, 0), phaseLaw(parameters, 1)];
    const reducedBy = (law: WlfLaw) =>
      frequency_Hz.map((f, i) => 2 * Math.PI * f * exp10(log10ShiftFactor(law, temperature_C[i])));
    this.reduced = [reducedBy(this.laws[0]), reducedBy(this.laws[1])];
    this.times = [timesOver(this.reduced[0], modesPerDecade), timesOver(this.reduced[1], modesPerDecade)];
    this.storageWeight = relativeWeights(storageModulus_Pa);
    this.lossWeight = relativeWeights(lossModulus_Pa);
    const n = frequency_Hz.length;
    this.target = new Float64Array(2 * n);
    for (let i = 0; i < n; i++) {
      this.target[i] = this.storageWeight[i] > 0 ? 1 : 0;
      this.target[n + i] = this.lossWeight[i] > 0 ? 1 : 0;
    }
  }

  /** ∂ log10 aT/∂ parameter of each row's point, for the three parameters of a phase. */
  protected shiftDerivatives(phase: 0 | 1): Float64Array[] {
    const { temperature_C } = this.points;
    const here = temperature_C.map((t) => log10ShiftFactor(this.laws[phase], t));
    return [0.03, 0.002, 0.002].map((step, k) => {
      const moved = Float64Array.from(this.parameters);
      moved[3 * phase + k] += step;
      const law = phaseLaw(moved, phase);
      const ofPoints = temperature_C.map((t, i) => (log10ShiftFactor(law, t) - here[i]) / step);
      return Float64Array.of(...ofPoints, ...ofPoints);
    });
  }
}

/**
 * The spectra of both phases at given laws: non-negative least squares with a penalty on their curvature, each modulus
 * in units of the local loss modulus.
 */
export class TwoPhaseSpectra extends PhasesAtLaws {
  /** 2n rows a column: the colder phase's modes, the warmer one's, the equilibrium modulus. */
  private readonly kernel: Float64Array;
  private readonly scale: Float64Array;
  private readonly size: number;
  private readonly matrix: Float64Array;
  private readonly linear: Float64Array;

  constructor(points: TwoPhasePoints, parameters: ArrayLike<number>, options: TwoPhaseOptions) {
    super(points, parameters, options.modesPerDecade);
    const rows = this.target.length;
    const [cold, warm] = this.times.map((times_s) => times_s.length);
    this.size = cold + warm + 1;
    const { size } = this;
    this.kernel = new Float64Array(rows * (size + 1));
    this.scale = new Float64Array(size);
    for (const phase of [0, 1] as const) {
      const first = phase === 0 ? 0 : cold;
      // The kernel writes the equilibrium modulus after its last mode: the warmer phase's goes over the colder one's.
      maxwellKernel(
        this.reduced[phase],
        this.storageWeight,
        this.lossWeight,
        this.times[phase],
        this.kernel.subarray(first * rows, (first + this.times[phase].length + 1) * rows),
      );
      this.scale.set(localLoss(this.reduced[phase], points.lossModulus_Pa, this.times[phase]), first);
    }
    let lowest = Number.POSITIVE_INFINITY;
    for (const m of points.storageModulus_Pa) if (m > 0) lowest = Math.min(lowest, m);
    this.scale[size - 1] = lowest;
    for (let j = 0; j < size; j++) {
      for (let i = j * rows; i < (j + 1) * rows; i++) this.kernel[i] *= this.scale[j];
    }
    this.matrix = this.normalMatrix();
    this.linear = new Float64Array(size);
    let trace = 0;
    for (let a = 0; a < size; a++) {
      this.linear[a] = dot(this.kernel, a * rows, this.target, 0, rows);
      trace += this.matrix[a * size + a];
    }
    const weight = (options.strength * trace) / (6 * (size - 1));
    for (const phase of [0, 1] as const) {
      const first = phase * cold;
      eachCurvature(secondDifferences(this.times[phase]).curvature, (i, j, value) => {
        this.matrix[(first + i) * size + first + j] += weight * value;
      });
    }
    for (let j = 0; j < size; j++) this.matrix[j * size + j] += 1e-6 * weight + 1e-12 * trace;
  }

  /**
   * @param start a solution of much the same points and laws, to begin with its modes
   * @returns with 2n relative residuals, storage first
   */
  solve(start: TwoPhaseSolution | null): SolvedTwoPhases {
    const { size, kernel, scale, target, times } = this;
    const rows = target.length;
    const cold = times[0].length;
    // The times are laid from the fast end, so that a mode of a slightly other window keeps its number.
    const marks = new Uint8Array(size).fill(1);
    for (const phase of [0, 1]) {
      start?.inUse[phase].subarray(0, times[phase].length).forEach((mark, j) => {
        marks[phase * cold + j] = mark;
      });
    }
    const { solution, passive, order, factor } = settledQuadratic(this.matrix, this.linear, target, marks);
    const residuals = target.map((value) => -value);
    for (let j = 0; j < size; j++) {
      if (solution[j] === 0) continue;
      for (let i = 0; i < rows; i++) residuals[i] += kernel[j * rows + i] * solution[j];
    }
    let rss = 0;
    let used = 0;
    for (let i = 0; i < rows; i++) {
      rss += square(residuals[i]);
      used += target[i];
    }
    const phaseOf = (phase: 0 | 1): PhaseSpectrum => {
      const first = phase * cold;
      const kept = Array.from(times[phase].keys()).filter((j) => solution[first + j] > 0);
      return {
        law: this.laws[phase],
        times_s: Float64Array.from(kept, (j) => times[phase][j]),
        moduli_Pa: Float64Array.from(kept, (j) => solution[first + j] * scale[first + j]),
      };
    };
    return {
      phases: [phaseOf(0), phaseOf(1)],
      equilibriumModulus_Pa: solution[size - 1] * scale[size - 1],
      residuals,
      rms: Math.sqrt(rss / used),
      inUse: [passive.slice(0, cold), passive.slice(cold, size - 1)],
      solution,
      factor: { order, factor },
    };
  }

  /**
   * The derivative of the residuals r by each of the six parameters, the spectra following: with A the columns in use, u
   * their moduli and P the penalty it is v − A (AᵀA + P)⁻¹ (Aᵀv + ∂Aᵀ/∂p r), v = ∂A/∂p u (variable projection; Golub and
   * Pereyra, SIAM J. Numer. Anal. 10, 413, 1973).
   * @param solved what `solve` gave
   * @returns six columns of 2n
   */
  derivatives({ solution, residuals, factor: { order, factor } }: SolvedTwoPhases): Float64Array[] {
    const { kernel, size } = this;
    const rows = residuals.length;
    const inUse = order.length;
    const cold = this.times[0].length;
    const columns: Float64Array[] = [];
    for (const phase of [0, 1] as const) {
      const shifts = this.shiftDerivatives(phase);
      const slope = new Float64Array(rows);
      const against = shifts.map(() => new Float64Array(inUse));
      for (let a = 0; a < inUse; a++) {
        const j = order[a] - phase * cold;
        if (j < 0 || j >= this.times[phase].length) continue;
        const own = this.slopeOf(phase, j);
        for (let i = 0; i < rows; i++) slope[i] += own[i] * solution[order[a]];
        for (const [k, shift] of shifts.entries()) {
          let sum = 0;
          for (let i = 0; i < rows; i++) sum += own[i] * shift[i] * residuals[i];
          against[k][a] = sum;
        }
      }
      for (const [k, shift] of shifts.entries()) {
        const column = slope.map((value, i) => value * shift[i]);
        const share = against[k];
        for (let a = 0; a < inUse; a++) share[a] += dot(kernel, order[a] * rows, column, 0, rows);
        solveCholesky(factor, inUse, share, size);
        for (let a = 0; a < inUse; a++) {
          const from = order[a] * rows;
          for (let i = 0; i < rows; i++) column[i] -= share[a] * kernel[from + i];
        }
        columns.push(column);
      }
    }
    return columns;
  }

  /**
   * Errors of the moduli that the spectra can see, for 2n relative errors of these deviations; first those that move the
   * moduli at a frequency most.
   */
  seenErrors(deviations: { storage: number; loss: number }, frequency_Hz: number): Float64Array[] {
    const kernel = this.kernel.subarray(0, this.size * this.target.length);
    return seenDirections(kernel, this.target, deviations, this.responses(frequency_Hz));
  }

  /**
   * By how much each weighted datum moves the logs of the storage and the loss modulus at a frequency, every few kelvin:
   * A (AᵀA + P)⁻¹ c with A the columns in use and c their share of that modulus.
   * @returns columns of 2n
   */
  private responses(frequency_Hz: number): Float64Array[] {
    const {
      solution,
      factor: { order, factor },
    } = this.solve(null);
    const rows = this.target.length;
    const inUse = order.length;
    const cold = this.times[0].length;
    const measured = range(this.points.temperature_C);
    const columns: Float64Array[] = [];
    for (let T = measured.low; T <= measured.high + responseBeyond_K; T += responseStep_K) {
      const omega = this.laws.map((law) => 2 * Math.PI * frequency_Hz * exp10(log10ShiftFactor(law, T)));
      const storage = new Float64Array(inUse);
      const loss = new Float64Array(inUse);
      for (let a = 0; a < inUse; a++) {
        const j = order[a];
        if (j === this.size - 1) {
          storage[a] = this.scale[j];
          continue;
        }
        const phase = j < cold ? 0 : 1;
        const x = omega[phase] * this.times[phase][j - phase * cold];
        loss[a] = this.scale[j] / (x + 1 / x);
        storage[a] = loss[a] * x;
      }
      for (const shares of [storage, loss]) {
        let modulus_Pa = 0;
        for (let a = 0; a < inUse; a++) modulus_Pa += shares[a] * solution[order[a]];
        const amounts = shares.map((share) => share / modulus_Pa);
        solveCholesky(factor, inUse, amounts, this.size);
        const column = new Float64Array(rows);
        for (let a = 0; a < inUse; a++) {
          const from = order[a] * rows;
          for (let i = 0; i < rows; i++) column[i] += amounts[a] * this.kernel[from + i];
        }
        columns.push(column);
      }
    }
    return columns;
  }

  /** AᵀA: of the modes of one phase in closed form, of a mode of each by the product of their columns. */
  private normalMatrix(): Float64Array {
    const { kernel, scale, size, target, times, storageWeight, lossWeight } = this;
    const rows = target.length;
    const cold = times[0].length;
    const matrix = new Float64Array(size * size);
    for (const phase of [0, 1] as const) {
      const modes = times[phase].length;
      const { gram } = maxwellGram(this.reduced[phase], storageWeight, lossWeight, target, times[phase]);
      // Its last row is the equilibrium modulus.
      const place = (j: number) => (j === modes ? size - 1 : phase * cold + j);
      for (let a = 0; a <= modes; a++) {
        for (let b = 0; b <= modes; b++) {
          matrix[place(a) * size + place(b)] = gram[a * (modes + 1) + b] * scale[place(a)] * scale[place(b)];
        }
      }
    }
    writeColumnProducts(kernel, rows, { from: 0, to: cold }, { from: cold, to: size - 1 }, matrix, size);
    return matrix;
  }

  /** ∂/∂ log10 aT of the kernel's column of one of a phase's modes. */
  private slopeOf(phase: 0 | 1, mode: number): Float64Array {
    const omega = this.reduced[phase];
    const n = omega.length;
    const time_s = this.times[phase][mode];
    const scale = Math.LN10 * this.scale[phase * this.times[0].length + mode];
    const out = new Float64Array(2 * n);
    for (let i = 0; i < n; i++) {
      const x = omega[i] * time_s;
      const loss = 1 / (x + 1 / x);
      // d/d ln x of x²/(1+x²) is 2 (x/(1+x²))², of x/(1+x²) it is x(1−x²)/(1+x²)².
      out[i] = scale * this.storageWeight[i] * 2 * loss * loss;
      out[n + i] = scale * this.lossWeight[i] * loss * (1 - 2 * x * loss);
    }
    return out;
  }
}

/** Half a decade near a transition; and the peaks at a contact may stand so much warmer than what was measured. */
export const responseStep_K = 2;
export const responseBeyond_K = 20;

/** A solution with what its derivatives need. */
interface SolvedTwoPhases extends TwoPhaseSolution {
  /** Of all modes and the equilibrium modulus, in units of the local loss modulus. */
  solution: Float64Array;
  /** Indices of those in use, and the lower Cholesky factor of their normal matrix, its stride the number of all. */
  factor: { order: Int32Array; factor: Float64Array };
}

/** Relaxation times over a phase's window, no farther from its peak than a spectrum reaches. */
function timesOver(angularFrequency_rad_s: Float64Array, modesPerDecade: number): Float64Array {
  const { low, high } = range(angularFrequency_rad_s);
  return logSpacedTimes(
    Math.max(low, exp10(-slowest_decades)),
    Math.min(high, exp10(-fastest_decades)),
    modesPerDecade,
    0.5,
  );
}

/** M″ near ω = 1/τ, log mean of the points within a quarter decade, else the nearest. */
export function localLoss(w: Float64Array, loss_Pa: Float64Array, times_s: Float64Array): Float64Array {
  const order = Array.from(w.keys())
    .filter((i) => loss_Pa[i] > 0)
    .sort((a, b) => w[a] - w[b]);
  const x = order.map((i) => log10(w[i]));
  const y = order.map((i) => log10(loss_Pa[i]));
  const scale = new Float64Array(times_s.length);
  for (let j = 0; j < times_s.length; j++) {
    const at = -log10(times_s[j]);
    let sum = 0;
    let count = 0;
    let nearest = 0;
    for (let k = 0; k < x.length; k++) {
      const distance = Math.abs(x[k] - at);
      if (distance < Math.abs(x[nearest] - at)) nearest = k;
      if (distance <= 0.3) {
        sum += y[k];
        count++;
      }
    }
    scale[j] = exp10(count > 0 ? sum / count : y[nearest]);
  }
  return scale;
}
