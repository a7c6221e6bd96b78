import { square } from "../elementary/power.js";
import { studentT95 } from "./confidence.js";

/** @returns the mean and its standard error from the scatter of the values; NaN for the error of a single one */
export function meanOf(values: readonly number[]): { mean: number; standardError: number } {
  const n = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const variance = values.reduce((sum, value) => sum + square(value - mean), 0) / (n - 1);
  return { mean, standardError: n > 1 ? Math.sqrt(variance / n) : Number.NaN };
}

/** Half the 95 % interval of a mean, by Student's t of n − 1 degrees of freedom; NaN for a single value. */
export const halfIntervalOfMean = (values: readonly number[]): number =>
  values.length < 2 ? Number.NaN : studentT95(values.length - 1) * meanOf(values).standardError;

/**
 * The mean of replicates that have errors of their own.
 * @returns `ownError` of the mean by those, and `betweenError` by the scatter of the values, zero for a single one
 */
export function meanOfReplicates(values: readonly { value: number; error: number }[]): {
  mean: number;
  ownError: number;
  betweenError: number;
} {
  const n = values.length;
  const { mean, standardError } = meanOf(values.map(({ value }) => value));
  const ownError = Math.sqrt(values.reduce((sum, { error }) => sum + square(error), 0)) / n;
  return { mean, ownError, betweenError: n > 1 ? standardError : 0 };
}
