import { exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { power, square } from "../../numeric/elementary/power.js";
import { nnls } from "../../numeric/non-negative/nnls.js";
import type { Notice } from "../../words/notice.js";
import { kramersKronigNotice } from "./kramers-kronig.js";
import {
  logSpacedTimes,
  type ModulusPoints,
  maxwellKernel,
  relativeWeights,
  relaxationTimes,
  weightedModuli,
} from "./maxwell-kernel.js";
import { type PenalisedSolution, PenalisedSpectrum } from "./penalised-spectrum.js";

export interface SpectrumOptions {
  /**
   * Relaxation times a decade. Null: 5, doubled where that lowers the cross-validation score by a tenth; 3 over
   * more than 16 decades.
   */
  modesPerDecade?: number | null;
  /** Decades of relaxation time beyond the measured window at each end. Default 1. */
  margin?: number;
  /**
   * Weight of the roughness penalty relative to the data; null: by generalised cross-validation. 0: no penalty,
   * few modes whose times are refined to a hundredth of a decade, as for a material of separate modes.
   */
  strength?: number | null;
  /** Whether the model may have an equilibrium modulus. Default true. */
  equilibrium?: boolean;
  /** An earlier solution of like data: at a given strength the search begins with its modes. */
  start?: Pick<Spectrum, "times_s" | "equilibriumModulus_Pa"> | null;
  /** Known noise (rms of weighted residuals): a grid that reaches it within a tenth is fine enough. */
  noise?: number;
}

export interface Spectrum {
  times_s: Float64Array;
  moduli_Pa: Float64Array;
  equilibriumModulus_Pa: number;
  /** Weight of the roughness penalty, chosen or given; 0: separate modes, each at a time of its own. */
  strength: number;
  modesPerDecade: number;
  /** Trace of the influence matrix: how many free parameters the data spent; NaN at a given strength. */
  effectiveParameters: number;
  /** (fit − measured)/measured × the points' own weights; storage first, then loss. */
  residuals: Float64Array;
  /** Root mean square of these. */
  rms: number;
}

/**
 * Relaxation spectrum from complex moduli at one temperature by non-negative least squares on the relative
 * residuals of both moduli, with a penalty on the curvature of the spectrum relative to the loss modulus at
 * ω = 1/τ (the spectrum's own first approximation, H ≈ 2M″/π), its strength by generalised
 * cross-validation (Golub, Heath and Wahba, Technometrics 21, 215, 1979). Because both moduli come from one
 * spectrum they obey the Kramers–Kronig relations; where the data do not, a notice says so.
 *
 * @param data frequencies in Hz (any order), moduli in Pa; values that are not positive are left out
 * @returns the spectrum and notices; modes of zero modulus are dropped
 * @example fitSpectrum({ frequency_Hz: Float64Array.of(0.1, 1, 10), storageModulus_Pa: Float64Array.of(1.1e6, 1.5e6, 2e6), lossModulus_Pa: Float64Array.of(2e5, 4e5, 3e5) }).spectrum.rms < 0.05 // true
 */
export function fitSpectrum(
  data: { frequency_Hz: Float64Array; storageModulus_Pa: Float64Array; lossModulus_Pa: Float64Array },
  options: SpectrumOptions = {},
): { spectrum: Spectrum; notices: Notice[] } {
  const points: ModulusPoints = {
    angularFrequency_rad_s: data.frequency_Hz.map((f) => 2 * Math.PI * f),
    storageModulus_Pa: data.storageModulus_Pa,
    lossModulus_Pa: data.lossModulus_Pa,
    storageWeight: relativeWeights(data.storageModulus_Pa),
    lossWeight: relativeWeights(data.lossModulus_Pa),
  };
  const used =
    points.storageWeight.filter((w) => w > 0).length + points.lossWeight.filter((w) => w > 0).length;
  if (used < 4 || !data.frequency_Hz.every((f) => f > 0 && Number.isFinite(f))) {
    throw new RangeError(
      `fitSpectrum: ${used} usable moduli at ${data.frequency_Hz.length} frequencies; expected at least 4, and frequencies above 0 Hz.`,
    );
  }
  const spectrum = solveSpectrum(points, options);
  const notice = kramersKronigNotice([{ points, residuals: spectrum.residuals }]);
  return { spectrum, notices: notice === null ? [] : [notice] };
}

/** The same on points whose weights are given; the program's own inner step. */
export function solveSpectrum(points: ModulusPoints, options: SpectrumOptions = {}): Spectrum {
  if (options.strength === 0) return solveSharp(points, options).spectrum;
  const asked = options.modesPerDecade ?? null;
  if (asked !== null) return solveOnGrid(points, asked, options).spectrum;
  const base = modesPerDecadeFor(points);
  const coarse = solveOnGrid(points, base, options);
  if (options.noise !== undefined && coarse.spectrum.rms <= 1.1 * options.noise) return coarse.spectrum;
  if (base < 5) return coarse.spectrum;
  const fine = solveOnGrid(points, 2 * base, options);
  if (fine.score >= 0.9 * coarse.score) return coarse.spectrum;
  // Sharper than the grid: let the modes stand where they belong, unless smoothing was asked for.
  if (options.strength !== undefined && options.strength !== null) return fine.spectrum;
  const sharp = solveSharp(points, options);
  return sharp.score < 0.9 * fine.score ? sharp.spectrum : fine.spectrum;
}

/**
 * Three modes a decade draw any smooth spectrum: their moduli ripple by 2 (π²/h)/sinh(π²/h), h = ln 10/3 their distance
 * in ln τ, which is 1e-4.
 */
const smoothModesPerDecade = 3;
const usualModesPerDecade = 5;
const widest_decades = 16;

/** Over a very wide window as few as draw a smooth spectrum, at a fifth of the work. */
export function modesPerDecadeFor(points: ModulusPoints): number {
  return decadesOf(points) > widest_decades ? smoothModesPerDecade : usualModesPerDecade;
}

/**
 * How a draw's spectrum is solved: on as few modes as draw a smooth spectrum, with this share of the fit's penalty, moved
 * to that grid (the sum of squared second differences of a curve goes with the fifth power of its step; with the same
 * number for both grids the draws were too narrow at 2 % noise). Where the fit asked for a finer grid it is kept, and
 * separate modes are drawn with a trace of penalty: their places need not be sought anew each time.
 */
export function drawnSpectrum(
  { strength, modesPerDecade }: Spectrum,
  share: number,
): { modesPerDecade: number; strength: number } {
  if (strength === 0) return { modesPerDecade, strength: 1e-6 };
  const drawn = modesPerDecade > usualModesPerDecade ? modesPerDecade : smoothModesPerDecade;
  const moved = share * power(drawn / modesPerDecade, 5) * strength;
  return { modesPerDecade: drawn, strength: Math.max(moved, 1e-8) };
}

/**
 * Penalty of a draw's spectrum as a share of the fit's own. The strength that predicts the data best rounds a peak
 * off by about as much as the noise moves it, and an interval with that strength forgets the first of the two; with
 * less of it the draws' own bias falls below their scatter (undersmoothing; Hall, Ann. Stat. 20, 675, 1992). On 160
 * made-up sets of isotherms with 1, 2 and 3 % noise the 95 % intervals of the M″ peak at the contact frequency held
 * the truth in 30 % with the fit's strength and in 93 % with a hundredth of it, those of the tan δ peak in 76 and
 * 91 %, those of friction in the transition in 48 and 90 %.
 */
export const undersmoothed = 0.01;

function decadesOf({ angularFrequency_rad_s }: ModulusPoints): number {
  let low = Number.POSITIVE_INFINITY;
  let high = 0;
  for (const w of angularFrequency_rad_s) {
    low = Math.min(low, w);
    high = Math.max(high, w);
  }
  return log10(high / low);
}

const strengths = Array.from({ length: 13 }, (_, k) => exp10(2 - k));

function solveOnGrid(
  points: ModulusPoints,
  modesPerDecade: number,
  options: SpectrumOptions,
): { spectrum: Spectrum; score: number } {
  const times_s = relaxationTimes(points, modesPerDecade, options.margin);
  const problem = new PenalisedSpectrum(points, times_s, options.equilibrium ?? true);
  if (options.strength !== undefined && options.strength !== null) {
    const warm = options.start ? marksOf(options.start, problem) : null;
    const solved = problem.solve(options.strength, warm, false);
    return finish(problem, solved, options.strength, modesPerDecade);
  }
  let best: { solved: PenalisedSolution; strength: number } | null = null;
  let warm: Uint8Array | null = null;
  for (const strength of strengths) {
    const solved: PenalisedSolution = problem.solve(strength, warm, true);
    warm = solved.passive;
    if (best === null || solved.score < best.solved.score) best = { solved, strength };
    else if (solved.score > 1.5 * best.solved.score) break;
  }
  return finish(problem, best!.solved, best!.strength, modesPerDecade);
}

/** Marks of the grid's times that stand nearest to modes of an earlier solution, the equilibrium modulus last. */
function marksOf(
  start: Pick<Spectrum, "times_s" | "equilibriumModulus_Pa">,
  { times_s, equilibrium }: PenalisedSpectrum,
): Uint8Array {
  const modes = times_s.length;
  const marks = new Uint8Array(modes + (equilibrium ? 1 : 0));
  if (equilibrium && start.equilibriumModulus_Pa > 0) marks[modes] = 1;
  let j = 0;
  for (const time_s of start.times_s) {
    while (j + 1 < modes && times_s[j + 1] * times_s[j] <= time_s * time_s) j++;
    marks[j] = 1;
  }
  return marks;
}

function finish(
  problem: PenalisedSpectrum,
  solved: PenalisedSolution,
  strength: number,
  modesPerDecade: number,
) {
  const { times_s, scale } = problem;
  const used_s = new Float64Array(times_s.length);
  const moduli_Pa = new Float64Array(times_s.length);
  let count = 0;
  for (let j = 0; j < times_s.length; j++) {
    if (!(solved.solution[j] > 0)) continue;
    used_s[count] = times_s[j];
    moduli_Pa[count++] = solved.solution[j] * scale[j];
  }
  const { residuals } = solved;
  const spectrum: Spectrum = {
    times_s: used_s.slice(0, count),
    moduli_Pa: moduli_Pa.slice(0, count),
    equilibriumModulus_Pa: problem.equilibrium ? solved.solution[times_s.length] * scale[times_s.length] : 0,
    strength,
    modesPerDecade,
    effectiveParameters: solved.effectiveParameters,
    residuals,
    rms: Math.sqrt(solved.rss / problem.count),
  };
  return { spectrum, score: solved.score };
}

/**
 * Without a penalty: non-negative least squares on ten times a decade, the grid then halved about the modes in
 * use until it stands a hundredth of a decade apart there. The number of modes counts as parameters spent.
 */
function solveSharp(points: ModulusPoints, options: SpectrumOptions): { spectrum: Spectrum; score: number } {
  const omega = points.angularFrequency_rad_s;
  const low = omega.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const high = omega.reduce((a, b) => Math.max(a, b), 0);
  let times_s = logSpacedTimes(low, high, 10, options.margin ?? 1);
  const rhs = weightedModuli(points);
  const rows = rhs.length;
  const count = rhs.filter((value) => value !== 0).length;
  for (let round = 0; ; round++) {
    const columns = times_s.length + ((options.equilibrium ?? true) ? 1 : 0);
    const values = new Float64Array(rows * (times_s.length + 1));
    maxwellKernel(omega, points.storageWeight, points.lossWeight, times_s, values);
    const { solution, residuals, residualSumOfSquares, passive } = nnls({ rows, columns, values }, rhs);
    if (round === 4) {
      const kept = Array.from(times_s.keys()).filter((j) => solution[j] > 0);
      const left = Math.max(1, count - passive.length);
      return {
        spectrum: {
          times_s: Float64Array.from(kept, (j) => times_s[j]),
          moduli_Pa: Float64Array.from(kept, (j) => solution[j]),
          equilibriumModulus_Pa: columns > times_s.length ? solution[times_s.length] : 0,
          strength: 0,
          modesPerDecade: 10,
          effectiveParameters: passive.length,
          residuals: residuals.map((r) => -r),
          rms: Math.sqrt(residualSumOfSquares / count),
        },
        score: (count * residualSumOfSquares) / square(left),
      };
    }
    const refined = new Set<number>(times_s);
    for (const j of passive.filter((k) => k < times_s.length)) {
      if (j > 0) refined.add(Math.sqrt(times_s[j] * times_s[j - 1]));
      if (j + 1 < times_s.length) refined.add(Math.sqrt(times_s[j] * times_s[j + 1]));
    }
    times_s = Float64Array.from(refined).sort();
  }
}
