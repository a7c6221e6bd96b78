import { halfIntervalOfMean } from "../../numeric/statistics/mean.js";

/** One test: the median of its readings, and who made it. */
export interface ReboundTest {
  temperature_C: number;
  fraction: number;
  laboratory: string | null;
  path: string;
  line: number;
}

/** All tests at one temperature as one value. */
export interface PooledRebound {
  temperature_C: number;
  /** The test's own value; of several, the mean of the laboratories' means, or of the tests. */
  fraction: number;
  /** 95 % interval of the mean from the spread between laboratories or tests, by Student's t; null for one test. */
  low: number | null;
  high: number | null;
  /** Half of that interval; 0 for one test. */
  halfWidth: number;
  /** What the spread is between; null for one test. */
  between: "laboratories" | "tests" | null;
  tests: number;
  laboratories: string[];
  least: number;
  greatest: number;
  /** First of the tests by file and line. */
  path: string;
  line: number;
}

/** Thermostats that are set alike differ by as much (common practice). */
const sameTemperature_K = 0.5;

/**
 * Tests pooled by temperature, coldest first; the order in which they come does not count. Laboratories differ by
 * more than the tests of one of them, so where two or more are named their means are what is averaged.
 * @example poolRebound([{ temperature_C: 23, fraction: 0.5, laboratory: null, path: "a.csv", line: 2 }])[0].low // null
 */
export function poolRebound(tests: ReboundTest[]): PooledRebound[] {
  const sorted = [...tests].sort(
    (a, b) =>
      a.temperature_C - b.temperature_C ||
      (a.path < b.path ? -1 : a.path > b.path ? 1 : a.line - b.line) ||
      a.fraction - b.fraction,
  );
  const groups: ReboundTest[][] = [];
  for (const test of sorted) {
    const last = groups[groups.length - 1];
    if (last !== undefined && test.temperature_C - last[0].temperature_C <= sameTemperature_K)
      last.push(test);
    else groups.push([test]);
  }
  return groups.map(pooled);
}

function pooled(tests: ReboundTest[]): PooledRebound {
  const fractions = tests.map(({ fraction }) => fraction).sort((a, b) => a - b);
  const laboratories = [...new Set(tests.flatMap(({ laboratory }) => laboratory ?? []))].sort();
  // Tests that name no laboratory among others that do are taken for those of one more.
  const names = [...new Set(tests.map(({ laboratory }) => laboratory))];
  const isBetweenLaboratories = laboratories.length > 1;
  const values = isBetweenLaboratories
    ? names
        .map((name) => mean(tests.filter((test) => test.laboratory === name).map((test) => test.fraction)))
        .sort((a, b) => a - b)
    : fractions;
  const fraction = mean(values);
  const halfWidth = values.length > 1 ? halfIntervalOfMean(values) : 0;
  const [first] = [...tests].sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : a.line - b.line));
  return {
    temperature_C: mean(tests.map(({ temperature_C }) => temperature_C)),
    fraction,
    low: values.length > 1 ? Math.max(0, fraction - halfWidth) : null,
    high: values.length > 1 ? Math.min(1, fraction + halfWidth) : null,
    halfWidth,
    between: values.length < 2 ? null : isBetweenLaboratories ? "laboratories" : "tests",
    tests: tests.length,
    laboratories,
    least: fractions[0],
    greatest: fractions[fractions.length - 1],
    path: first.path,
    line: first.line,
  };
}

function mean(values: number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
