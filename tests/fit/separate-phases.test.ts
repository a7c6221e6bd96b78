import { expect, test } from "vitest";
import { separatePhases } from "../../src/fit/glass/separate-phases.js";
import type { FurtherPeak, GlassTransition } from "../../src/fit/material.js";

const further = (quantity: FurtherPeak["quantity"], height: number): FurtherPeak => ({
  quantity,
  temperature_C: -55,
  low_C: -56,
  high_C: -54,
  height,
  prominence: height / 2,
});

const sweep = (furtherPeaks: FurtherPeak[]): GlassTransition => ({
  frequency_Hz: 1,
  deformation: "shear",
  direction: "heating",
  tanDeltaPeak: { temperature_C: -22, low_C: -23, high_C: -21, bracketed: true, height: 0.9, width_K: 18 },
  lossModulusPeak: null,
  storageModulusOnset: null,
  furtherPeaks,
  path: "invented.csv",
});

test("two high tan δ peaks are two phases; a secondary relaxation's and a loss modulus peak are not", () => {
  expect(separatePhases([sweep([]), sweep([further("tan delta", 0.35)])])).toEqual({
    frequency_Hz: 1,
    governing_C: -22,
    further_C: -55,
  });
  expect(separatePhases([sweep([further("tan delta", 0.08)])])).toBeNull();
  expect(separatePhases([sweep([further("loss modulus", 1e8)])])).toBeNull();
  expect(separatePhases([{ ...sweep([]), tanDeltaPeak: null }])).toBeNull();
  expect(separatePhases([])).toBeNull();
});
