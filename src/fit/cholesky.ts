/**
 * Cholesky factor L (row-major, lower) of a symmetric positive definite p × p matrix. A pivot that rounding
 * has made non-positive is replaced by a tiny one, so that a nearly singular direction is damped, not lost.
 */
export function choleskyFactor(matrix: Float64Array, p: number): Float64Array {
  const factor = new Float64Array(p * p);
  for (let i = 0; i < p; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * p + j];
      for (let k = 0; k < j; k++) sum -= factor[i * p + k] * factor[j * p + k];
      if (i === j) factor[i * p + i] = Math.sqrt(sum > 0 ? sum : Number.MIN_VALUE ** 0.25);
      else factor[i * p + j] = sum / factor[j * p + j];
    }
  }
  return factor;
}

/** Solves L Lᵀ x = right. */
export function choleskySolve(factor: Float64Array, p: number, right: Float64Array): Float64Array {
  const x = Float64Array.from(right);
  for (let i = 0; i < p; i++) {
    for (let k = 0; k < i; k++) x[i] -= factor[i * p + k] * x[k];
    x[i] /= factor[i * p + i];
  }
  for (let i = p - 1; i >= 0; i--) {
    for (let k = i + 1; k < p; k++) x[i] -= factor[k * p + i] * x[k];
    x[i] /= factor[i * p + i];
  }
  return x;
}

/** (L Lᵀ)⁻¹, row-major. */
export function choleskyInverse(factor: Float64Array, p: number): Float64Array {
  const inverse = new Float64Array(p * p);
  const unit = new Float64Array(p);
  for (let j = 0; j < p; j++) {
    unit.fill(0);
    unit[j] = 1;
    inverse.set(choleskySolve(factor, p, unit), j * p);
  }
  return inverse;
}
