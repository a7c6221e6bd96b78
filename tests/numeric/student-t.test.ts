import { expect, test } from "vitest";
import { studentTBelow } from "../../src/numeric/statistics/student-t.js";

// 97.5 % points of Student's t for 1, 2, 5, 10, 30 and 120 degrees of freedom (table of any handbook, such as Abramowitz
// and Stegun, 26.10).
test.each([
  [1, 12.706],
  [2, 4.303],
  [5, 2.571],
  [10, 2.228],
  [30, 2.042],
  [120, 1.98],
])("97.5 %% of t with %d degrees of freedom lie below %d", (degrees, t) => {
  expect(studentTBelow(t, degrees)).toBeCloseTo(0.975, 4);
  expect(studentTBelow(-t, degrees)).toBeCloseTo(0.025, 4);
});

test("half lies below zero, all below infinity, and with one degree of freedom it is Cauchy's 1/2 + atan(t)/π", () => {
  for (const degrees of [1, 2, 3, 8, 41]) {
    expect(studentTBelow(0, degrees)).toBe(0.5);
    expect(studentTBelow(Number.POSITIVE_INFINITY, degrees)).toBe(1);
    expect(studentTBelow(Number.NEGATIVE_INFINITY, degrees)).toBe(0);
  }
  for (const t of [-3, -0.5, 0.2, 7])
    expect(studentTBelow(t, 1)).toBeCloseTo(0.5 + Math.atan(t) / Math.PI, 12);
});
