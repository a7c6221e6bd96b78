import { halfIntervalOfMean, meanOf } from "../../numeric/statistics/mean.js";
import { median } from "../../numeric/statistics/quantile.js";

/**
 * 95 % interval by Student's t, opened to hold the median; null ends for a single value.
 * @param values repeats in one unit, at least one
 */
export function intervalOfMean(values: number[]): { low: number | null; high: number | null } {
  if (values.length < 2) return { low: null, high: null };
  const { mean } = meanOf(values);
  const half = halfIntervalOfMean(values);
  const middle = median(values);
  return { low: Math.min(middle, mean - half), high: Math.max(middle, mean + half) };
}
