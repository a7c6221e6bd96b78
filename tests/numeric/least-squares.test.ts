import { describe, expect, it } from "vitest";
import { leastSquares } from "../../src/numeric/least-squares/least-squares.js";
import { chiSquared95, fiellerInterval, studentT95 } from "../../src/numeric/statistics/confidence.js";

const line = (x: number[], y: number[]) => ({
  count: x.length,
  residuals: (p: Float64Array, out: Float64Array) => {
    for (let i = 0; i < x.length; i++) out[i] = p[0] + p[1] * x[i] - y[i];
  },
});

describe("leastSquares", () => {
  it("a straight line has the textbook's slope, intercept and standard errors", () => {
    const x = [1, 2, 3, 4, 5];
    const y = [2.1, 3.9, 6.2, 7.8, 10.1];
    const { parameters, standardErrors, covariance, residualSumOfSquares, degreesOfFreedom } = leastSquares({
      ...line(x, y),
      start: [0, 0],
    });
    // Sxx = 10, Sxy = 19.9, means 3 and 6.02.
    expect(parameters[1]).toBeCloseTo(1.99, 10);
    expect(parameters[0]).toBeCloseTo(0.05, 10);
    expect(degreesOfFreedom).toBe(3);
    const s2 = residualSumOfSquares / 3;
    expect(standardErrors[1]).toBeCloseTo(Math.sqrt(s2 / 10), 10);
    expect(standardErrors[0]).toBeCloseTo(Math.sqrt(s2 * (1 / 5 + 9 / 10)), 10);
    expect(covariance[1]).toBeCloseTo((-s2 * 3) / 10, 10);
    expect(covariance[1]).toBe(covariance[2]);
  });

  it("an exact Jacobian gives the same answer as differences", () => {
    const x = [0, 1, 2, 3, 4, 5];
    const y = x.map((v) => 3 * Math.exp(-0.7 * v) + 0.01 * Math.sin(9 * v));
    const residuals = (p: Float64Array, out: Float64Array) => {
      for (let i = 0; i < x.length; i++) out[i] = p[0] * Math.exp(-p[1] * x[i]) - y[i];
    };
    const jacobian = (p: Float64Array, out: Float64Array) => {
      for (let i = 0; i < x.length; i++) {
        out[i] = Math.exp(-p[1] * x[i]);
        out[x.length + i] = -x[i] * p[0] * Math.exp(-p[1] * x[i]);
      }
    };
    const byDifferences = leastSquares({ count: 6, start: [1, 1], residuals });
    const exact = leastSquares({ count: 6, start: [1, 1], residuals, jacobian });
    for (const j of [0, 1]) {
      expect(byDifferences.parameters[j]).toBeCloseTo(exact.parameters[j], 9);
      expect(byDifferences.standardErrors[j]).toBeCloseTo(exact.standardErrors[j], 9);
    }
  });

  it("bounds hold, and the free parameters are the best beside them", () => {
    const problem = line([0, 1, 2, 3], [1, 3, 5, 7]);
    const { parameters, converged } = leastSquares({
      ...problem,
      start: [0, 1],
      lower: [2, 0],
      upper: [5, 9],
    });
    expect(converged).toBe(true);
    expect(parameters[0]).toBe(2);
    // min Σ (2 + b x − y)²: b = Σ x (y − 2)/Σ x² = (1·1 + 2·3 + 3·5)/14.
    expect(parameters[1]).toBeCloseTo(22 / 14, 9);
  });

  it("where the data do not tell a parameter its error is NaN, not a number", () => {
    const { standardErrors } = leastSquares({
      count: 4,
      start: [1, 1],
      residuals: (p, out) => {
        for (let i = 0; i < 4; i++) out[i] = p[0] + p[1] - i;
      },
    });
    expect([...standardErrors].some(Number.isNaN)).toBe(true);
  });

  it("refuses what cannot be fitted", () => {
    expect(() => leastSquares({ ...line([0], [0]), start: [] })).toThrow(/Nothing to fit/);
    expect(() => leastSquares({ ...line([0], [0]), start: [Number.NaN, 0] })).toThrow(/start\[0\] is NaN/);
    expect(() => leastSquares({ ...line([0], [0]), start: [0, 0], lower: [1, 0], upper: [0, 0] })).toThrow(
      /above/,
    );
    expect(() => leastSquares({ count: 1, start: [0], residuals: (_, out) => out.fill(Number.NaN) })).toThrow(
      /not finite/,
    );
  });
});

describe("critical values", () => {
  // Two-sided 95 % points of Student's t and 95 % points of chi-squared: any table of them.
  it.each([
    [1, 12.706],
    [2, 4.303],
    [3, 3.182],
    [5, 2.571],
    [10, 2.228],
    [30, 2.042],
    [1e6, 1.96],
    [Number.POSITIVE_INFINITY, 1.96],
  ])("t at %d degrees of freedom is %d", (v, expected) => {
    expect(Math.abs(studentT95(v) / expected - 1)).toBeLessThan(0.004);
  });

  it.each([
    [1, 3.841],
    [5, 11.07],
    [10, 18.31],
    [40, 55.76],
  ])("chi-squared at %d degrees of freedom is %d", (v, expected) => {
    expect(Math.abs(chiSquared95(v) / expected - 1)).toBeLessThan(0.03);
  });

  it("Fieller's interval: exact inverse of a bounded denominator, none where it may be zero", () => {
    // A ratio 1/b with b = 2 ± 0.1 is bounded by 1/2.196 and 1/1.804.
    const { low, high } = fiellerInterval(1, 2, 0, 0, 0.01, 1.96);
    expect(low!).toBeCloseTo(1 / 2.196, 9);
    expect(high!).toBeCloseTo(1 / 1.804, 9);
    expect(fiellerInterval(1, 2, 0.1, 0, 4, 1.96)).toEqual({ low: null, high: null });
    // Denominator known: the ratio's own error.
    expect(fiellerInterval(3, 2, 0.04, 0, 0, 2).high!).toBeCloseTo(1.5 + (2 * 0.2) / 2, 9);
  });
});
