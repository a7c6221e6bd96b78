import { square } from "../../numeric/elementary/power.js";
import { studentT95 } from "../../numeric/statistics/confidence.js";
import { median } from "../../numeric/statistics/quantile.js";

/**
 * 95 % interval by Student's t, opened to hold the median; null ends for a single value.
 * @param values repeats in one unit, at least one
 */
export function intervalOfMean(values: number[]): { low: number | null; high: number | null } {
  const n = values.length;
  if (n < 2) return { low: null, high: null };
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const variance = values.reduce((sum, value) => sum + square(value - mean), 0) / (n - 1);
  const half = studentT95(n - 1) * Math.sqrt(variance / n);
  const middle = median(values);
  return { low: Math.min(middle, mean - half), high: Math.max(middle, mean + half) };
}
