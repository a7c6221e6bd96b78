import { cube } from "./elementary/power.js";

/**
 * Local quadratic regression with tricube weights on uneven abscissae (Cleveland, J. Am. Stat. Assoc. 74,
 * 829, 1979, without the robustness passes): smoothed value and slope at each abscissa.
 *
 * @param x n abscissae, ascending
 * @param y n ordinates
 * @param neighbours how many points each local fit sees, at least 4
 */
export function localRegression(
  x: Float64Array,
  y: Float64Array,
  neighbours: number,
): { value: Float64Array; slope: Float64Array } {
  const n = x.length;
  const k = Math.min(neighbours, n);
  const value = new Float64Array(n);
  const slope = new Float64Array(n);
  let first = 0;
  for (let i = 0; i < n; i++) {
    while (first + k < n && x[first + k] - x[i] < x[i] - x[first]) first++;
    const reach = Math.max(x[i] - x[first], x[first + k - 1] - x[i]) * 1.0001 || 1;
    // Moments of the weighted parabola about x[i].
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    let s3 = 0;
    let s4 = 0;
    let t0 = 0;
    let t1 = 0;
    let t2 = 0;
    for (let j = first; j < first + k; j++) {
      const u = (x[j] - x[i]) / reach;
      const gap = 1 - Math.abs(u * u * u);
      const w = gap * gap * gap;
      const wu = w * u;
      const wu2 = wu * u;
      s0 += w;
      s1 += wu;
      s2 += wu2;
      s3 += wu2 * u;
      s4 += wu2 * u * u;
      t0 += w * y[j];
      t1 += wu * y[j];
      t2 += wu2 * y[j];
    }
    const determinant = s0 * (s2 * s4 - s3 * s3) - s1 * (s1 * s4 - s2 * s3) + s2 * (s1 * s3 - s2 * s2);
    if (Math.abs(determinant) < 1e-12 * cube(s0)) {
      value[i] = t0 / s0;
      slope[i] = 0;
      continue;
    }
    value[i] = (t0 * (s2 * s4 - s3 * s3) - s1 * (t1 * s4 - s3 * t2) + s2 * (t1 * s3 - s2 * t2)) / determinant;
    slope[i] =
      (s0 * (t1 * s4 - t2 * s3) - t0 * (s1 * s4 - s2 * s3) + s2 * (s1 * t2 - s2 * t1)) / determinant / reach;
  }
  return { value, slope };
}

/**
 * What point a counts in the polynomial through the points `at`, read at an abscissa (Lagrange).
 * @param x abscissae; `at` indices of the points, `a` one of them
 */
export function lagrangeWeight(x: Float64Array, at: number[], a: number, where: number): number {
  let weight = 1;
  for (const b of at) if (b !== a) weight *= (where - x[b]) / (x[a] - x[b]);
  return weight;
}

const besides = [-2, -1, 1, 2];

/**
 * How far each point stands from the cubic through its four neighbours on the real abscissae, over the factor by
 * which that raises the scatter of a single point; NaN at the two points of either end.
 * @param x n abscissae, ascending; `y` n ordinates
 * @returns n numbers in the unit of y
 */
export function deviationsFromNeighbours(x: Float64Array, y: Float64Array): Float64Array {
  const deviations = new Float64Array(x.length).fill(Number.NaN);
  const neighbours = [0, 0, 0, 0];
  for (let i = 2; i < x.length - 2; i++) {
    for (let k = 0; k < 4; k++) neighbours[k] = i + besides[k];
    let predicted = 0;
    let variance = 1;
    for (const a of neighbours) {
      const weight = lagrangeWeight(x, neighbours, a, x[i]);
      predicted += weight * y[a];
      variance += weight * weight;
    }
    deviations[i] = (y[i] - predicted) / Math.sqrt(variance);
  }
  return deviations;
}

/**
 * Standard deviation of the scatter of y about a smooth trend, from each point's distance to the cubic
 * through its four neighbours on the real abscissae, robust against single outliers (median).
 * @param x n abscissae, ascending; `y` n ordinates
 * @returns in the unit of y
 */
export function scatterAboutTrend(x: Float64Array, y: Float64Array): number {
  const found = deviationsFromNeighbours(x, y);
  let count = 0;
  for (const deviation of found) if (Number.isFinite(deviation)) found[count++] = Math.abs(deviation);
  if (count === 0) return 0;
  const deviations = found.subarray(0, count).sort();
  const middle = deviations.length >> 1;
  const median =
    deviations.length % 2 === 1 ? deviations[middle] : (deviations[middle - 1] + deviations[middle]) / 2;
  // The median of |z| for a standard normal z.
  return median / 0.674489750196;
}
