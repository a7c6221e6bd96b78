/**
 * AᵀA of a matrix of `rows` × `size` kept column by column, by tiles of 2 × 4 columns: each number fetched serves several sums, and
 * the sums need not wait for each other. This is the inner loop of every draw.
 * @returns `size` × `size`, symmetric
 */
export function gramMatrix(matrix: Float64Array, rows: number, size: number): Float64Array {
  const gram = new Float64Array(size * size);
  const put = (a: number, b: number, value: number) => {
    gram[a * size + b] = value;
    gram[b * size + a] = value;
  };
  // A tile that reaches past the last column repeats it.
  const column = (j: number) => Math.min(j, size - 1);
  for (let a = 0; a < size; a += 2) {
    const a1 = column(a + 1);
    for (let b = 0; b <= a1; b += 4) {
      const [b1, b2, b3] = [column(b + 1), column(b + 2), column(b + 3)];
      const [ra, ra1, rb, rb1, rb2, rb3] = [a * rows, a1 * rows, b * rows, b1 * rows, b2 * rows, b3 * rows];
      let [s00, s01, s02, s03, s10, s11, s12, s13] = [0, 0, 0, 0, 0, 0, 0, 0];
      for (let i = 0; i < rows; i++) {
        const x0 = matrix[ra + i];
        const x1 = matrix[ra1 + i];
        const y0 = matrix[rb + i];
        const y1 = matrix[rb1 + i];
        const y2 = matrix[rb2 + i];
        const y3 = matrix[rb3 + i];
        s00 += x0 * y0;
        s01 += x0 * y1;
        s02 += x0 * y2;
        s03 += x0 * y3;
        s10 += x1 * y0;
        s11 += x1 * y1;
        s12 += x1 * y2;
        s13 += x1 * y3;
      }
      put(a, b, s00);
      put(a, b1, s01);
      put(a, b2, s02);
      put(a, b3, s03);
      put(a1, b, s10);
      put(a1, b1, s11);
      put(a1, b2, s12);
      put(a1, b3, s13);
    }
  }
  return gram;
}
