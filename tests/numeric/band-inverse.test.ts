import { expect, test } from "vitest";
import {
  bandIndex,
  bandMatrix,
  bandOfInverse,
  choleskyFactor,
  choleskySolve,
} from "../../src/numeric/cholesky.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";

test.each([1, 3, 5])("the inverse inside a band of %d is that of solving for each column", (band) => {
  const p = 12;
  const random = seededRandom(band);
  const matrix = bandMatrix(p, band);
  for (let i = 0; i < p; i++) {
    for (let j = Math.max(0, i - band); j < i; j++) matrix.values[bandIndex(matrix, i, j)] = random.normal();
    matrix.values[bandIndex(matrix, i, i)] = 4 * band;
  }
  choleskyFactor(matrix);
  const inverse = bandOfInverse(matrix);
  for (let j = 0; j < p; j++) {
    const column = new Float64Array(p);
    column[j] = 1;
    choleskySolve(matrix, column);
    for (let i = j; i <= Math.min(p - 1, j + band); i++)
      expect(inverse.values[bandIndex(inverse, i, j)]).toBeCloseTo(column[i], 12);
  }
});
