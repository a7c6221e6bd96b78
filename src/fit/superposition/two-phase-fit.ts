import { cholesky, solveCholesky } from "../../numeric/cholesky.js";
import { exp, exp10 } from "../../numeric/elementary/exponential.js";
import { ln, log10 } from "../../numeric/elementary/logarithm.js";
import { square } from "../../numeric/elementary/power.js";
import { gramMatrix } from "../../numeric/gram-matrix.js";
import { nonNegativeQuadratic } from "../../numeric/non-negative/nonnegative-quadratic.js";
import { symmetricInverse } from "../../numeric/symmetric-inverse.js";
import { logSpacedTimes, maxwellKernel, relativeWeights } from "../spectrum/maxwell-kernel.js";
import { eachCurvature } from "../spectrum/penalised-spectrum.js";
import { log10ShiftFactor, type WlfLaw } from "../spectrum/shift-law.js";
import { conventionalGlassTemperature_C, decadesToGlass } from "./law/conventional-glass-temperature.js";

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
  rms: number;
}

/**
 * Per phase: the temperature of its M″ peak at 1 Hz, the logs of the slope of its shift factor there in decades per
 * kelvin and of the distance to T∞ in kelvin.
 */
export type TwoPhaseParameters = Float64Array;

/** What is known of any elastomer's law beforehand, one standard deviation of the log beside it. */
const priorSlope_per_K = { middle: 0.25, deviation: 0.35 };
const priorDistance_K = { middle: 65, deviation: 0.4 };
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

/**
 * The spectra of both phases by non-negative least squares at given laws, with a penalty on their curvature.
 * @param points n temperatures in °C, frequencies in Hz and moduli in Pa; a modulus that is not positive has no weight
 * @param parameters as of `phaseLaw`
 * @returns with 2n relative residuals, storage first
 */
export function solveTwoPhases(
  points: TwoPhasePoints,
  parameters: ArrayLike<number>,
  options: { modesPerDecade: number; strength: number },
): TwoPhaseSolution {
  const n = points.frequency_Hz.length;
  const rows = 2 * n;
  const storageWeight = relativeWeights(points.storageModulus_Pa);
  const lossWeight = relativeWeights(points.lossModulus_Pa);
  const laws = [phaseLaw(parameters, 0), phaseLaw(parameters, 1)] as const;
  const reduced = laws.map((law) =>
    points.frequency_Hz.map(
      (f, i) => 2 * Math.PI * f * exp10(log10ShiftFactor(law, points.temperature_C[i])),
    ),
  );
  const times = reduced.map((w) => {
    let low = Number.POSITIVE_INFINITY;
    let high = 0;
    for (const one of w) {
      low = Math.min(low, one);
      high = Math.max(high, one);
    }
    return logSpacedTimes(
      Math.max(low, exp10(-slowest_decades)),
      Math.min(high, exp10(-fastest_decades)),
      options.modesPerDecade,
      0.5,
    );
  });
  const sizes = times.map((t) => t.length);
  const size = sizes[0] + sizes[1] + 1;
  const kernel = new Float64Array(rows * (size + 1));
  const scale = new Float64Array(size);
  let column = 0;
  for (const phase of [0, 1] as const) {
    maxwellKernel(
      reduced[phase],
      storageWeight,
      lossWeight,
      times[phase],
      kernel.subarray(column * rows, (column + sizes[phase] + 1) * rows),
    );
    scale.set(localLoss(reduced[phase], points.lossModulus_Pa, times[phase]), column);
    column += sizes[phase];
  }
  // The kernel's last column is the equilibrium modulus.
  let lowest = Number.POSITIVE_INFINITY;
  for (const m of points.storageModulus_Pa) if (m > 0) lowest = Math.min(lowest, m);
  scale[size - 1] = lowest;
  const target = new Float64Array(rows);
  for (let i = 0; i < n; i++) {
    target[i] = storageWeight[i] > 0 ? 1 : 0;
    target[n + i] = lossWeight[i] > 0 ? 1 : 0;
  }
  for (let j = 0; j < size; j++) for (let i = j * rows; i < (j + 1) * rows; i++) kernel[i] *= scale[j];
  const matrix = gramMatrix(kernel, rows, size);
  const linear = new Float64Array(size);
  let trace = 0;
  for (let a = 0; a < size; a++) {
    let sum = 0;
    for (let i = 0; i < rows; i++) sum += kernel[a * rows + i] * target[i];
    linear[a] = sum;
    trace += matrix[a * size + a];
  }
  const weight = (options.strength * trace) / (6 * (size - 1));
  for (const [first, count] of [
    [0, sizes[0]],
    [sizes[0], sizes[1]],
  ]) {
    eachCurvature(count, (i, j, value) => {
      matrix[(first + i) * size + first + j] += weight * value;
    });
  }
  for (let j = 0; j < size; j++) matrix[j * size + j] += 1e-6 * weight + 1e-12 * trace;
  const { solution } = nonNegativeQuadratic(matrix, linear, null);
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
    const first = phase === 0 ? 0 : sizes[0];
    const kept = Array.from(times[phase].keys()).filter((j) => solution[first + j] > 0);
    return {
      law: laws[phase],
      times_s: Float64Array.from(kept, (j) => times[phase][j]),
      moduli_Pa: Float64Array.from(kept, (j) => solution[first + j] * scale[first + j]),
    };
  };
  return {
    phases: [phaseOf(0), phaseOf(1)],
    equilibriumModulus_Pa: solution[size - 1] * scale[size - 1],
    residuals,
    rms: Math.sqrt(rss / used),
  };
}

/** M″ near ω = 1/τ, log mean of the points within a quarter decade, else the nearest. */
function localLoss(w: Float64Array, loss_Pa: Float64Array, times_s: Float64Array): Float64Array {
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

export interface TwoPhaseFit {
  parameters: TwoPhaseParameters;
  solution: TwoPhaseSolution;
  /** 6 × 6. */
  covariance: Float64Array;
}

/** Levenberg–Marquardt over the six parameters with the spectra projected out; the priors as six further residuals. */
function descendTwoPhases(
  points: TwoPhasePoints,
  start: TwoPhaseParameters,
  places: [number, number],
  options: { modesPerDecade: number; strength: number; iterations: number; floor: number },
): TwoPhaseFit {
  const size = 6;
  let parameters = start.slice();
  let solution = solveTwoPhases(points, parameters, options);
  const sigma = () => Math.max(options.floor, solution.rms);
  let noise = sigma();
  const priorOf = (p: TwoPhaseParameters) => {
    const out = new Float64Array(size);
    for (const phase of [0, 1] as const) {
      out[3 * phase] = (p[3 * phase] - places[phase]) / 8;
      out[3 * phase + 1] = (p[3 * phase + 1] - ln(priorSlope_per_K.middle)) / priorSlope_per_K.deviation;
      out[3 * phase + 2] = (p[3 * phase + 2] - ln(priorDistance_K.middle)) / priorDistance_K.deviation;
    }
    return out;
  };
  const objective = (s: TwoPhaseSolution, p: TwoPhaseParameters) => {
    let sum = 0;
    for (const r of s.residuals) sum += square(r / noise);
    for (const z of priorOf(p)) sum += square(z);
    return sum;
  };
  const steps = [0.3, 0.02, 0.02, 0.3, 0.02, 0.02];
  const allowed = (p: TwoPhaseParameters) => p[3] - p[0] > 5 && p.every(Number.isFinite);
  let damping = 1e-2;
  let information = new Float64Array(size * size);
  for (let iteration = 0; iteration < options.iterations; iteration++) {
    noise = sigma();
    const here = objective(solution, parameters);
    const columns = steps.map((step, j) => {
      const moved = parameters.slice();
      moved[j] += step;
      const { residuals } = solveTwoPhases(points, moved, options);
      return residuals.map((r, i) => (r - solution.residuals[i]) / (step * noise));
    });
    const prior = priorOf(parameters);
    const priorScale = [1 / 8, 1 / priorSlope_per_K.deviation, 1 / priorDistance_K.deviation];
    information = new Float64Array(size * size);
    const gradient = new Float64Array(size);
    for (let a = 0; a < size; a++) {
      for (let b = 0; b < size; b++) {
        let sum = 0;
        for (let i = 0; i < columns[a].length; i++) sum += columns[a][i] * columns[b][i];
        information[a * size + b] = sum;
      }
      let sum = 0;
      for (let i = 0; i < columns[a].length; i++) sum += (columns[a][i] * solution.residuals[i]) / noise;
      information[a * size + a] += square(priorScale[a % 3]);
      gradient[a] = sum + prior[a] * priorScale[a % 3];
    }
    let moved = false;
    for (let tries = 0; tries < 6; tries++) {
      const matrix = information.slice();
      for (let a = 0; a < size; a++) matrix[a * size + a] *= 1 + damping;
      if (!cholesky(matrix, size)) break;
      const step = gradient.map((g) => -g);
      solveCholesky(matrix, size, step);
      const limit = Math.max(...step.map((d, j) => Math.abs(d) / (j % 3 === 0 ? 10 : 0.5)), 1);
      const trial = parameters.map((p, j) => p + step[j] / limit);
      if (allowed(trial)) {
        const next = solveTwoPhases(points, trial, options);
        const gain = here - objective(next, trial);
        if (gain > 0) {
          parameters = trial;
          solution = next;
          damping = Math.max(1e-4, damping / 5);
          moved = gain > 1e-3 * here * 0.1 + 0.05;
          break;
        }
      }
      damping *= 6;
    }
    if (!moved) break;
  }
  const covariance = symmetricInverse(information, size) ?? new Float64Array(size * size);
  return { parameters, solution, covariance };
}

/** Weight of the penalty on the spectra, found on made-up blends; ten times more or less costs a tenth in ln μ. */
export const twoPhaseStrength = 1e-3;
export const twoPhaseModes = 3;
/** The starts are tried on fewer points and modes. */
const coarseModes = 2;
const coarsePoints = 110;
const mostPoints = 320;
/** An outer parameter is not told better than this relative misfit lets it. */
const misfitFloor = 0.01;

/**
 * Two additive non-negative spectra, each with a WLF law of its own: six outer parameters with loose priors, the
 * spectra inside by non-negative least squares (variable projection). On 60 made-up two-phase blends with several mixing
 * rules it brought the error of ln μ from 0.42, that of one law, to 0.04 and of rebound from 0.125 to 0.012.
 *
 * @param starts temperatures of both phases' M″ peaks at 1 Hz, tried in turn
 * @returns null where no start leads anywhere
 */
export function fitTwoPhases(all: TwoPhasePoints, starts: [number, number][]): TwoPhaseFit | null {
  const points = thinned(all, mostPoints);
  const few = thinned(points, coarsePoints);
  let best: { fit: TwoPhaseFit; places: [number, number] } | null = null;
  for (const places of starts) {
    const start = Float64Array.of(...places.flatMap((peak_C) => [peak_C, ...middleOfPrior]));
    const fit = descendTwoPhases(few, start, places, {
      modesPerDecade: coarseModes,
      strength: twoPhaseStrength,
      iterations: 7,
      floor: misfitFloor,
    });
    if (best === null || fit.solution.rms < best.fit.solution.rms) best = { fit, places };
  }
  if (best === null) return null;
  const { parameters } = best.fit;
  return descendTwoPhases(points, parameters, [parameters[0], parameters[3]], {
    modesPerDecade: twoPhaseModes,
    strength: twoPhaseStrength,
    iterations: 8,
    floor: misfitFloor,
  });
}

const middleOfPrior = [ln(priorSlope_per_K.middle), ln(priorDistance_K.middle)];

/** Every so many-th point, so that at most `most` are left. */
export function thinned(points: TwoPhasePoints, most: number): TwoPhasePoints {
  const step = Math.ceil(points.frequency_Hz.length / most);
  if (step <= 1) return points;
  const keep = (values: Float64Array) => values.filter((_, i) => i % step === 0);
  return {
    temperature_C: keep(points.temperature_C),
    frequency_Hz: keep(points.frequency_Hz),
    storageModulus_Pa: keep(points.storageModulus_Pa),
    lossModulus_Pa: keep(points.lossModulus_Pa),
  };
}
