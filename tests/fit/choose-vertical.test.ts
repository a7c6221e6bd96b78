import { describe, expect, it } from "vitest";
import { superpose } from "../../src/fit/material-of.js";
import {
  defaultSuperpositionSettings,
  type SuperpositionSettings,
} from "../../src/fit/superposition/superposition-settings.js";
import {
  blend,
  broadPolymer,
  broadSpectrum,
  isothermSweep,
  knownLaws,
  lawAtGlass,
  type Truth,
  truthOf,
} from "./synthetic-data.js";

const { law, glass_C, vogel_C, truth, frequencies_Hz, temperatures_C } = broadPolymer;

/** Moduli that rise with ρT, as rubber elasticity asks, relative to those at Tg. */
const rubberElastic = (t: number) => (t + 273.15) / (glass_C + 273.15) / (1 + 6.6e-4 * (t - glass_C));

function superposed(
  scale: (temperature_C: number) => number,
  seed: number,
  verticalShift: SuperpositionSettings["verticalShift"] = "auto",
  options: { temperatures?: number[]; noise?: number; of?: Truth } = {},
) {
  const { temperatures = temperatures_C, noise = 0.01, of = truth } = options;
  const measured = isothermSweep(temperatures, frequencies_Hz, of, { noise, seed, scale });
  const settings = { ...defaultSuperpositionSettings, draws: 0, verticalShift };
  const { superposition, notices } = superpose([measured], [], settings);
  return {
    superposition: superposition!,
    notice: notices.find(({ code }) => code === "fit.vertical-shift-chosen"),
  };
}

/** The two misfits that a notice states, in %. */
function stated(message: string): [number, number] {
  const found = /is ([0-9.]+) % without it and ([0-9.]+) % with it/.exec(message);
  return [Number(found![1]), Number(found![2])];
}

describe("the vertical factor by the misfit", { timeout: 60_000 }, () => {
  it("is taken where the moduli follow rubber elasticity: T∞ is right and its intervals hold it, 20 seeds", () => {
    let covered = 0;
    let sum_K = 0;
    let without_K = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const { superposition, notice } = superposed(rubberElastic, seed);
      expect(superposition.verticalShift).toBe("density-temperature");
      const [off, on] = stated(notice!.message);
      expect(off).toBeGreaterThan(1.3 * on);
      expect(on).toBeGreaterThan(0.8);
      expect(on).toBeLessThan(1.2);
      const { vogelTemperature_C, vogelTemperatureLow_C, vogelTemperatureHigh_C } = superposition.derived!;
      sum_K += (vogelTemperature_C! - vogel_C) / 20;
      if (vogelTemperatureLow_C! <= vogel_C && vogel_C <= vogelTemperatureHigh_C!) covered++;
      if (seed <= 3) {
        without_K +=
          (superposed(rubberElastic, seed, "off").superposition.derived!.vogelTemperature_C! - vogel_C) / 3;
      }
    }
    console.log(
      `T∞ off by ${sum_K.toFixed(2)} K on average, covered ${covered} of 20; without factor ${without_K.toFixed(2)} K`,
    );
    expect(Math.abs(sum_K)).toBeLessThan(0.25);
    expect(covered).toBeGreaterThanOrEqual(17);
    expect(Math.abs(without_K)).toBeGreaterThan(4 * Math.abs(sum_K));
  });

  it("belongs to all but a filler's constant: T∞ is right and its intervals hold it, 20 seeds", () => {
    // Ten equilibrium moduli of a filler's network, which no temperature changes; without the rubber's slow modes.
    const { equilibriumModulus_Pa, times_s, moduli_Pa } = broadSpectrum();
    const isKept = (_: number, j: number) => times_s[j] < 1e4;
    const rubber = truthOf(
      { equilibriumModulus_Pa, times_s: times_s.filter(isKept), moduli_Pa: moduli_Pa.filter(isKept) },
      lawAtGlass(law),
    );
    const filled: Truth = (t, f) => {
      const [storage_Pa, loss_Pa] = rubber(t, f);
      return [rubberElastic(t) * storage_Pa + 10 * equilibriumModulus_Pa, rubberElastic(t) * loss_Pa];
    };
    let covered = 0;
    let sum_K = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const { derived } = superposed(() => 1, seed, "auto", { of: filled }).superposition;
      const { vogelTemperature_C, vogelTemperatureLow_C, vogelTemperatureHigh_C } = derived!;
      sum_K += (vogelTemperature_C! - vogel_C) / 20;
      if (vogelTemperatureLow_C! <= vogel_C && vogel_C <= vogelTemperatureHigh_C!) covered++;
    }
    console.log(`T∞ of a filled compound off by ${sum_K.toFixed(2)} K on average, covered ${covered} of 20`);
    expect(Math.abs(sum_K)).toBeLessThan(0.25);
    expect(covered).toBeGreaterThanOrEqual(17);
  });

  it("is not taken where nothing asks for it, and the result is that of off with a little more doubt", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const { superposition, notice } = superposed(() => 1, seed);
      expect(superposition.verticalShift).toBe("off");
      const [off, on] = stated(notice!.message);
      expect(on).toBeGreaterThan(off);
      if (seed > 3) continue;
      const asked = superposed(() => 1, seed, "off").superposition;
      expect(asked.wlf!.c1).toBe(superposition.wlf!.c1);
      expect(asked.wlf!.c2_K).toBe(superposition.wlf!.c2_K);
      expect(asked.masterCurve).toEqual(superposition.masterCurve);
      // The choice stands in the interval, and little of it where the chosen fit follows the isotherms.
      const width = (one: typeof asked) => one.wlf!.c2High_K! - one.wlf!.c2Low_K!;
      expect(width(superposition)).toBeGreaterThan(width(asked));
      expect(width(superposition)).toBeLessThan(2 * width(asked));
    }
  });

  it("is not taken where the data cannot tell, and the notice says so", () => {
    // Three isotherms within 6 K: ρT changes by 2 %, less than 10 % noise shows.
    const few = { temperatures: [glass_C + 20, glass_C + 23, glass_C + 26], noise: 0.1 };
    const { superposition, notice } = superposed(rubberElastic, 1, "auto", few);
    expect(superposition.verticalShift).toBe("off");
    expect(notice!.message).toContain("do not tell");
  });

  it("is not taken for a little less misfit where the isotherms of a blend do not fall together anyway", () => {
    const phase = (constants: typeof law, tangentBelow_C: number) =>
      truthOf(broadSpectrum(), { ...lawAtGlass(constants), tangentBelow_C } as never);
    const mixed = blend([
      { share: 0.6, truth: phase(law, glass_C) },
      { share: 0.4, truth: phase({ ...knownLaws[4], glassTemperature_C: -40 }, -40) },
    ]);
    const temperatures = Array.from({ length: 13 }, (_, k) => -55 + 5 * k);
    for (const scale of [() => 1, (t: number) => 1 + 0.0005 * (t + 55)]) {
      const measured = isothermSweep(temperatures, frequencies_Hz, mixed, { noise: 0.01, seed: 3, scale });
      const { superposition, notices } = superpose([measured], [], {
        ...defaultSuperpositionSettings,
        draws: 0,
      });
      expect(superposition!.verticalShift).toBe("off");
      expect(superposition!.thermorheologicallySimple).toBe(false);
      expect(notices.map(({ code }) => code)).toContain("fit.vertical-shift-chosen");
    }
  });

  it.each(["off", "density-temperature", "fitted"] as const)(
    "%s in the settings is obeyed without a notice",
    (asked) => {
      const { superposition, notice } = superposed(rubberElastic, 1, asked);
      expect(superposition.verticalShift).toBe(asked);
      expect(notice).toBeUndefined();
    },
  );
});
