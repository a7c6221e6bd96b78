/** In-place Cholesky of the leading n × n block (row by row, stride n). False where it is not positive. */
export function cholesky(a: Float64Array, n: number): boolean {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j];
      const ri = i * n;
      const rj = j * n;
      for (let k = 0; k < j; k++) sum -= a[ri + k] * a[rj + k];
      if (i === j) {
        if (!(sum > 0)) return false;
        a[ri + i] = Math.sqrt(sum);
      } else a[ri + j] = sum / a[rj + j];
    }
  }
  return true;
}

/** Solves L Lᵀ x = b in place with the factor from `cholesky`. */
export function solveCholesky(l: Float64Array, n: number, x: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let sum = x[i];
    for (let k = 0; k < i; k++) sum -= l[i * n + k] * x[k];
    x[i] = sum / l[i * n + i];
  }
  for (let i = n - 1; i >= 0; i--) {
    const value = x[i] / l[i * n + i];
    x[i] = value;
    for (let k = 0; k < i; k++) x[k] -= l[i * n + k] * value;
  }
}

/** The inverse of a symmetric positive matrix, n × n row by row; null where it is not positive. */
export function symmetricInverse(matrix: Float64Array, n: number): Float64Array | null {
  const l = matrix.slice(0, n * n);
  if (!cholesky(l, n)) return null;
  const out = new Float64Array(n * n);
  const column = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    column.fill(0);
    column[j] = 1;
    solveCholesky(l, n, column);
    for (let i = 0; i < n; i++) out[i * n + j] = column[i];
  }
  return out;
}
