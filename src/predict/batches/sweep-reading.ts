import type { Sweep } from "../../fit/glass/sweep.js";
import { exp } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { power, square } from "../../numeric/elementary/power.js";

export interface SweepValue {
  value: number;
  /** Null where too few points stand around the temperature to show scatter. */
  standardError: number | null;
  degreesOfFreedom: number;
}

const nearestPoints = 7;
const halfWidth_K = 3;
const farthest_K = 12;
const fewestForScatter = 5;

/**
 * A positive quantity of a sweep at one temperature: the parabola of its logarithm through the points around it (the
 * seven nearest, and all within 3 K, none further than 12 K), with the standard error of that value. With fewer than
 * five such points a straight line between the two on either side, and no error.
 *
 * @returns null where the sweep has no points on both sides
 */
export function readSweepAt(
  sweep: Sweep,
  temperature_C: number,
  quantity: (storageModulus_Pa: number, lossModulus_Pa: number) => number,
): SweepValue | null {
  const points = Array.from(sweep.temperature_C, (T, i) => ({
    u: T - temperature_C,
    y: ln(quantity(sweep.storageModulus_Pa[i], sweep.lossModulus_Pa[i])),
  }))
    .filter(({ u, y }) => Math.abs(u) <= farthest_K && Number.isFinite(y))
    .sort((a, b) => Math.abs(a.u) - Math.abs(b.u));
  const near = points.filter(({ u }, i) => i < nearestPoints || Math.abs(u) <= halfWidth_K);
  const below = points.find(({ u }) => u <= 0);
  const above = points.find(({ u }) => u >= 0);
  if (below === undefined || above === undefined) return null;
  const distinct = new Set(near.map(({ u }) => u)).size;
  const spread_K = Math.max(...near.map(({ u }) => u)) - Math.min(...near.map(({ u }) => u));
  if (near.length < fewestForScatter || distinct < 4 || !(spread_K > 0)) {
    const share = above.u > below.u ? -below.u / (above.u - below.u) : 0;
    return {
      value: exp(below.y + share * (above.y - below.y)),
      standardError: null,
      degreesOfFreedom: 0,
    };
  }
  const { value: log, standardError } = parabolaAtZero(near);
  const value = exp(log);
  return { value, standardError: value * standardError, degreesOfFreedom: near.length - 3 };
}

/** Least squares y = a + b u + c u²: a and its standard error from the residuals. */
function parabolaAtZero(points: { u: number; y: number }[]): { value: number; standardError: number } {
  const scale = Math.max(...points.map(({ u }) => Math.abs(u)));
  const s = [0, 0, 0, 0, 0];
  const t = [0, 0, 0];
  for (const { u, y } of points) {
    const x = u / scale;
    for (let k = 0; k < 5; k++) s[k] += power(x, k);
    for (let k = 0; k < 3; k++) t[k] += y * power(x, k);
  }
  // First row of the inverse of the normal matrix, by cofactors.
  const cofactors = [s[2] * s[4] - s[3] * s[3], s[2] * s[3] - s[1] * s[4], s[1] * s[3] - s[2] * s[2]];
  const determinant = s[0] * cofactors[0] + s[1] * cofactors[1] + s[2] * cofactors[2];
  const row = cofactors.map((cofactor) => cofactor / determinant);
  const a = row[0] * t[0] + row[1] * t[1] + row[2] * t[2];
  const second = [
    row[1],
    (s[0] * s[4] - s[2] * s[2]) / determinant,
    (s[1] * s[2] - s[0] * s[3]) / determinant,
  ];
  const third = [row[2], second[2], (s[0] * s[2] - s[1] * s[1]) / determinant];
  const b = second[0] * t[0] + second[1] * t[1] + second[2] * t[2];
  const c = third[0] * t[0] + third[1] * t[1] + third[2] * t[2];
  let squares = 0;
  for (const { u, y } of points) {
    const x = u / scale;
    squares += square(y - a - b * x - c * x * x);
  }
  const variance = squares / (points.length - 3);
  return { value: a, standardError: Math.sqrt(Math.max(0, variance * row[0])) };
}
