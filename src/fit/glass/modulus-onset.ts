import { ln } from "../../numeric/elementary/logarithm.js";
import { localRegression } from "../../numeric/local-regression.js";
import {
  fitPenalisedSpline,
  type PenalisedSpline,
  splineDraws,
} from "../../numeric/spline/penalised-spline.js";
import { splineOnGrid } from "../../numeric/spline/spline-curve.js";
import { quantile } from "../../numeric/statistics/quantile.js";
import type { Random } from "../../numeric/statistics/random.js";
import type { Onset } from "../material.js";
import { fallBeside_K, glassySlopeShare, leastSquaresLine, longestBaseline_K } from "./onset-of-curve.js";
import { expectedScatter } from "./peak.js";

const fewestBaselinePoints = 4;
const shortestBaseline_K = 3;
/** The steepest point is known well by what is steeper than this share of it, and at least so many rows on its warm side. */
const fallSlopeShare = 0.2;
const fewestFallPoints = 4;
/** Slopes at the rows, to find the parts of the curve by, see so far. */
const slopeWindow_K = 8;
const fewestSlopePoints = 5;
/** 4 and 5 bend too little in the knee: of 1489 made-up sweeps they held 89 to 93 %. */
const penaltyOrder = 3;
const mostSegments = 30;
const grid_K = 0.5;

/**
 * Extrapolated onset of the fall of M′: where the tangent to log M′ in the glass meets the tangent at the
 * steepest point of the fall (ASTM E1640, ISO 6721-11). A line fitted through the steep part, another definition, lies
 * 0.8 K colder. Both tangents are those of one penalised spline through glass and fall, so that the glass ends where the
 * curve says and not at a row; the interval is from the curves that the data allow (`splineDraws`), each read anew.
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
  const logModulus = storageModulus_Pa.map(ln);
  const rows = rowsOfGlassAndFall(temperature_C, logModulus, transition);
  if (rows === null) return null;
  const { first, glassEnd, steepest, last } = rows;
  if (last - first + 1 < fewestBaselinePoints + 2) return null;
  const spline = fitPenalisedSpline(
    temperature_C.subarray(first, last + 1),
    logModulus.subarray(first, last + 1),
    Math.min(mostSegments, last - first),
    penaltyOrder,
    expectedScatter(temperature_C, logModulus),
  );
  const onsetOf = onsetReader(spline, temperature_C[first], temperature_C[last], {
    from_C: (temperature_C[glassEnd] + temperature_C[steepest]) / 2,
    to_C: (temperature_C[steepest] + temperature_C[last]) / 2,
  });
  const onset_C = onsetOf(spline.coefficients);
  const warmest_C = transition.lossModulusPeak_C ?? transition.tanDeltaPeak_C ?? Number.POSITIVE_INFINITY;
  const isInFall = onset_C >= temperature_C[first] && onset_C <= temperature_C[steepest];
  if (!isInFall || onset_C >= warmest_C) return null;

  const draw = splineDraws(spline, random);
  const coefficients = new Float64Array(spline.coefficients.length);
  const found = new Float64Array(draws);
  let kept = 0;
  for (let d = 0; d < draws; d++) {
    draw(coefficients);
    const distance = Math.abs(onsetOf(coefficients) - onset_C);
    if (Number.isFinite(distance)) found[kept++] = distance;
  }
  if (kept < draws / 2) return null;
  // About the value itself: the draws may lie on one side of it, and so may the truth.
  const half = kept > 0 ? quantile(found.subarray(0, kept).sort(), 0.95) : 0;
  return { temperature_C: onset_C, low_C: onset_C - half, high_C: onset_C + half };
}

/** The rows where the glass begins and ends, where log M′ falls fastest, and where the fall has slowed down. */
function rowsOfGlassAndFall(
  temperature_C: Float64Array,
  logModulus: Float64Array,
  { lossModulusPeak_C, tanDeltaPeak_C }: { lossModulusPeak_C: number | null; tanDeltaPeak_C: number | null },
): { first: number; glassEnd: number; steepest: number; last: number } | null {
  const n = temperature_C.length;
  const step_K = (temperature_C[n - 1] - temperature_C[0]) / (n - 1);
  const neighbours = Math.max(fewestSlopePoints, Math.min(n, Math.round(slopeWindow_K / step_K) + 1));
  const { slope } = localRegression(temperature_C, logModulus, neighbours);
  const from_C = (lossModulusPeak_C ?? Number.NEGATIVE_INFINITY) - fallBeside_K;
  const to_C = (tanDeltaPeak_C ?? Number.POSITIVE_INFINITY) + fallBeside_K;
  let steepest = -1;
  for (let i = 1; i < n - 1; i++) {
    if (temperature_C[i] < from_C || temperature_C[i] > to_C) continue;
    if (steepest < 0 || slope[i] < slope[steepest]) steepest = i;
  }
  if (steepest < 0 || !(slope[steepest] < 0)) return null;
  let glassEnd = steepest;
  while (glassEnd >= 0 && slope[glassEnd] < glassySlopeShare * slope[steepest]) glassEnd--;
  let first = glassEnd;
  while (
    first > 0 &&
    temperature_C[glassEnd] - temperature_C[first - 1] <= longestBaseline_K &&
    slope[first - 1] > 2 * glassySlopeShare * slope[steepest]
  ) {
    first--;
  }
  if (glassEnd - first + 1 < fewestBaselinePoints) return null;
  let last = steepest;
  while (
    last < n - 1 &&
    (slope[last + 1] < fallSlopeShare * slope[steepest] || last - steepest < fewestFallPoints)
  ) {
    last++;
  }
  return { first, glassEnd, steepest, last };
}

/**
 * Reads the onset of any of a spline's curves, as `onsetOfCurve` does that of a model's.
 * @param steepest between which temperatures the curve is steepest
 * @returns °C for given coefficients; NaN where no glass is left before the fall
 */
function onsetReader(
  spline: PenalisedSpline,
  low_C: number,
  high_C: number,
  steepest: { from_C: number; to_C: number },
): (coefficients: Float64Array) => number {
  const count = Math.floor((high_C - low_C) / grid_K) + 1;
  const place = (at_C: number) => Math.round((at_C - low_C) / grid_K);
  const from = place(steepest.from_C);
  const to = Math.min(place(steepest.to_C), count - 1);
  const grid_C = Float64Array.from({ length: count }, (_, i) => low_C + i * grid_K);
  const value = new Float64Array(count);
  const slope = new Float64Array(count);
  const curve = splineOnGrid(spline, grid_C);
  return (coefficients) => {
    curve(coefficients, value, slope);
    let fastest = from;
    for (let i = from; i <= to; i++) if (slope[i] < slope[fastest]) fastest = i;
    const glassy = glassySlopeShare * slope[fastest];
    let end = fastest;
    while (end > 0 && slope[end] < glassy) end--;
    if (2 * glassy < slope[end] + slope[end + 1]) end++;
    const start = Math.max(0, end - longestBaseline_K / grid_K);
    if (end - start < shortestBaseline_K / grid_K) return Number.NaN;
    const glass = leastSquaresLine(grid_C.subarray(start, end + 1), value.subarray(start, end + 1));
    const fall = slope[fastest];
    return (value[fastest] - fall * grid_C[fastest] - glass.intercept) / (glass.slope - fall);
  };
}
