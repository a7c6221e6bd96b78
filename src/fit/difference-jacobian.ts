import type { LeastSquaresProblem } from "./least-squares.js";

/**
 * The Jacobian as given, or by differences: two points a side of h = ε^(1/3)|p|, or, `fine`, four points by
 * Richardson extrapolation with h = 1e-4 |p|: a compromise between rounding and a location parameter far from
 * zero beside a narrow peak (Eckerle4 of NIST).
 */
export function evaluateJacobian(
  problem: LeastSquaresProblem,
  parameters: Float64Array,
  residuals: Float64Array,
  out: Float64Array,
  fine: boolean,
): void {
  if (problem.jacobian) {
    problem.jacobian(parameters, out);
    return;
  }
  const { count } = problem;
  const moved = Float64Array.from(parameters);
  const plus = new Float64Array(count);
  const minus = new Float64Array(count);
  for (let j = 0; j < parameters.length; j++) {
    const column = out.subarray(j * count, (j + 1) * count);
    const size = parameters[j] === 0 ? 1e-3 : Math.abs(parameters[j]);
    const slope = (h: number, target: Float64Array) => {
      moved[j] = Math.min(parameters[j] + h, problem.upper?.[j] ?? Number.POSITIVE_INFINITY);
      const above = moved[j];
      problem.residuals(moved, plus);
      moved[j] = Math.max(parameters[j] - h, problem.lower?.[j] ?? Number.NEGATIVE_INFINITY);
      const below = moved[j];
      problem.residuals(moved, minus);
      moved[j] = parameters[j];
      for (let i = 0; i < count; i++) {
        // One-sided where the model has no value on the other side.
        if (!Number.isFinite(plus[i])) target[i] = (residuals[i] - minus[i]) / (parameters[j] - below);
        else if (!Number.isFinite(minus[i])) target[i] = (plus[i] - residuals[i]) / (above - parameters[j]);
        else target[i] = (plus[i] - minus[i]) / (above - below);
        if (!Number.isFinite(target[i])) target[i] = 0;
      }
    };
    if (!fine) {
      slope(6e-6 * size, column);
      continue;
    }
    const wide = new Float64Array(count);
    const h = 1e-4 * size;
    slope(2 * h, wide);
    slope(h, column);
    for (let i = 0; i < count; i++) column[i] += (column[i] - wide[i]) / 3;
  }
}
