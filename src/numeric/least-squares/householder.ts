/**
 * QR by Householder reflections, in place, of a matrix kept column by column in one array
 * (Golub and Van Loan, Matrix Computations, 4th ed., algorithm 5.2.1). Column j is
 * `columns.subarray(j * rows, (j + 1) * rows)`. After the call the upper triangle holds R, and the last
 * `carried` columns (right-hand sides) have been multiplied by Qᵀ. Returns nothing; a dependent column leaves
 * a diagonal element of zero or of rounding size.
 */
export function factorise(columns: Float64Array, rows: number, count: number, carried: number): void {
  const total = count + carried;
  for (let k = 0; k < count && k < rows; k++) {
    const start = k * rows;
    let norm = 0;
    for (let i = k; i < rows; i++) norm += columns[start + i] * columns[start + i];
    norm = Math.sqrt(norm);
    if (norm === 0) continue;
    const pivot = columns[start + k];
    const alpha = pivot > 0 ? -norm : norm;
    // v = x − alpha e1, kept in the column below the diagonal; beta = 2 / vᵀv.
    const head = pivot - alpha;
    const beta = -1 / (alpha * head);
    for (let j = k + 1; j < total; j++) {
      const other = j * rows;
      let dot = head * columns[other + k];
      for (let i = k + 1; i < rows; i++) dot += columns[start + i] * columns[other + i];
      if (dot === 0) continue;
      const factor = dot * beta;
      columns[other + k] -= factor * head;
      for (let i = k + 1; i < rows; i++) columns[other + i] -= factor * columns[start + i];
    }
    columns[start + k] = alpha;
  }
}

/**
 * Solves R x = c for the upper triangle left by `factorise`; c is the first `count` entries of `rhs`.
 * @param columns as `factorise` left them
 * @param out `count` numbers, written to; 0 where a diagonal element is
 */
export function solveUpper(
  columns: Float64Array,
  rows: number,
  count: number,
  rhs: Float64Array,
  out: Float64Array,
): void {
  for (let j = 0; j < count; j++) out[j] = rhs[j];
  for (let j = count - 1; j >= 0; j--) {
    const start = j * rows;
    const diagonal = columns[start + j];
    out[j] = diagonal === 0 ? 0 : out[j] / diagonal;
    for (let i = 0; i < j; i++) out[i] -= columns[start + i] * out[j];
  }
}
