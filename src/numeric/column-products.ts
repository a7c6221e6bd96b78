/** Some columns of a matrix: from the first on, up to another that is not among them. */
export interface ColumnRange {
  from: number;
  to: number;
}

/**
 * Writes the products of columns, those of the first range with those of the second, of which only the later of two counts
 * where both hold it. Two by two, so that each number is fetched once for two products; the last one of an odd count goes with itself.
 * @param columns of `rows` numbers each, one after the other
 * @param out symmetric, size × size
 */
export function writeColumnProducts(
  columns: Float64Array,
  rows: number,
  first: ColumnRange,
  second: ColumnRange,
  out: Float64Array,
  size: number,
): void {
  const write = (a: number, b: number, value: number) => {
    out[a * size + b] = value;
    out[b * size + a] = value;
  };
  for (let a = first.from; a < first.to; a += 2) {
    const a2 = Math.min(a + 1, first.to - 1);
    for (let b = Math.max(second.from, a); b < second.to; b += 2) {
      const b2 = Math.min(b + 1, second.to - 1);
      let ab = 0;
      let ab2 = 0;
      let a2b = 0;
      let a2b2 = 0;
      for (let i = 0; i < rows; i++) {
        const x = columns[a * rows + i];
        const x2 = columns[a2 * rows + i];
        const y = columns[b * rows + i];
        const y2 = columns[b2 * rows + i];
        ab += x * y;
        ab2 += x * y2;
        a2b += x2 * y;
        a2b2 += x2 * y2;
      }
      write(a, b, ab);
      write(a, b2, ab2);
      write(a2, b, a2b);
      write(a2, b2, a2b2);
    }
  }
}
