import type { z } from "zod";
import { power, square } from "../../numeric/elementary/power.js";
import { studentT95 } from "../../numeric/statistics/confidence.js";
import { meanOf } from "../../numeric/statistics/mean.js";
import type { batchComparisonSchema } from "./batch-schema.js";

export type BatchQuantity = BatchDifference["quantity"];

export type BatchDifference = BatchComparison["differences"][number];

export type BatchComparison = z.infer<typeof batchComparisonSchema>;

/** One reading of a quantity with its standard error; `degreesOfFreedom` behind that error, infinite for a bootstrap. */
export interface BatchEstimate {
  value: number;
  /** Null where a single reading shows no scatter of its own. */
  standardError: number | null;
  degreesOfFreedom: number;
  path: string;
}

/** A mean of readings with the error of that mean. */
export interface BatchValue {
  value: number;
  standardError: number | null;
  degreesOfFreedom: number;
  runs: number;
}

/** Whether a difference is held to a limit. */
export type Equivalence = BatchDifference["statement"];

/**
 * The readings of one batch as one value: the mean, with the larger of the error from the spread between runs and
 * the error within them.
 */
export function batchValue(readings: BatchEstimate[]): BatchValue {
  const n = readings.length;
  if (n === 1) {
    const { value, standardError, degreesOfFreedom } = readings[0];
    return { value, standardError, degreesOfFreedom, runs: 1 };
  }
  const { mean: value, standardError: between } = meanOf(readings.map((one) => one.value));
  const within = readings.every((one) => one.standardError !== null)
    ? Math.sqrt(readings.reduce((sum, one) => sum + square(one.standardError!), 0)) / n
    : 0;
  return within > between
    ? { value, standardError: within, degreesOfFreedom: pooledFreedom(readings), runs: n }
    : { value, standardError: between, degreesOfFreedom: n - 1, runs: n };
}

/**
 * b − a with its 95 % interval by Welch's method (Welch, Biometrika 34, 28, 1947; degrees of freedom by
 * Satterthwaite). Null ends where one of the two has no error.
 */
export function differenceOf(
  b: BatchValue,
  a: BatchValue,
): { difference: number; low: number | null; high: number | null } {
  const difference = b.value - a.value;
  if (a.standardError === null || b.standardError === null) return { difference, low: null, high: null };
  const half = welchHalfWidth([a as KnownError, b as KnownError]);
  return { difference, low: difference - half, high: difference + half };
}

interface KnownError {
  standardError: number;
  degreesOfFreedom: number;
}

function welchHalfWidth(parts: KnownError[]): number {
  const variance = parts.reduce((sum, { standardError }) => sum + square(standardError), 0);
  if (variance === 0) return 0;
  return studentT95(satterthwaite(parts)) * Math.sqrt(variance);
}

function satterthwaite(parts: KnownError[]): number {
  const variance = parts.reduce((sum, { standardError }) => sum + square(standardError), 0);
  const spread = parts.reduce((sum, part) => sum + power(part.standardError, 4) / part.degreesOfFreedom, 0);
  return spread > 0 ? Math.max(1, square(variance) / spread) : Number.POSITIVE_INFINITY;
}

function pooledFreedom(readings: BatchEstimate[]): number {
  return satterthwaite(readings as KnownError[]);
}

/**
 * The 95 % interval of a difference held against ± limit: wholly inside it is equivalent, wholly outside it
 * different, else not decided. Inside is the two one-sided tests at 2.5 % each (Schuirmann, J. Pharmacokinet.
 * Biopharm. 15, 657, 1987; from memory), stricter than the 5 % each that many use.
 * @param limit null: none is stated
 * @example equivalence(-0.5, 1.2, 2) // "equivalent"
 */
export function equivalence(low: number | null, high: number | null, limit: number | null): Equivalence {
  if (limit === null) return "no limit stated";
  if (low === null || high === null) return "not decided";
  if (low >= -limit && high <= limit) return "equivalent";
  return low > limit || high < -limit ? "different" : "not decided";
}
