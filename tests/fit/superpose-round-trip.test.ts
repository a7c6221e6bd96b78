import { describe, expect, it } from "vitest";
import type { Superposition } from "../../src/fit/material.js";
import { superpose } from "../../src/fit/material-of.js";
import { complexModulus } from "../../src/fit/spectrum/relaxation-model.js";
import {
  defaultSuperpositionSettings,
  type SuperpositionSettings,
} from "../../src/fit/superposition/superposition-settings.js";
import {
  broadSpectrum,
  isothermSweep,
  type KnownLaw,
  knownLaws,
  lawAtGlass,
  sharpSpectrum,
  sweepFrequencies_Hz,
  temperaturesAbove,
  truthOf,
} from "./synthetic-data.js";

/** Constants are compared at Tg, where C2 is smallest and a relative error weighs most. */
const settingsAt = (law: KnownLaw): SuperpositionSettings => ({
  ...defaultSuperpositionSettings,
  referenceTemperature_C: law.glassTemperature_C,
  draws: 0,
});

function roundTrip(law: KnownLaw, spectrum: ReturnType<typeof broadSpectrum>, noise: number, seed: number) {
  const truth = truthOf(spectrum, lawAtGlass(law));
  const temperatures = temperaturesAbove(law.glassTemperature_C);
  const measured = isothermSweep(temperatures, sweepFrequencies_Hz, truth, { noise, seed });
  const { superposition } = superpose([measured], [], settingsAt(law));
  return superposition!;
}

function errors({ wlf, derived }: Superposition, law: KnownLaw) {
  const vogel_C = law.glassTemperature_C - law.c2_K;
  return {
    relative: Math.max(Math.abs(wlf!.c1 / law.c1 - 1), Math.abs(wlf!.c2_K / law.c2_K - 1)),
    vogel_K: Math.abs(derived!.vogelTemperature_C! - vogel_C),
    inside:
      wlf!.c1Low! <= law.c1 &&
      law.c1 <= wlf!.c1High! &&
      wlf!.c2Low_K! <= law.c2_K &&
      law.c2_K <= wlf!.c2High_K!,
  };
}

describe("round trip from a known spectrum with the handbook constants, 13 isotherms of 16 frequencies", {
  timeout: 60_000,
}, () => {
  it.each(knownLaws)("$name: 100 seeds with 1 % noise", { timeout: 120_000 }, (law) => {
    let good = 0;
    let covered = 0;
    let worst = 0;
    let worstVogel = 0;
    let worstRms = 0;
    for (let seed = 1; seed <= 100; seed++) {
      const superposition = roundTrip(law, broadSpectrum(), 0.01, seed);
      const { relative, vogel_K, inside } = errors(superposition, law);
      if (relative <= 0.05 && inside) good++;
      if (inside) covered++;
      worst = Math.max(worst, relative);
      worstVogel = Math.max(worstVogel, vogel_K);
      worstRms = Math.max(worstRms, superposition.rmsLog10!);
    }
    console.log(
      `${law.name}: within 5 % and inside the 95 % intervals ${good} of 100, both constants inside ${covered}, ` +
        `worst error ${(100 * worst).toFixed(2)} %, T∞ within ${worstVogel.toFixed(2)} K, rms log10 at most ${worstRms.toFixed(5)}`,
    );
    expect(good).toBeGreaterThanOrEqual(90);
    expect(worst).toBeLessThan(0.05);
    expect(worstVogel).toBeLessThan(1);
    // 1 % noise is 0.01/ln 10 in log10.
    expect(worstRms).toBeLessThan((1.3 * 0.01) / Math.LN10);
  });

  it.each(knownLaws)("$name: without noise within 0.2 %, from a broad and a sharp spectrum", (law) => {
    for (const spectrum of [broadSpectrum(), sharpSpectrum()]) {
      const { relative, vogel_K } = errors(roundTrip(law, spectrum, 0, 1), law);
      expect(relative).toBeLessThan(0.002);
      expect(vogel_K).toBeLessThan(0.2);
    }
  });

  it("a sharp spectrum with 1 % noise keeps the intervals honest too", { timeout: 60_000 }, () => {
    let good = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const law = knownLaws[seed % knownLaws.length];
      const { relative, inside } = errors(roundTrip(law, sharpSpectrum(), 0.01, seed), law);
      if (relative <= 0.05 && inside) good++;
    }
    expect(good).toBeGreaterThanOrEqual(36);
  });

  it.each(knownLaws)("$name: a held-out isotherm is predicted to 3 %", (law) => {
    const truth = truthOf(broadSpectrum(), lawAtGlass(law));
    const temperatures = temperaturesAbove(law.glassTemperature_C);
    for (const heldOut of [1, 6, 11]) {
      const kept = temperatures.filter((_, k) => k !== heldOut);
      const measured = isothermSweep(kept, sweepFrequencies_Hz, truth, { noise: 0.01, seed: 10 + heldOut });
      const { model } = superpose([measured], [], settingsAt(law));
      for (const f of sweepFrequencies_Hz) {
        const { storageModulus_Pa, lossModulus_Pa } = complexModulus(model!, temperatures[heldOut], f);
        const [storage, loss] = truth(temperatures[heldOut], f);
        expect(Math.abs(storageModulus_Pa / storage - 1)).toBeLessThan(0.03);
        expect(Math.abs(lossModulus_Pa / loss - 1)).toBeLessThan(0.03);
      }
    }
  });

  it("draws scatter as the intervals say", { timeout: 60_000 }, () => {
    const law = knownLaws[2];
    const truth = truthOf(broadSpectrum(), lawAtGlass(law));
    const measured = isothermSweep(temperaturesAbove(law.glassTemperature_C), sweepFrequencies_Hz, truth, {
      noise: 0.01,
      seed: 3,
    });
    const settings = { ...settingsAt(law), draws: 200 };
    const { superposition, draws, model } = superpose([measured], [], settings);
    expect(draws).toHaveLength(200);
    const c2 = draws.map((draw) => (draw.law.kind === "wlf" ? draw.law.c2_K : Number.NaN));
    const mean = c2.reduce((a, b) => a + b, 0) / c2.length;
    const deviation = Math.sqrt(c2.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (c2.length - 1));
    const fromInterval = (superposition!.wlf!.c2High_K! - superposition!.wlf!.c2Low_K!) / (2 * 1.96);
    // The relative error of a standard deviation from 200 draws is 5 %.
    expect(deviation / fromInterval).toBeGreaterThan(0.8);
    expect(deviation / fromInterval).toBeLessThan(1.2);
    // A modulus in the transition: the truth lies among the draws, which spread by about the noise or less.
    const at = law.glassTemperature_C + 15;
    const values = draws
      .map((draw) => complexModulus(draw, at, 10).lossModulus_Pa / truth(at, 10)[1])
      .sort((a, b) => a - b);
    expect(values[1]).toBeLessThan(1);
    expect(values[198]).toBeGreaterThan(1);
    expect(values[195] - values[4]).toBeLessThan(0.04);
    expect(complexModulus(model!, at, 10).lossModulus_Pa / truth(at, 10)[1]).toBeCloseTo(1, 1);
  });

  it("the same data give the same draws whatever came before and whatever the seed, other data other ones", () => {
    const law = knownLaws[1];
    const measure = (seed: number) =>
      isothermSweep(
        temperaturesAbove(law.glassTemperature_C),
        sweepFrequencies_Hz,
        truthOf(broadSpectrum(), lawAtGlass(law)),
        { noise: 0.01, seed },
      );
    const settings = { ...defaultSuperpositionSettings, draws: 5 };
    const first = superpose([measure(3)], [], settings);
    const other = superpose([measure(4)], [], settings);
    expect(superpose([measure(3)], [], settings)).toEqual(first);
    expect(other.draws[0]).not.toEqual(first.draws[0]);
    expect(superpose([measure(3)], [], { ...settings, seed: 1 }).draws).toEqual(first.draws);
  });
});
