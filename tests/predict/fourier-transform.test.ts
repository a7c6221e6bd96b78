import { expect, test } from "vitest";
import { fourierTransform } from "../../src/numeric/fourier-transform.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";

test.each([1, 2, 8, 256])("the transform of %i values equals the sum that defines it", (n) => {
  const random = seededRandom(n);
  const signal = Float64Array.from({ length: n }, () => random.normal());
  const { re, im } = fourierTransform(signal);
  for (let k = 0; k < n; k++) {
    let sumRe = 0;
    let sumIm = 0;
    for (let j = 0; j < n; j++) {
      sumRe += signal[j] * Math.cos((2 * Math.PI * j * k) / n);
      sumIm -= signal[j] * Math.sin((2 * Math.PI * j * k) / n);
    }
    expect(Math.hypot(re[k] - sumRe, im[k] - sumIm)).toBeLessThan(1e-11);
  }
});

test("other lengths are refused", () => {
  expect(() => fourierTransform(new Float64Array(6))).toThrow(/6 values: a power of two/);
});
