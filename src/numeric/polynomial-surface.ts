import { cholesky, solveCholesky } from "./cholesky.js";

/**
 * A polynomial in a few coordinates through scattered values by weighted least squares, each coordinate measured from its
 * weighted mean in its own weighted standard deviation.
 *
 * @param points n of the same few coordinates
 * @param values n
 * @param weights n, not negative
 * @param degree of the whole polynomial
 * @returns the polynomial; null where the points do not determine it
 */
export function polynomialSurface(
  points: readonly (readonly number[])[],
  values: readonly number[],
  weights: ArrayLike<number>,
  degree: number,
): ((at: readonly number[]) => number) | null {
  const dimensions = points[0]?.length ?? 0;
  let total = 0;
  for (let i = 0; i < points.length; i++) total += weights[i];
  const average = (of: (point: readonly number[]) => number) =>
    points.reduce((sum, point, i) => sum + weights[i] * of(point), 0) / total;
  const axes = Array.from({ length: dimensions }, (_, d) => {
    const mean = average((point) => point[d]);
    return { mean, deviation: Math.sqrt(average((point) => (point[d] - mean) * (point[d] - mean))) };
  });
  if (axes.some(({ deviation }) => !(deviation > 0))) return null;
  const standard = (at: readonly number[]) =>
    axes.map(({ mean, deviation }, d) => (at[d] - mean) / deviation);
  const powers = powersUpTo(degree, dimensions);
  const size = powers.length;
  const normal = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (const [i, point] of points.entries()) {
    const x = standard(point);
    const row = powers.map((exponents) => monomial(x, exponents));
    for (let a = 0; a < size; a++) {
      right[a] += weights[i] * row[a] * values[i];
      for (let b = 0; b <= a; b++) normal[a * size + b] += weights[i] * row[a] * row[b];
    }
  }
  if (!cholesky(normal, size)) return null;
  solveCholesky(normal, size, right);
  return (at) => {
    const x = standard(at);
    let sum = 0;
    for (const [a, exponents] of powers.entries()) sum += right[a] * monomial(x, exponents);
    return sum;
  };
}

/** All exponents of a sum of at most `degree`. */
function powersUpTo(degree: number, dimensions: number): number[][] {
  if (dimensions === 0) return [[]];
  return Array.from({ length: degree + 1 }, (_, first) =>
    powersUpTo(degree - first, dimensions - 1).map((rest) => [first, ...rest]),
  ).flat();
}

function monomial(x: readonly number[], exponents: readonly number[]): number {
  let product = 1;
  for (let d = 0; d < x.length; d++) for (let k = 0; k < exponents[d]; k++) product *= x[d];
  return product;
}
