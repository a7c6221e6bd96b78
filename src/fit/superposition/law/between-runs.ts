import { square } from "../../../numeric/elementary/power.js";
import { normal95, studentT95 } from "../../../numeric/statistics/confidence.js";
import { meanOf } from "../../../numeric/statistics/mean.js";
import { symmetricInverse } from "../../../numeric/symmetric-inverse.js";
import { zeroCelsius_K } from "../../spectrum/shift-law.js";
import { fitLaw, type LawFit, type LawShape, lawSize, runOffset_K } from "./law-fit.js";
import { type MeasuredShifts, subsetOfShifts } from "./measured-shifts.js";

/**
 * Covariance of a law's parameters where replicate runs differ by more than their own errors say: raised by
 * `betweenRunFactor`, and with what the mean temperature of so many specimens leaves open, which moves the whole law.
 * @returns size × size, row by row
 */
export function withRunsDiffering(shifts: MeasuredShifts, law: LawFit): Float64Array {
  const { shape, parameters, covariance } = law;
  const factor = betweenRunFactor(shifts, law);
  const [s, kappa] = parameters;
  // L(T − ε) read at the same reference: s and κ of a WLF law become s(1 + 2κε) and κ(1 + κε), s of an Arrhenius law s(1 + 2ε/T0).
  const perKelvin =
    shape.kind === "wlf" ? [2 * s * kappa, square(kappa)] : [(2 * s) / (shape.reference_C + zeroCelsius_K)];
  const variance_K2 = square(meanDoubt_K(shape, parameters, shifts.runCount));
  const size = parameters.length;
  return covariance.map(
    (value, i) =>
      factor * value + variance_K2 * (perKelvin[Math.floor(i / size)] ?? 0) * (perKelvin[i % size] ?? 0),
  );
}

/** Two specimens tell of others as little as Student's t of one degree of freedom says, which no laboratory believes. */
const fewestDegreesOfFreedom = 2;

/** Standard error of the mean temperature of all runs, for as few as they are. */
function meanDoubt_K(shape: LawShape, parameters: Float64Array, runs: number): number {
  const temperatures_K = Array.from({ length: runs }, (_, run) => runOffset_K(shape, parameters, run));
  const t = studentT95(Math.max(fewestDegreesOfFreedom, runs - 1)) / normal95;
  return t * meanOf(temperatures_K).standardError;
}

/**
 * By how much the variance of the law's constants is to be raised because replicate runs differ by more than
 * their own errors and an offset in temperature say: the chi-squared of the runs' own constants, each at a reference moved
 * by the run's offset, about their mean over its degrees of freedom, at least 1 (Birge, Phys. Rev. 40, 207, 1932). Runs of fewer than four isotherms do not count.
 */
function betweenRunFactor(shifts: MeasuredShifts, { shape, parameters }: LawFit): number {
  const size = lawSize(shape);
  const fits: LawFit[] = [];
  for (let run = 0; run < shifts.runCount; run++) {
    const own = Array.from(shifts.run.keys()).filter((k) => shifts.run[k] === run);
    if (own.length < 4) continue;
    const alone = { ...subsetOfShifts(shifts, own), run: new Int32Array(own.length), runCount: 1 };
    const fit = fitLaw(alone, movedBy(shape, runOffset_K(shape, parameters, run)));
    if (fit?.covariance.every(Number.isFinite)) fits.push(fit);
  }
  if (fits.length < 2) return 1;
  const weights = fits.map((fit) => symmetricInverse(fit.covariance, size));
  const total = new Float64Array(size * size);
  const moment = new Float64Array(size);
  for (const [r, weight] of weights.entries()) {
    if (weight === null) return 1;
    for (let a = 0; a < size; a++) {
      for (let b = 0; b < size; b++) {
        total[a * size + b] += weight[a * size + b];
        moment[a] += weight[a * size + b] * fits[r].parameters[b];
      }
    }
  }
  const inverse = symmetricInverse(total, size);
  if (inverse === null) return 1;
  let chiSquared = 0;
  for (const [r, weight] of weights.entries()) {
    const away = Array.from({ length: size }, (_, a) => {
      let mean = 0;
      for (let b = 0; b < size; b++) mean += inverse[a * size + b] * moment[b];
      return fits[r].parameters[a] - mean;
    });
    for (let a = 0; a < size; a++) {
      for (let b = 0; b < size; b++) chiSquared += away[a] * weight![a * size + b] * away[b];
    }
  }
  return Math.max(1, chiSquared / (size * (fits.length - 1)));
}

const movedBy = (shape: LawShape, warmer_K: number): LawShape => ({
  ...shape,
  reference_C: shape.reference_C + warmer_K,
  border_C: shape.border_C === null ? null : shape.border_C + warmer_K,
});
