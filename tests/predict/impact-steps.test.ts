import { expect, test } from "vitest";
import { defaultPredictionSettings } from "../../src/predict/prediction-settings.js";
import { hertzContact, simulateImpact } from "../../src/predict/rebound/impact.js";

// Two modes a decade from 0.1 µs to 0.1 s, as of a rubber near its glass, under the pendulum of the trade's rebound test.
const times_s = Float64Array.from({ length: 13 }, (_, i) => 10 ** (-7 + i / 2));
const stiffness = {
  equilibrium: 2e5,
  times_s,
  strengths: times_s.map((time_s) => 3e6 * (time_s / 1e-5) ** -0.4),
};
const impact = (steps: number) =>
  simulateImpact(stiffness, hertzContact, 0.255, 1.98, { expectedContactTime_s: 2.5e-3, steps });

test("the default's steps leave little to finer ones, where modes are faster than a step", () => {
  const usual = impact(defaultPredictionSettings.impactSteps);
  const fine = impact(1024);
  expect(fine.reboundFraction).toBeGreaterThan(0.02);
  expect(Math.abs(usual.reboundFraction - fine.reboundFraction)).toBeLessThan(2e-4);
  expect(Math.abs(usual.peakForce_N / fine.peakForce_N - 1)).toBeLessThan(1e-4);
  expect(Math.abs(usual.contactTime_s / fine.contactTime_s - 1)).toBeLessThan(1e-4);
  expect(Math.abs(usual.deepestIndentation_m / fine.deepestIndentation_m - 1)).toBeLessThan(1e-4);
});
