import { describe, expect, it } from "vitest";
import { maxwellModulus, relaxationModulus } from "../../src/fit/spectrum/relaxation-model.js";
import { fitSpectrum, type Spectrum } from "../../src/fit/spectrum/spectrum.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";
import { modelOf } from "./spectrum-model.js";
import { broadSpectrum, type KnownSpectrum, knownModulus } from "./synthetic-data.js";

const logSpaced = (from: number, to: number, count: number) =>
  Float64Array.from({ length: count }, (_, i) => 10 ** (from + ((to - from) * i) / (count - 1)));

function sampled(spectrum: KnownSpectrum, frequency_Hz: Float64Array, noise: number, seed = 1) {
  const random = seededRandom(seed);
  const moduli = Array.from(frequency_Hz, (f) => knownModulus(spectrum, 2 * Math.PI * f));
  return {
    frequency_Hz,
    storageModulus_Pa: Float64Array.from(moduli, ([storage]) => storage * (1 + noise * random.normal())),
    lossModulus_Pa: Float64Array.from(moduli, ([, loss]) => loss * (1 + noise * random.normal())),
  };
}

/** Largest relative error of M′, M″ and M(t) across the measured range. */
function largestErrors(spectrum: Spectrum, truth: KnownSpectrum, frequency_Hz: Float64Array): number[] {
  const model = modelOf(spectrum);
  const worst = [0, 0, 0];
  for (const f of frequency_Hz) {
    const w = 2 * Math.PI * f;
    const { storageModulus_Pa, lossModulus_Pa } = maxwellModulus(spectrum, w);
    const [storage, loss] = knownModulus(truth, w);
    let relaxation = truth.equilibriumModulus_Pa;
    for (let j = 0; j < truth.times_s.length; j++) {
      relaxation += truth.moduli_Pa[j] * Math.exp(-1 / w / truth.times_s[j]);
    }
    worst[0] = Math.max(worst[0], Math.abs(storageModulus_Pa / storage - 1));
    worst[1] = Math.max(worst[1], Math.abs(lossModulus_Pa / loss - 1));
    worst[2] = Math.max(worst[2], Math.abs(relaxationModulus(model, 23, 1 / w) / relaxation - 1));
  }
  return worst;
}

/** Eight modes at uneven places, over ten decades. */
function eightModes(seed: number): KnownSpectrum {
  const random = seededRandom(seed);
  return {
    equilibriumModulus_Pa: 1e5,
    times_s: Float64Array.from({ length: 8 }, (_, k) => 10 ** (-5 + 1.37 * k + 0.3 * random.uniform())),
    moduli_Pa: Float64Array.from({ length: 8 }, (_, k) => 10 ** (8 - 0.35 * k + 0.3 * random.normal())),
  };
}

describe("spectrum by non-negative least squares", { timeout: 60_000 }, () => {
  it("an 8-mode spectrum's storage, loss and relaxation modulus come back within 1 %", () => {
    const frequency_Hz = logSpaced(-6, 5, 120);
    for (let seed = 1; seed <= 8; seed++) {
      const { spectrum, notices } = fitSpectrum(sampled(eightModes(seed), frequency_Hz, 0));
      expect(notices).toEqual([]);
      for (const error of largestErrors(spectrum, eightModes(seed), frequency_Hz))
        expect(error).toBeLessThan(0.01);
    }
  });

  it("with 1 % noise they come back within 1 % root mean square and 3 % anywhere", () => {
    const frequency_Hz = logSpaced(-6, 5, 120);
    for (let seed = 1; seed <= 5; seed++) {
      const { spectrum } = fitSpectrum(sampled(eightModes(seed), frequency_Hz, 0.01, seed));
      expect(spectrum.rms).toBeLessThan(0.0115);
      expect(spectrum.rms).toBeGreaterThan(0.0075);
      for (const error of largestErrors(spectrum, eightModes(seed), frequency_Hz))
        expect(error).toBeLessThan(0.03);
    }
  });

  it("cross-validation smooths noisy data of a smooth material more than clean data", () => {
    const frequency_Hz = logSpaced(-8, 3, 150);
    const clean = fitSpectrum(sampled(broadSpectrum(), frequency_Hz, 1e-4)).spectrum;
    const noisy = fitSpectrum(sampled(broadSpectrum(), frequency_Hz, 0.05)).spectrum;
    expect(noisy.effectiveParameters).toBeLessThan(0.7 * clean.effectiveParameters);
    // The penalty's work: noise in the data is not in the curve.
    for (const error of largestErrors(noisy, broadSpectrum(), frequency_Hz.subarray(10, 140))) {
      expect(error).toBeLessThan(0.05);
    }
  });

  it("moduli are never negative, in any order of the frequencies", () => {
    const frequency_Hz = logSpaced(-6, 5, 60).reverse();
    const { spectrum } = fitSpectrum(sampled(eightModes(3), frequency_Hz, 0.02, 9));
    expect(spectrum.moduli_Pa.every((m) => m > 0)).toBe(true);
    expect(spectrum.equilibriumModulus_Pa).toBeGreaterThanOrEqual(0);
    const ordered = fitSpectrum({
      frequency_Hz: frequency_Hz.slice().reverse(),
      storageModulus_Pa: sampled(eightModes(3), frequency_Hz, 0.02, 9).storageModulus_Pa.reverse(),
      lossModulus_Pa: sampled(eightModes(3), frequency_Hz, 0.02, 9).lossModulus_Pa.reverse(),
    }).spectrum;
    expect(
      maxwellModulus(ordered, 1).lossModulus_Pa / maxwellModulus(spectrum, 1).lossModulus_Pa,
    ).toBeCloseTo(1, 6);
  });

  it("a very weak penalty is solved as truly as a strong one", () => {
    const frequency_Hz = logSpaced(-8, 3, 150);
    const data = sampled(broadSpectrum(), frequency_Hz, 0.01);
    for (const strength of [1, 1e-4, 1e-8, 1e-12]) {
      expect(fitSpectrum(data, { strength }).spectrum.rms).toBeLessThan(0.012);
    }
  });

  it("missing values are left out, too few are refused", () => {
    const frequency_Hz = logSpaced(-6, 5, 60);
    const data = sampled(eightModes(2), frequency_Hz, 0);
    data.lossModulus_Pa[7] = Number.NaN;
    data.storageModulus_Pa[20] = -1;
    const { spectrum } = fitSpectrum(data);
    for (const error of largestErrors(spectrum, eightModes(2), frequency_Hz))
      expect(error).toBeLessThan(0.02);
    expect(() =>
      fitSpectrum({
        frequency_Hz: Float64Array.of(1),
        storageModulus_Pa: Float64Array.of(1e6),
        lossModulus_Pa: Float64Array.of(1e5),
      }),
    ).toThrow(/2 usable moduli/);
  });

  it("moduli that contradict Kramers and Kronig get a notice, scatter alone does not", () => {
    const frequency_Hz = logSpaced(-3, 3, 40);
    const good = sampled(broadSpectrum(), frequency_Hz, 0.05);
    expect(fitSpectrum(good).notices).toEqual([]);
    const bad = sampled(broadSpectrum(), frequency_Hz, 0.01);
    for (let i = 0; i < 40; i++) bad.lossModulus_Pa[i] *= 1.5;
    const { notices } = fitSpectrum(bad);
    expect(notices.map((notice) => notice.code)).toEqual(["fit.kramers-kronig"]);
  });
});
