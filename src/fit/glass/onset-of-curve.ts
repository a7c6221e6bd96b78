import { power, square } from "../../numeric/elementary/power.js";

/** A smooth curve needs no regression: slopes are differences over this. */
const step_K = 0.5;
/** The glass is where the slope is below this share of the steepest one, over at most so far. */
export const glassySlopeShare = 0.12;
export const longestBaseline_K = 30;
/** Log M′ falls fastest between the peaks of M″ and tan δ, give or take this. */
export const fallBeside_K = 8;

/**
 * Extrapolated onset of the fall of M′ on a smooth curve, such as a model's: where the tangent to log M′ in the glass
 * meets the tangent at the steepest point of the fall (ASTM E1640, ISO 6721-11).
 *
 * @param log10Modulus log10 of M′ at a temperature in °C
 * @param from_C where the curve begins to be known
 * @param leastBaseline_K so much of the glass has to be known below the knee
 * @returns °C; null where the curve does not reach the glassy plateau
 */
export function onsetOfCurve(
  log10Modulus: (temperature_C: number) => number,
  from_C: number,
  { lossModulusPeak_C, tanDeltaPeak_C }: { lossModulusPeak_C: number; tanDeltaPeak_C: number },
  leastBaseline_K: number,
): number | null {
  const to_C = tanDeltaPeak_C + fallBeside_K;
  const count = Math.floor((to_C - from_C) / step_K) + 1;
  if (!(count > 3)) return null;
  const temperature_C = Float64Array.from({ length: count }, (_, i) => from_C + i * step_K);
  const y = temperature_C.map(log10Modulus);
  const slope = (i: number) => (y[i + 1] - y[i - 1]) / (2 * step_K);
  let steepest = -1;
  for (let i = 1; i < count - 1; i++) {
    if (temperature_C[i] < lossModulusPeak_C - fallBeside_K) continue;
    if (steepest < 0 || slope(i) < slope(steepest)) steepest = i;
  }
  if (steepest < 0 || !(slope(steepest) < 0)) return null;
  let glassEnd = steepest;
  while (glassEnd > 0 && slope(glassEnd) < glassySlopeShare * slope(steepest)) glassEnd--;
  const glassStart = Math.max(0, glassEnd - Math.round(longestBaseline_K / step_K));
  if ((glassEnd - glassStart) * step_K < leastBaseline_K) return null;
  const known = temperature_C.subarray(glassStart, glassEnd + 1);
  const missing = Math.round(longestBaseline_K / step_K) - (glassEnd - glassStart);
  const glass = withColderGlass(known, y.subarray(glassStart, glassEnd + 1), missing);
  const fall = slope(steepest);
  const onset_C = (y[steepest] - fall * temperature_C[steepest] - glass.intercept) / (glass.slope - fall);
  return onset_C < lossModulusPeak_C ? onset_C : null;
}

/**
 * The tangent to the glass, over the whole baseline: where the curve ends before it, the slope falls off towards the cold
 * as it does over what is known, by a factor a kelvin. A shorter baseline would be steeper, and the onset too warm
 * by 0.2 K at 12 K and 0.4 K at 3 K (150 made-up curves).
 */
function withColderGlass(x: Float64Array, y: Float64Array, missing: number) {
  const n = x.length;
  if (missing <= 0 || n < 5) return leastSquaresLine(x, y);
  const slopeAt = (i: number) => (y[i + 2] - y[i]) / (2 * step_K);
  const cold = slopeAt(0);
  const decay = power(Math.min(1, Math.max(0, cold / slopeAt(n - 3))), 1 / (n - 3));
  const abscissae = new Float64Array(n + missing);
  const ordinates = new Float64Array(n + missing);
  abscissae.set(x, missing);
  ordinates.set(y, missing);
  for (let i = missing - 1, slope = cold * decay; i >= 0; i--, slope *= decay) {
    abscissae[i] = abscissae[i + 1] - step_K;
    ordinates[i] = ordinates[i + 1] - slope * step_K;
  }
  return leastSquaresLine(abscissae, ordinates);
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
