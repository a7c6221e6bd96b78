import { describe, expect, it } from "vitest";
import { maxwellGram } from "../../src/fit/spectrum/maxwell-gram.js";
import { logSpacedTimes, maxwellKernel } from "../../src/fit/spectrum/maxwell-kernel.js";

/** n angular frequencies over so many decades, in an order of their own. */
function shuffled(decades: number, n: number): Float64Array {
  return Float64Array.from({ length: n }, (_, i) => 10 ** (decades * (((i * 37) % n) / (n - 1) - 0.5)));
}

/** The largest difference from the product of the kernel with itself, over the larger of two elements' own sizes. */
function largestDifference(
  omega: Float64Array,
  storage_Pa: Float64Array,
  loss_Pa: Float64Array,
  modesPerDecade: number,
) {
  const n = omega.length;
  const weightOf = (values: Float64Array) => values.map((value) => (value > 0 ? 1 / value : 0));
  const [storageWeight, lossWeight] = [weightOf(storage_Pa), weightOf(loss_Pa)];
  const target = Float64Array.from({ length: 2 * n }, (_, i) => 1 + 0.1 * Math.sin(i));
  const times_s = logSpacedTimes(Math.min(...omega), Math.max(...omega), modesPerDecade, 1);
  const size = times_s.length + 1;
  const { gram, linear } = maxwellGram(omega, storageWeight, lossWeight, target, times_s);
  const kernel = new Float64Array(2 * n * size);
  maxwellKernel(omega, storageWeight, lossWeight, times_s, kernel);
  const product = (a: number, other: (i: number) => number) => {
    let sum = 0;
    for (let i = 0; i < 2 * n; i++) sum += kernel[a * 2 * n + i] * other(i);
    return sum;
  };
  let largest = 0;
  for (let a = 0; a < size; a++) {
    const b0 = product(a, (i) => target[i]);
    largest = Math.max(largest, Math.abs(linear[a] - b0) / Math.abs(b0));
    for (let b = 0; b < size; b++) {
      const exact = product(a, (i) => kernel[b * 2 * n + i]);
      largest = Math.max(largest, Math.abs(gram[a * size + b] - exact) / exact);
    }
  }
  return largest;
}

describe("the normal equations of a Maxwell fit", () => {
  it("are the kernel's own product to rounding, element by element", () => {
    for (const [decades, modesPerDecade] of [
      [3, 5],
      [12, 5],
      [30, 3],
      [8, 20],
    ]) {
      const omega = shuffled(decades, 120);
      const storage = omega.map((w) => 1e6 + (1e9 * w ** 0.6) / (1 + w ** 0.6));
      const loss = omega.map((w) => 2e5 + (1e8 * w ** 0.6) / (1 + w ** 0.9));
      expect(largestDifference(omega, storage, loss, modesPerDecade)).toBeLessThan(1e-12);
    }
  });

  it("keep their digits where a loss falls as 1/ω on the glassy side and a liquid's moduli as ω and ω²", () => {
    const omega = shuffled(16, 100);
    const storage = omega.map((w) => (1e9 * w * w) / (1 + w * w));
    const loss = omega.map((w) => (1e9 * w) / (1 + w * w));
    expect(largestDifference(omega, storage, loss, 5)).toBeLessThan(1e-12);
  });

  it("take moduli that are missing for what they are", () => {
    const omega = shuffled(8, 60);
    const storage = omega.map((w, i) => (i % 7 === 3 ? Number.NaN : 1e6 + (1e9 * w) / (1 + w)));
    const loss = omega.map((w, i) => (i % 5 === 1 ? 0 : 1e5 + (1e8 * w ** 0.5) / (1 + w)));
    expect(largestDifference(omega, storage, loss, 5)).toBeLessThan(1e-12);
  });
});
