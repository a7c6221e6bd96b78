import { cholesky, solveCholesky } from "./cholesky.js";
import { dot } from "./dot.js";

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
  const exponents = exponentsUpTo(degree, dimensions);
  const size = exponents.length / dimensions;
  // Powers of each standardised coordinate, and the products of them that make the polynomial's terms.
  const powers = new Float64Array(dimensions * (degree + 1));
  const terms = new Float64Array(size);
  const layTerms = (at: readonly number[]) => {
    for (let d = 0; d < dimensions; d++) {
      const x = (at[d] - axes[d].mean) / axes[d].deviation;
      let product = 1;
      for (let k = 0; k <= degree; k++) {
        powers[d * (degree + 1) + k] = product;
        product *= x;
      }
    }
    for (let a = 0; a < size; a++) {
      let product = 1;
      for (let d = 0; d < dimensions; d++) product *= powers[exponents[a * dimensions + d]];
      terms[a] = product;
    }
  };
  const normal = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (const [i, point] of points.entries()) {
    layTerms(point);
    for (let a = 0; a < size; a++) {
      right[a] += weights[i] * terms[a] * values[i];
      for (let b = 0; b <= a; b++) normal[a * size + b] += weights[i] * terms[a] * terms[b];
    }
  }
  if (!cholesky(normal, size)) return null;
  solveCholesky(normal, size, right);
  return (at) => {
    layTerms(at);
    return dot(right, 0, terms, 0, size);
  };
}

/** Of each term, in turn, the places of its factors in the table of powers; the degrees of a term sum to `degree` at most. */
function exponentsUpTo(degree: number, dimensions: number): number[] {
  const terms = (left: number, from: number): number[][] =>
    from === dimensions
      ? [[]]
      : Array.from({ length: left + 1 }, (_, k) =>
          terms(left - k, from + 1).map((rest) => [from * (degree + 1) + k, ...rest]),
        ).flat();
  return terms(degree, 0).flat();
}
