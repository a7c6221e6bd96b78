import { type BlendCurve, blendStep_K } from "../../fit/glass/blend-table.js";
import type { PeakPlace } from "../../fit/glass/glass-at-frequency.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { areTooFew, reachOf } from "../../numeric/statistics/value-interval.js";

/** The curve of a drawn model, and what is to be added to its temperatures. */
export interface DrawnCurve {
  curve: BlendCurve;
  warmer_K: number;
}

/** Which further humps may be the maximum. */
export interface HumpDoubt {
  /** What the model's misfit adds to what the draws leave open of the ratio of two heights, as a natural log. */
  heightMargin_ln: number;
  /** A hump counts for itself, and not as another place of this maximum, beyond a valley so much below the maximum. */
  deepestValley_ln: number;
}

/** Slopes are taken over so many points to either side: 2 K in all. */
const slopeReach = 2;
/** No draws make a hump that is lower than half the peak as high as it. */
const lowestHump_ln = 0.7;

/**
 * Where the maximum of a blend's curve may stand at 95 %: where the draws leave open whether the curve climbs or falls,
 * beside its best place and on any further hump that may be as high. The maxima of the draws themselves jump on a flat
 * curve, so that another seed moved the ends of their spread by 0.2 to 0.3 K in the median and by up to 7 K; slopes and
 * heights at a given temperature follow the data's errors nearly without bending.
 * @param of the quantity whose maximum it is, at a point of a curve
 * @param peak_C the best model's maximum
 * @param doubt which further humps may be the maximum
 * @returns ends in °C; infinite where the place at the edge of what the best model or the draws reach may be it
 */
export function peakAmongDraws(
  best: BlendCurve,
  drawn: DrawnCurve[],
  of: (curve: BlendCurve, index: number) => number,
  peak_C: number,
  { heightMargin_ln, deepestValley_ln }: HumpDoubt,
): PeakPlace {
  if (drawn.length === 0) return { low_C: peak_C, high_C: peak_C };
  const last = best.storageModulus_Pa.length - 1;
  const own = (i: number) => ln(of(best, i));
  const others = drawn.map(({ curve, warmer_K }) => {
    const first = (curve.warmest_C + warmer_K - best.warmest_C) / blendStep_K;
    const end = curve.storageModulus_Pa.length - 1;
    // At a point of the best model's curve, on the line between two of the draw's own.
    return (i: number) => {
      const j = Math.floor(first + i);
      if (j < 0 || j >= end) return Number.NaN;
      const [one, next] = [ln(of(curve, j)), ln(of(curve, j + 1))];
      return one + (first + i - j) * (next - one);
    };
  });
  const temperatureAt = (i: number) => best.warmest_C - blendStep_K * i;
  const peak = Math.min(last, Math.max(0, Math.round((best.warmest_C - peak_C) / blendStep_K)));
  /** By how much the slope, in ln over the reach, may be zero at a place; null where too few draws know. */
  const levelness = (i: number): number | null => {
    if (i - slopeReach < 0 || i + slopeReach > last) return null;
    const slopeOf = (at: (i: number) => number) => at(i + slopeReach) - at(i - slopeReach);
    const slopes = others.map(slopeOf);
    if (areTooFew(slopes)) return null;
    const { low, high } = reachOf(slopeOf(own), slopes);
    return Math.min(high, -low);
  };
  const isAsHigh = (i: number, margin_ln: number) => {
    const higher = others.map((at) => at(i) - at(peak));
    return reachOf(own(i) - own(peak), higher).high + margin_ln >= 0;
  };
  const endTowards = (step: 1 | -1): number => {
    let farthest_C = peak_C;
    let before = Math.max(0, levelness(peak) ?? 0);
    let isBeside = true;
    for (let i = peak + step; i >= 0 && i <= last; i += step) {
      const below_ln = own(peak) - own(i);
      if (below_ln > deepestValley_ln) break;
      if (!isBeside && below_ln > lowestHump_ln) continue;
      const here = levelness(i);
      const isOpen: boolean = (here ?? before) >= 0 && (isBeside || isAsHigh(i, heightMargin_ln));
      if (here === null) return isOpen ? step * Number.NEGATIVE_INFINITY : farthest_C;
      if (isOpen) farthest_C = temperatureAt(i);
      else if (isBeside) farthest_C = temperatureAt(i - step + (step * before) / (before - here));
      isBeside &&= isOpen;
      before = isOpen ? here : -1;
    }
    return farthest_C;
  };
  return { low_C: Math.min(endTowards(1), peak_C), high_C: Math.max(endTowards(-1), peak_C) };
}
