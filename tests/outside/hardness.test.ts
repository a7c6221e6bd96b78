import { expect, it } from "vitest";
import { modulusFromHardness_Pa } from "../../src/predict/indicators/hardness-check.js";

// Gent, Rubber Chem. Technol. 31, 896, 1958; values derived from the formula outside this program.
it.each([
  [40, 1.69],
  [50, 2.456],
  [60, 3.605],
  [70, 5.521],
  [80, 9.351],
])("%d Shore A stands for E of %d MPa", (shoreA, modulus_MPa) => {
  expect(modulusFromHardness_Pa(shoreA) / 1e6).toBeCloseTo(modulus_MPa, 3);
});
