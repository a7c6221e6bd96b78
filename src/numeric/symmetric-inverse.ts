import { CholeskyDecomposition, Matrix } from "ml-matrix";

/**
 * The inverse of a symmetric positive matrix, such as a covariance from an information matrix.
 *
 * @param matrix n × n, row by row; its lower triangle counts
 * @returns n × n, row by row; null where the matrix is not positive
 */
export function symmetricInverse(matrix: Float64Array, n: number): Float64Array | null {
  // The two triangles may differ by rounding, which the library takes for a matrix that is not symmetric.
  const symmetric = new Matrix(n, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      symmetric.set(i, j, matrix[i * n + j]);
      symmetric.set(j, i, matrix[i * n + j]);
    }
  }
  const factor = new CholeskyDecomposition(symmetric);
  return factor.isPositiveDefinite() ? Float64Array.from(factor.solve(Matrix.eye(n)).to1DArray()) : null;
}
