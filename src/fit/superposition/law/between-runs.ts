import { symmetricInverse } from "../../../numeric/symmetric-inverse.js";
import {
  fitLaw,
  type LawFit,
  type LawShape,
  lawSize,
  type MeasuredShifts,
  subsetOfShifts,
} from "./law-fit.js";

/**
 * By how much the variance of the law's constants is to be raised because replicate runs differ by more than
 * their own errors say: the chi-squared of the runs' own constants about their mean over its degrees of
 * freedom, at least 1 (Birge, Phys. Rev. 40, 207, 1932). Runs of fewer than four isotherms do not count.
 */
export function betweenRunFactor(shifts: MeasuredShifts, shape: LawShape): number {
  const size = lawSize(shape);
  const fits: LawFit[] = [];
  for (let run = 0; run < shifts.runCount; run++) {
    const own = Array.from(shifts.run.keys()).filter((k) => shifts.run[k] === run);
    if (own.length < 4) continue;
    const alone = { ...subsetOfShifts(shifts, own), run: new Int32Array(own.length), runCount: 1 };
    const fit = fitLaw(alone, shape);
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
