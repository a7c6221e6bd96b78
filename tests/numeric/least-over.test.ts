import { describe, expect, it } from "vitest";
import { leastBetween, leastOver } from "../../src/numeric/least-over.js";

// Places of the least value are known from the functions themselves.
describe("where a function is least", () => {
  it("golden section finds the vertex of a parabola and the place of a kink within its tolerance", () => {
    expect(Math.abs(leastBetween((x) => (x - 1.234) ** 2, -3, 4, 1e-6) - 1.234)).toBeLessThan(1e-6);
    expect(Math.abs(leastBetween((x) => Math.abs(x + 2.5), -3, 4, 1e-9) + 2.5)).toBeLessThan(1e-9);
  });

  it("ends at a border where the function only falls or only rises", () => {
    expect(leastBetween((x) => x, 2, 5, 1e-3)).toBeCloseTo(2, 3);
    expect(leastBetween((x) => -x, 2, 5, 1e-3)).toBeCloseTo(5, 3);
  });

  it("asks for two values and one more each time the interval shrinks by 0.618", () => {
    let asked = 0;
    const value = (x: number) => {
      asked++;
      return x * x;
    };
    leastBetween(value, -1, 1, 0.02);
    // 2 × 0.618^10 = 0.016 is the first at or below 0.02; the last shrinking needs no further value.
    expect(asked).toBe(11);
  });

  it("takes the lowest of several valleys, where the places are close enough to see it", () => {
    const valleys = (x: number) => Math.cos(3 * x) + 0.1 * (x - 3) ** 2;
    const found = leastOver(valleys, -4, 8, 40, 1e-8);
    // The valley nearest x = 3: −3 sin 3x + 0.2 (x − 3) = 0 near 3x = 3π.
    expect(Math.abs(-3 * Math.sin(3 * found) + 0.2 * (found - 3))).toBeLessThan(1e-6);
    expect(Math.abs(found - Math.PI)).toBeLessThan(0.02);
  });

  it("stays in the middle where all places are alike", () => {
    expect(Math.abs(leastOver(() => 1, -1, 1, 40, 1e-7))).toBeLessThan(0.06);
  });
});
