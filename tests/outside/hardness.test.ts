import { expect, it } from "vitest";
import { reducedFrequency_Hz } from "../../src/fit/spectrum/relaxation-model.js";
import type { Deformation } from "../../src/io/measurement.js";
import { hardnessNotice, modulusFromHardness_Pa } from "../../src/predict/indicators/hardness-check.js";
import { levelRubber } from "../make/level-rubber.js";

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

/** A compound of 60 Shore A whose data give this modulus at 23 °C, against the 3.6 MPa that its hardness asks for. */
const said = (modulus_Pa: number, deformation: Deformation = "tension", shoreA = 60) =>
  hardnessNotice({ model: { ...levelRubber(modulus_Pa, 0.1), deformation } } as never, [
    { quantity: "hardness", unit: "Shore A", value: shoreA } as never,
  ])?.message ?? null;

it("hardness finds a slipped unit in the modulus, and is silent where both agree", () => {
  expect(said(3.6e6)).toBeNull();
  // In shear a third of it, taken to tension.
  expect(said(1.2e6, "shear")).toBeNull();
  // kPa read as MPa, psi as MPa, MPa as Pa.
  expect(said(3.6e9)).toContain("slipped unit");
  expect(said(3.6e6 * 145)).toContain("times more");
  expect(said(3.6)).toContain("times less");
  expect(said(3.6e3)).toMatch(/give [\d.]+ kPa, \d+ times less/);
  // E written as G is three times too much once it is taken to tension: found where the modulus lies high by itself.
  expect(said(6.5e6, "shear")).toContain("G taken as E");
  expect(said(3.6e9, "tension", 10)).toBeNull();
});

it("a modulus that was not measured for as long as a hardness is read bounds it from above only", () => {
  const measuredFor = (time_s: number, modulus_Pa: number) => {
    const model = levelRubber(modulus_Pa, 0.1);
    const perHertz = reducedFrequency_Hz(model, 23, 1);
    const lowestReducedFrequency_Hz = perHertz / (2 * Math.PI * time_s);
    return (
      hardnessNotice({ model: { ...model, lowestReducedFrequency_Hz } } as never, [
        { quantity: "hardness", unit: "Shore A", value: 60 } as never,
      ])?.message ?? null
    );
  };
  expect(measuredFor(10, 0.6e6)).toMatch(/give \d+ kPa, [\d.]+ times less/);
  expect(measuredFor(0.1, 0.6e6)).toMatch(/give at most \d+ kPa, [\d.]+ times less/);
  expect(measuredFor(10, 36e6)).toContain("times more");
  expect(measuredFor(0.1, 36e6)).toBeNull();
});
