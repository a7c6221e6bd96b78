import { expect, it } from "vitest";
import { log10ShiftFactor } from "../../src/fit/spectrum/shift-law.js";
import {
  phaseLaw,
  type TwoPhasePoints,
  TwoPhaseSpectra,
} from "../../src/fit/superposition/two-phase-spectra.js";

/** Two made-up phases of log-normal spectra about 1 Hz at their peaks, the warmer one with two fifths of the fall. */
const truth = [-55, Math.log(0.25), Math.log(60), -15, Math.log(0.22), Math.log(70)];
const temperatures_C = Array.from({ length: 17 }, (_, i) => -70 + 7 * i);
const frequencies_Hz = [0.1, 0.3, 1, 3, 10, 30];

function madeBlend(): TwoPhasePoints {
  const temperature_C = Float64Array.from(temperatures_C.flatMap((t) => frequencies_Hz.map(() => t)));
  const frequency_Hz = Float64Array.from(temperatures_C.flatMap(() => frequencies_Hz));
  const storageModulus_Pa = new Float64Array(temperature_C.length).fill(1.5e6);
  const lossModulus_Pa = new Float64Array(temperature_C.length);
  for (const [phase, fall_Pa, width] of [
    [0, 9e8, 1.6],
    [1, 6e8, 1.9],
  ] as const) {
    const law = phaseLaw(truth, phase);
    for (let decade = -9; decade <= 7; decade += 0.05) {
      const modulus_Pa =
        (fall_Pa * 0.05 * Math.exp(-0.5 * ((decade + 0.8) / width) ** 2)) / (width * Math.sqrt(2 * Math.PI));
      for (let i = 0; i < temperature_C.length; i++) {
        const x = 2 * Math.PI * frequency_Hz[i] * 10 ** (log10ShiftFactor(law, temperature_C[i]) + decade);
        storageModulus_Pa[i] += (modulus_Pa * x * x) / (1 + x * x);
        lossModulus_Pa[i] += (modulus_Pa * x) / (1 + x * x);
      }
    }
  }
  return { temperature_C, frequency_Hz, storageModulus_Pa, lossModulus_Pa };
}

const options = { modesPerDecade: 3, strength: 1e-3 };
const length = (values: Float64Array) => Math.hypot(...values);

it("at the laws that a blend was made with two spectra leave almost nothing, beside them much more", () => {
  const points = madeBlend();
  const { rms } = new TwoPhaseSpectra(points, truth, options).solve(null);
  expect(rms).toBeLessThan(0.01);
  const beside = truth.map((value, k) => value + [3, 0.2, -0.2, -4, 0.2, 0.2][k]);
  expect(new TwoPhaseSpectra(points, beside, options).solve(null).rms).toBeGreaterThan(5 * rms);
});

it("the derivatives are those of the residuals with the spectra solved anew", () => {
  const points = madeBlend();
  const at = truth.map((value, k) => value + [1, 0.05, -0.05, -1, 0.05, 0.05][k]);
  const spectra = new TwoPhaseSpectra(points, at, options);
  const columns = spectra.derivatives(spectra.solve(null));
  expect(columns).toHaveLength(6);
  for (const [k, step] of [0.2, 0.01, 0.01, 0.2, 0.01, 0.01].entries()) {
    const [low, high] = [-step, step].map((by) => {
      const moved = at.map((value, j) => (j === k ? value + by : value));
      return new TwoPhaseSpectra(points, moved, options).solve(null).residuals;
    });
    const difference = columns[k].map((_, i) => (high[i] - low[i]) / (2 * step));
    const off = difference.map((value, i) => value - columns[k][i]);
    // Solved anew, the grid of times moves along, and with it what lies at its ends.
    expect(length(off) / length(difference)).toBeLessThan(0.25);
  }
});

it("a start from a neighbouring solution changes nothing but the way there", () => {
  const points = madeBlend();
  const beside = truth.map((value, k) => value + [0.5, 0.02, 0, 0.5, 0, 0.02][k]);
  const spectra = new TwoPhaseSpectra(points, truth, options);
  const cold = spectra.solve(null);
  const warm = spectra.solve(new TwoPhaseSpectra(points, beside, options).solve(null));
  expect(warm.rms).toBeCloseTo(cold.rms, 9);
  for (const phase of [0, 1] as const) {
    expect(Array.from(warm.phases[phase].times_s)).toEqual(Array.from(cold.phases[phase].times_s));
  }
});

it("of the errors that the spectra see, those that move tan δ at a contact come first, and none is lost", () => {
  const points = madeBlend();
  const spectra = new TwoPhaseSpectra(points, truth, { ...options, strength: 1e-4 });
  const deviations = { storage: 0.01, loss: 0.02 };
  const seen = spectra.seenErrors(deviations, 300);
  const rows = 2 * points.frequency_Hz.length;
  const inDeviations = seen.map((error) =>
    error.map((value, i) => value / (i < rows / 2 ? deviations.storage : deviations.loss)),
  );
  for (const [k, unit] of inDeviations.entries()) {
    for (const [j, other] of inDeviations.slice(0, k + 1).entries()) {
      const product = unit.reduce((sum, value, i) => sum + value * other[i], 0);
      expect(product).toBeCloseTo(j === k ? 1 : 0, 6);
    }
  }
  // By how much each direction moves ln tan δ at the warmer phase's peak at 300 Hz, the spectra solved anew.
  const at_C = 5;
  const lnTanDelta = (moved: TwoPhasePoints) => {
    const { phases, equilibriumModulus_Pa } = new TwoPhaseSpectra(moved, truth, options).solve(null);
    let storage_Pa = equilibriumModulus_Pa;
    let loss_Pa = 0;
    for (const { law, times_s, moduli_Pa } of phases) {
      const omega = 2 * Math.PI * 300 * 10 ** log10ShiftFactor(law, at_C);
      for (const [j, time_s] of times_s.entries()) {
        const x = omega * time_s;
        storage_Pa += (moduli_Pa[j] * x * x) / (1 + x * x);
        loss_Pa += (moduli_Pa[j] * x) / (1 + x * x);
      }
    }
    return Math.log(loss_Pa / storage_Pa);
  };
  const best = lnTanDelta(points);
  const n = points.frequency_Hz.length;
  const squares = seen.map((error) => {
    const moved = {
      ...points,
      storageModulus_Pa: points.storageModulus_Pa.map((value, i) => value * Math.exp(0.1 * error[i])),
      lossModulus_Pa: points.lossModulus_Pa.map((value, i) => value * Math.exp(0.1 * error[n + i])),
    };
    return (lnTanDelta(moved) - best) ** 2;
  });
  const sum = (values: number[]) => values.reduce((a, b) => a + b, 0);
  expect(seen.length).toBeGreaterThan(60);
  expect(sum(squares.slice(0, 40)) / sum(squares)).toBeGreaterThan(0.9);
});
