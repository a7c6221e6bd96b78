import { describe, expect, it } from "vitest";
import { transitionAtFrequency } from "../../src/fit/glass/glass-at-frequency.js";
import { superpose } from "../../src/fit/material-of.js";
import { complexPower, complexQuotient } from "../../src/fit/spectrum/complex-modulus.js";
import { mixedModulus } from "../../src/fit/spectrum/phase-mixing.js";
import { complexModulus } from "../../src/fit/spectrum/relaxation-model.js";
import { MixingSpectra } from "../../src/fit/superposition/mixing-spectra.js";
import { defaultSuperpositionSettings } from "../../src/fit/superposition/superposition-settings.js";
import {
  broadSpectrum,
  isothermSweep,
  knownLaws,
  lawAtGlass,
  type Truth,
  truthOf,
} from "./synthetic-data.js";

/** M′ + iM″ to a power by its size and angle, written out here so that the program's own is not its judge. */
const powerOf = ([storage, loss]: [number, number], n: number): [number, number] => {
  const size = Math.hypot(storage, loss) ** n;
  const angle = n * Math.atan2(loss, storage);
  return [size * Math.cos(angle), size * Math.sin(angle)];
};

/** φ A*ⁿ + (1 − φ) B*ⁿ to the power 1/n: 1/5 Davies, 1/3 Looyenga, 1 side by side. */
const law = knownLaws[4];
const cold = truthOf(broadSpectrum(), lawAtGlass({ ...law, glassTemperature_C: -80 }));
const warm = truthOf(broadSpectrum(), lawAtGlass({ ...law, glassTemperature_C: -45 }));
const mixture =
  (n: number, fraction = 0.5): Truth =>
  (t, f) => {
    const a = powerOf(cold(t, f), n);
    const b = powerOf(warm(t, f), n);
    return powerOf([fraction * a[0] + (1 - fraction) * b[0], fraction * a[1] + (1 - fraction) * b[1]], 1 / n);
  };

/** Where tan δ of a truth is highest at a frequency. */
function peakOf(truth: Truth, frequency_Hz: number): number {
  let best_C = -100;
  const tanDelta = (t: number) => truth(t, frequency_Hz)[1] / truth(t, frequency_Hz)[0];
  for (let t = -100; t < 80; t += 0.05) if (tanDelta(t) > tanDelta(best_C)) best_C = t;
  return best_C;
}

describe("powers of a complex modulus", () => {
  it.each([0.2, 1 / 3, 1, 1.5, -0.8])(
    "to the power %d and back, and quotients, are those of the definition",
    (n) => {
      for (const [storage, loss] of [
        [1e9, 3e7],
        [1e6, 1e6],
        [2e6, 5e7],
      ] as [number, number][]) {
        const modulus = { storageModulus_Pa: storage, lossModulus_Pa: loss };
        const raised = complexPower(modulus, n);
        const [re, im] = powerOf([storage, loss], n);
        expect(raised.storageModulus_Pa / re).toBeCloseTo(1, 12);
        expect(raised.lossModulus_Pa / im).toBeCloseTo(1, 12);
        const back = complexPower(raised, 1 / n);
        expect(back.storageModulus_Pa / storage).toBeCloseTo(1, 9);
        const one = complexQuotient(raised, raised);
        expect([one.storageModulus_Pa, one.lossModulus_Pa]).toEqual([
          expect.closeTo(1, 12),
          expect.closeTo(0, 12),
        ]);
      }
    },
  );
});

describe("a blend by a known rule of mixing", () => {
  const temperatures_C = Array.from({ length: 16 }, (_, i) => -90 + 7 * i);
  const frequencies_Hz = Array.from({ length: 11 }, (_, i) => 10 ** (-1 + 0.25 * i));
  const modelOf = (truth: Truth, draws = 0) =>
    superpose([isothermSweep(temperatures_C, frequencies_Hz, truth, { noise: 0.01, seed: 3 })], [], {
      ...defaultSuperpositionSettings,
      draws,
    }).model!;

  it.each([
    ["1/5 (Davies)", 1 / 5],
    ["1/3 (Looyenga)", 1 / 3],
  ])("of exponent %s: moduli within the noise, and the peak at a contact comes back", (_, n) => {
    const truth = mixture(n);
    const model = modelOf(truth);
    const { mixing } = model;
    const exact_C = peakOf(truth, 300);
    const { tanDelta } = transitionAtFrequency(model, 300);
    const beside = transitionAtFrequency({ ...model, mixing: undefined }, 300).tanDelta;
    console.log({ n, exponent: mixing?.exponent, misfit: mixing?.misfit, exact_C, tanDelta, beside });
    expect(mixing!.misfit).toBeLessThan(0.02);
    expect(Math.abs(tanDelta.low_C - exact_C)).toBeLessThan(1);
    // What the model gives is the rule itself.
    const at = complexModulus(model, -20, 10);
    expect(at).toEqual(mixedModulus(mixing!, -20, 10));
    expect(at.storageModulus_Pa / truth(-20, 10)[0]).toBeCloseTo(1, 1);
  });

  it("of phases side by side keeps the peak where it is, whichever rule is taken", () => {
    const truth = mixture(1);
    const model = modelOf(truth);
    const { tanDelta } = transitionAtFrequency(model, 300);
    console.log({ exponent: model.mixing?.exponent, exact_C: peakOf(truth, 300), tanDelta });
    expect(Math.abs(tanDelta.low_C - peakOf(truth, 300))).toBeLessThan(1);
  });
});

describe("the spectra of a mixture at given laws", () => {
  const temperatures_C = Array.from({ length: 16 }, (_, i) => -90 + 7 * i);
  const frequencies_Hz = Array.from({ length: 11 }, (_, i) => 10 ** (-1 + 0.25 * i));
  const pointsOf = (truth: Truth) => {
    const sweep = isothermSweep(temperatures_C, frequencies_Hz, truth, { noise: 0.01, seed: 5 });
    const { temperature_C, frequency_Hz, storageModulus_Pa, lossModulus_Pa } = sweep;
    return { temperature_C, frequency_Hz, storageModulus_Pa, lossModulus_Pa };
  };
  /** Place of the M″ peak at 1 Hz, slope of the shift factor there and distance to T∞, as `phaseLaw` has them. */
  const outer = (n: number, fractionCold_C: number, fractionWarm_C: number) => {
    const distance_K = law.c2_K;
    const slope = law.c1 / law.c2_K;
    return Float64Array.of(
      fractionCold_C,
      Math.log(slope),
      Math.log(distance_K),
      fractionWarm_C,
      Math.log(slope),
      Math.log(distance_K),
      Math.log(n),
      0,
      0,
    );
  };
  const options = { modesPerDecade: 2, strength: 1e-3 };

  // Where a phase has next to no share of the moduli their derivative by it is steep: whole steps never settled, and left 10 %.
  it.each([
    [0.2, 0.5],
    [0.2, 0.3],
    [1 / 3, 0.85],
    [0.5, 0.3],
  ])("of exponent %d and %d of the cold phase are found from nothing, within the noise", (n, fraction) => {
    const points = pointsOf(mixture(n, fraction));
    const solved = new MixingSpectra(points, outer(n, -80, -45), options).solve(null);
    console.log({ n, fraction, rms: solved.rms });
    expect(solved.rms).toBeLessThan(0.013);
  });

  it("of another draw of the noise, at other laws, are found from those of the fit", () => {
    const points = pointsOf(mixture(0.2));
    const fit = new MixingSpectra(points, outer(0.2, -80, -45), options).solve(null);
    const again = isothermSweep(temperatures_C, frequencies_Hz, mixture(0.2), { noise: 0.01, seed: 6 });
    for (const [n, warm_C] of [
      [0.2, -45],
      [0.15, -44.5],
      [0.3, -45.5],
    ]) {
      const spectra = new MixingSpectra({ ...points, ...again }, outer(n, -80, warm_C), options);
      const drawn = spectra.solve(spectra.startOf(fit), true);
      console.log({ n, warm_C, rms: drawn.rms });
      expect(drawn.rms).toBeLessThan(0.016);
    }
  });
});
