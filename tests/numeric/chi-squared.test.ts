import { expect, test } from "vitest";
import { chiSquared95 } from "../../src/numeric/statistics/confidence.js";

// 95 % points of chi-squared: tables of any handbook (Abramowitz and Stegun, 26.8) to four digits, the rest of the digits by
// SciPy 1.10, scipy.stats.chi2.ppf(0.95, n).
test.each([
  [1, 3.841458820694124],
  [2, 5.991464547107979],
  [3, 7.814727903251179],
  [5, 11.070497693516351],
  [9, 16.918977604620448],
  [10, 18.307038053275146],
  [20, 31.410432844230918],
  [50, 67.5048065495412],
])("of %d degrees of freedom it is %d", (degrees, point) => {
  expect(chiSquared95(degrees) / point).toBeCloseTo(1, 12);
});

test("of very many degrees of freedom it goes on without a step", () => {
  const [before, behind] = [chiSquared95(300), chiSquared95(301)];
  expect(behind - before).toBeCloseTo(chiSquared95(300) - chiSquared95(299), 2);
});
