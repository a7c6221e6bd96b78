import { log10 } from "../../numeric/elementary/logarithm.js";
import { square } from "../../numeric/elementary/power.js";
import { localRegression } from "../../numeric/local-regression.js";
import { fitPenalisedSpline, splineDraws } from "../../numeric/spline/penalised-spline.js";
import { evaluateSpline, leastSlopeOn } from "../../numeric/spline/spline-curve.js";
import { quantile } from "../../numeric/statistics/quantile.js";
import type { Random } from "../../numeric/statistics/random.js";
import type { Onset } from "../material.js";

/** Slopes flatter than this share of the steepest one belong to the glass. */
const glassySlopeShare = 0.12;
const longestBaseline_K = 30;
const fewestBaselinePoints = 4;
/** log M′ falls fastest between the peaks of M″ and tan δ, give or take this. */
const fallBeside_K = 8;

/**
 * Extrapolated onset of the fall of M′: where the tangent to log M′ in the glass meets the tangent at the
 * steepest point of the fall (ASTM E1640, ISO 6721-11). A line fitted through the steep part, another definition, lies
 * 0.8 K colder. Interval by bootstrap of the residuals about the glass's tangent and by the curves that the data allow
 * in the fall (`splineDraws`).
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

  // Where the glass ends falls between two rows, and noise moves it by one: each draw takes one of the three.
  const ends = [glassEnd - 1, glassEnd, Math.min(glassEnd + 1, steepest)].filter(
    (end) => end - glassStart + 1 >= fewestBaselinePoints,
  );
  const glasses = ends.map((end) => fitLine(temperature_C, logModulus, glassStart, end));
  const glass = glasses[ends.indexOf(glassEnd)];
  const fall = fitFall(temperature_C, logModulus, steepest);
  if (fall === null) return null;
  const onset_C = crossing(glass, fall.tangent(fall.spline.coefficients));
  const isInFall = onset_C >= temperature_C[glassStart] && onset_C <= temperature_C[steepest];
  if (!Number.isFinite(onset_C) || !isInFall || onset_C >= warmest_C) return null;
  const draw = splineDraws(fall.spline, random);
  const coefficients = new Float64Array(fall.spline.coefficients.length);
  const found = new Float64Array(draws);
  let kept = 0;
  for (let d = 0; d < draws; d++) {
    draw(coefficients);
    const glassy = redraw(glasses[random.index(glasses.length)], random);
    const distance = Math.abs(crossing(glassy, fall.tangent(coefficients)) - onset_C);
    if (Number.isFinite(distance)) found[kept++] = distance;
  }
  if (kept < draws / 2) return null;
  const distances = found.subarray(0, kept).sort();
  // About the value itself: the draws may lie on one side of it, and so may the truth.
  const half = distances.length > 0 ? quantile(distances, 0.95) : 0;
  return { temperature_C: onset_C, low_C: onset_C - half, high_C: onset_C + half };
}

/** The regression sees the fall this far to either side of its steepest point, and at least so many points. */
const fallWindow_K = 14;
const fewestFallPoints = 4;
const fallPenaltyOrder = 4;
const mostSegments = 20;
/** The steepest point is sought on this grid, within the middle half of the window. */
const steepestSteps = 60;

/** Log M′ about its steepest point as a penalised spline, and the tangent at the steepest point of any of its draws. */
function fitFall(temperature_C: Float64Array, logModulus: Float64Array, steepest: number) {
  const middle_C = temperature_C[steepest];
  let first = steepest;
  let last = steepest;
  const n = temperature_C.length;
  while (
    first > 0 &&
    (middle_C - temperature_C[first - 1] <= fallWindow_K || steepest - first < fewestFallPoints)
  )
    first--;
  while (
    last < n - 1 &&
    (temperature_C[last + 1] - middle_C <= fallWindow_K || last - steepest < fewestFallPoints)
  )
    last++;
  const points = last - first + 1;
  if (points < 6) return null;
  const x = temperature_C.subarray(first, last + 1);
  const spline = fitPenalisedSpline(
    x,
    logModulus.subarray(first, last + 1),
    Math.min(mostSegments, Math.max(3, points - 1)),
    fallPenaltyOrder,
  );
  const from_C = middle_C - 0.5 * (middle_C - x[0]);
  const to_C = middle_C + 0.5 * (x[points - 1] - middle_C);
  const grid_C = Float64Array.from(
    { length: steepestSteps + 1 },
    (_, k) => from_C + ((to_C - from_C) * k) / steepestSteps,
  );
  const leastSlope = leastSlopeOn(spline, grid_C);
  const tangent = (coefficients: Float64Array) => {
    const { slope, k } = leastSlope(coefficients);
    const at_C = k < 0 ? middle_C : grid_C[k];
    return { intercept: evaluateSpline(spline, at_C, 0, coefficients) - slope * at_C, slope };
  };
  return { spline, tangent };
}

interface Line {
  intercept: number;
  slope: number;
  /** What each residual counts in the slope, and the mean of the abscissae. */
  slopeWeights: Float64Array;
  middle: number;
  residuals: Float64Array;
}

function fitLine(x: Float64Array, y: Float64Array, first: number, last: number): Line {
  const n = last - first + 1;
  const abscissae = x.subarray(first, last + 1);
  const { intercept, slope } = leastSquaresLine(abscissae, y.subarray(first, last + 1));
  const residuals = new Float64Array(n);
  // Two parameters were taken out of the residuals; the factor gives their scatter back.
  const inflation = n > 2 ? Math.sqrt(n / (n - 2)) : 1;
  for (let i = 0; i < n; i++) residuals[i] = inflation * (y[first + i] - intercept - slope * x[first + i]);
  const middle = abscissae.reduce((sum, value) => sum + value, 0) / n;
  const sxx = abscissae.reduce((sum, value) => sum + square(value - middle), 0);
  const slopeWeights = abscissae.map((value) => (sxx > 0 ? (value - middle) / sxx : 0));
  return { intercept, slope, slopeWeights, middle, residuals };
}

/** The line through the same abscissae with residuals taken anew: least squares is linear in them. */
function redraw({ intercept, slope, slopeWeights, middle, residuals }: Line, random: Random) {
  const n = residuals.length;
  let turn = 0;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const residual = residuals[random.index(n)];
    turn += slopeWeights[i] * residual;
    sum += residual;
  }
  return { intercept: intercept + sum / n - turn * middle, slope: slope + turn };
}

export function leastSquaresLine(x: Float64Array, y: Float64Array): { intercept: number; slope: number } {
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
