import { expect, it } from "vitest";
import {
  logSpacedTimes,
  type ModulusPoints,
  maxwellKernel,
  relativeWeights,
  relaxationTimes,
  weightedModuli,
} from "../../src/fit/spectrum/maxwell-kernel.js";
import { PenalisedSpectrum } from "../../src/fit/spectrum/penalised-spectrum.js";
import { maxwellModulus } from "../../src/fit/spectrum/relaxation-model.js";
import { nnls } from "../../src/numeric/non-negative/nnls.js";
import { nonNegativeQuadratic } from "../../src/numeric/non-negative/nonnegative-quadratic.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";

/** A sweep that goes 30 decades into the glass: the modulus hardly changes there, and a hundred modes see the same few rows. */
function deepSweep(seed: number): ModulusPoints {
  const random = seededRandom(seed);
  const n = 90;
  const angularFrequency_rad_s = Float64Array.from({ length: n }, (_, i) => 10 ** (-6 + (40 * i) / n));
  const storageModulus_Pa = angularFrequency_rad_s.map(
    (w) => 1.5e6 + (2e9 * w ** 0.55) / (1 + w ** 0.55) + 1e7 * Math.log1p(w),
  );
  const lossModulus_Pa = angularFrequency_rad_s.map((w) => (9e8 * w ** 0.55) / (1 + w ** 0.55) ** 2 + 1.6e7);
  const noisy = (values: Float64Array) => values.map((value) => value * Math.exp(0.01 * random.normal()));
  const [storage, loss] = [noisy(storageModulus_Pa), noisy(lossModulus_Pa)];
  return {
    angularFrequency_rad_s,
    storageModulus_Pa: storage,
    lossModulus_Pa: loss,
    storageWeight: relativeWeights(storage),
    lossWeight: relativeWeights(loss),
  };
}

it("finds the least sum that Lawson and Hanson find on the rows themselves, also where the signs do not settle at once", () => {
  let unsettled = 0;
  for (let seed = 1; seed <= 6; seed++) {
    const points = deepSweep(seed);
    const { angularFrequency_rad_s: w, storageWeight, lossWeight } = points;
    const times_s = logSpacedTimes(w[0], w[w.length - 1], 3);
    const modes = times_s.length;
    const rhs = weightedModuli(points);
    const data = rhs.length;
    const kernel = new Float64Array(data * (modes + 1));
    maxwellKernel(w, storageWeight, lossWeight, times_s, kernel);
    for (const strength of [1e-4, 1e-7]) {
      const problem = new PenalisedSpectrum(points, times_s, true);
      const { scale } = problem;
      const { solution } = problem.solve(strength, null, false);
      // The same sum by rows: the weighted moduli, then the second differences.
      const rows = data + modes - 2;
      const values = new Float64Array(rows * (modes + 1));
      let trace = 0;
      for (let j = 0; j <= modes; j++) {
        for (let i = 0; i < data; i++) {
          values[j * rows + i] = kernel[j * data + i] * scale[j];
          trace += values[j * rows + i] ** 2;
        }
      }
      const root = Math.sqrt((strength * trace) / (6 * modes));
      for (let at = 0; at < modes - 2; at++) {
        for (const [k, value] of [1, -2, 1].entries()) values[(at + k) * rows + data + at] = root * value;
      }
      const target = new Float64Array(rows);
      target.set(rhs);
      const sumOf = (u: Float64Array) => {
        let sum = 0;
        for (let i = 0; i < rows; i++) {
          let row = -target[i];
          for (let j = 0; j <= modes; j++) row += values[j * rows + i] * u[j];
          sum += row * row;
        }
        return sum;
      };
      const least = sumOf(nnls({ rows, columns: modes + 1, values }, target).solution);
      expect(sumOf(solution) / least).toBeCloseTo(1, 6);
      expect(Math.min(...solution)).toBeGreaterThanOrEqual(0);
      // That the hard case is among these: all signs at once, from all modes, on the same normal equations.
      const size = modes + 1;
      const gram = new Float64Array(size * size);
      const linear = new Float64Array(size);
      for (let a = 0; a < size; a++) {
        for (let i = 0; i < rows; i++) linear[a] += values[a * rows + i] * target[i];
        for (let b = 0; b < size; b++) {
          for (let i = 0; i < rows; i++) gram[a * size + b] += values[a * rows + i] * values[b * rows + i];
        }
      }
      if (!nonNegativeQuadratic(gram, linear, null).converged) unsettled++;
    }
  }
  expect(unsettled).toBeGreaterThan(0);
});

it("draws the glass on two modes a decade as on three, with the same strength", () => {
  for (const seed of [1, 2, 3]) {
    const points = deepSweep(seed);
    const inGlass = { ...points, glassFrom_rad_s: 1e4 };
    const [even, uneven] = [points, inGlass].map((of) => {
      const times_s = relaxationTimes(of, 3);
      const problem = new PenalisedSpectrum(of, times_s, true);
      const { solution, effectiveParameters, rss } = problem.solve(1e-4, null, true);
      const moduli_Pa = solution.map((u, j) => u * problem.scale[j]);
      const model = {
        equilibriumModulus_Pa: moduli_Pa[times_s.length],
        times_s,
        moduli_Pa: moduli_Pa.subarray(0, -1),
      };
      return { times_s, model, effectiveParameters, rss };
    });
    expect(uneven.times_s[0]).toBeCloseTo(even.times_s[0], 50);
    expect(uneven.times_s.length).toBeLessThan(0.8 * even.times_s.length);
    expect(uneven.effectiveParameters / even.effectiveParameters).toBeCloseTo(1, 1);
    expect(uneven.rss / even.rss).toBeCloseTo(1, 2);
    for (let log10_rad_s = -6; log10_rad_s < 33; log10_rad_s += 0.17) {
      const [a, b] = [even, uneven].map(({ model }) => maxwellModulus(model, 10 ** log10_rad_s));
      expect(b.storageModulus_Pa / a.storageModulus_Pa).toBeCloseTo(1, 2);
      expect(Math.abs(b.lossModulus_Pa / a.lossModulus_Pa - 1)).toBeLessThan(0.03);
    }
  }
});
