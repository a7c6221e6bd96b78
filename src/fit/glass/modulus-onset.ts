import { log10 } from "../../numeric/elementary/logarithm.js";
import { square } from "../../numeric/elementary/power.js";
import { localRegression } from "../../numeric/local-regression.js";
import { quantile } from "../../numeric/quantile.js";
import type { Random } from "../../numeric/random.js";
import type { Onset } from "../material.js";

/** Slopes flatter than this share of the steepest one belong to the glass. */
const glassySlopeShare = 0.12;
/** Slopes steeper than this share of the steepest one belong to the fall. */
const fallSlopeShare = 0.75;
const longestBaseline_K = 30;
const fewestBaselinePoints = 4;
/** log M′ falls fastest between the peaks of M″ and tan δ, give or take this. */
const fallBeside_K = 8;

/**
 * Extrapolated onset of the fall of M′: where the tangent to log M′ in the glass meets the tangent at the
 * steepest fall (ASTM E1640, ISO 6721-11). Interval by bootstrap of the residuals about both tangents.
 *
 * @param temperature_C n temperatures, ascending
 * @param storageModulus_Pa n positive moduli
 * @param transition the peaks of M″ and of tan δ: the fall is sought about them, and the onset lies colder than the
 * M″ peak (ASTM E1640); null: not known
 * @returns null where the sweep shows no glassy baseline or no fall of its own
 */
export function modulusOnset(
  temperature_C: Float64Array,
  storageModulus_Pa: Float64Array,
  transition: { lossModulusPeak_C: number | null; tanDeltaPeak_C: number | null },
  random: Random,
  draws: number,
): Onset | null {
  const n = temperature_C.length;
  const warmest_C = transition.lossModulusPeak_C ?? transition.tanDeltaPeak_C ?? Number.POSITIVE_INFINITY;
  const from_C = (transition.lossModulusPeak_C ?? Number.NEGATIVE_INFINITY) - fallBeside_K;
  const to_C = (transition.tanDeltaPeak_C ?? Number.POSITIVE_INFINITY) + fallBeside_K;
  const logModulus = storageModulus_Pa.map(log10);
  const { slope } = localRegression(temperature_C, logModulus, 5);
  let steepest = -1;
  for (let i = 1; i < n - 1; i++) {
    if (temperature_C[i] < from_C || temperature_C[i] > to_C) continue;
    if (steepest < 0 || slope[i] < slope[steepest]) steepest = i;
  }
  if (steepest < 0 || !(slope[steepest] < 0)) return null;

  let glassEnd = steepest;
  while (glassEnd >= 0 && slope[glassEnd] < glassySlopeShare * slope[steepest]) glassEnd--;
  let glassStart = glassEnd;
  while (
    glassStart > 0 &&
    temperature_C[glassEnd] - temperature_C[glassStart - 1] <= longestBaseline_K &&
    slope[glassStart - 1] > 2 * glassySlopeShare * slope[steepest]
  ) {
    glassStart--;
  }
  if (glassEnd - glassStart + 1 < fewestBaselinePoints) return null;

  let fallStart = steepest;
  let fallEnd = steepest;
  while (fallStart > glassEnd + 1 && slope[fallStart - 1] <= fallSlopeShare * slope[steepest]) fallStart--;
  while (fallEnd < n - 1 && slope[fallEnd + 1] <= fallSlopeShare * slope[steepest]) fallEnd++;
  if (fallEnd - fallStart < 2) {
    fallStart = Math.max(glassEnd, steepest - 1);
    fallEnd = Math.min(n - 1, steepest + 1);
  }

  const glass = fitLine(temperature_C, logModulus, glassStart, glassEnd);
  const fall = fitLine(temperature_C, logModulus, fallStart, fallEnd);
  const onset_C = crossing(glass, fall);
  const isInFall = onset_C >= temperature_C[glassStart] && onset_C <= temperature_C[fallEnd];
  if (!Number.isFinite(onset_C) || !isInFall || onset_C >= warmest_C) return null;
  const drawn = new Float64Array(draws);
  for (let d = 0; d < draws; d++) {
    drawn[d] = crossing(redraw(glass, random), redraw(fall, random));
  }
  const sorted = drawn.filter(Number.isFinite).sort();
  if (sorted.length < draws / 2) return null;
  return {
    temperature_C: onset_C,
    low_C: Math.min(onset_C, quantile(sorted, 0.025)),
    high_C: Math.max(onset_C, quantile(sorted, 0.975)),
  };
}

interface Line {
  intercept: number;
  slope: number;
  abscissae: Float64Array;
  residuals: Float64Array;
  /** Room for the ordinates of a draw. */
  drawn: Float64Array;
}

function fitLine(x: Float64Array, y: Float64Array, first: number, last: number): Line {
  const n = last - first + 1;
  const abscissae = x.subarray(first, last + 1);
  const { intercept, slope } = leastSquaresLine(abscissae, y.subarray(first, last + 1));
  const residuals = new Float64Array(n);
  // Two parameters were taken out of the residuals; the factor gives their scatter back.
  const inflation = n > 2 ? Math.sqrt(n / (n - 2)) : 1;
  for (let i = 0; i < n; i++) residuals[i] = inflation * (y[first + i] - intercept - slope * x[first + i]);
  return { intercept, slope, abscissae, residuals, drawn: new Float64Array(n) };
}

function redraw(line: Line, random: Random): { intercept: number; slope: number } {
  const { intercept, slope, abscissae, residuals, drawn } = line;
  const n = drawn.length;
  for (let i = 0; i < n; i++) drawn[i] = intercept + slope * abscissae[i] + residuals[random.index(n)];
  return leastSquaresLine(abscissae, drawn);
}

function leastSquaresLine(x: Float64Array, y: Float64Array): { intercept: number; slope: number } {
  const n = x.length;
  let meanX = 0;
  let meanY = 0;
  for (let i = 0; i < n; i++) {
    meanX += x[i] / n;
    meanY += y[i] / n;
  }
  let sxx = 0;
  let sxy = 0;
  for (let i = 0; i < n; i++) {
    sxx += square(x[i] - meanX);
    sxy += (x[i] - meanX) * (y[i] - meanY);
  }
  const slope = sxx > 0 ? sxy / sxx : 0;
  return { intercept: meanY - slope * meanX, slope };
}

function crossing(a: { intercept: number; slope: number }, b: { intercept: number; slope: number }): number {
  return (b.intercept - a.intercept) / (a.slope - b.slope);
}
