import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Material } from "../../src/fit/material.js";
import { defaultMaterialSettings, materialOf } from "../../src/fit/material-of.js";
import { readBytes } from "../../src/io/read-bytes.js";
import { defaultUses } from "../../src/predict/default-uses.js";
import { outlookOf } from "../../src/predict/outlook-of.js";
import { defaultPredictionSettings } from "../../src/predict/prediction-settings.js";
import { broadSpectrum, isothermSweep, sweepFrequencies_Hz, truthOf } from "../fit/synthetic-data.js";

const kelvin = 273.15;

/** Published constants at their own reference temperatures, K; where they were recalled, "from memory". */
const published = [
  // Ferry, Viscoelastic Properties of Polymers, 3rd ed., Table 11-II (from memory).
  { name: "polyisobutylene", reference_K: 298, c1: 8.61, c2_K: 200.4, glass_K: 202 },
  { name: "natural rubber", reference_K: 248, c1: 8.86, c2_K: 101.6, glass_K: 200 },
  // Ngai and Plazek in Mark (ed.), Physical Properties of Polymers Handbook, Table 26.1.
  { name: "polybutadiene, 96 % cis", reference_K: 298, c1: 3.44, c2_K: 196.6, glass_K: 161 },
  { name: "polybutadiene, 91.5 % vinyl", reference_K: 298, c1: 6.23, c2_K: 72.5, glass_K: 261 },
  // Sci. Rep. 2021, doi 10.1038/s41598-021-97921-0, at 70 °C; −10 °C, where they are 10.5 and 57.6 K, stands for its Tg here.
  { name: "Sci. Rep. 2021", reference_K: 343.15, c1: 4.41, c2_K: 137.64, glass_K: 263.15 },
];

describe("published constants brought back from made isotherms", { timeout: 120_000 }, () => {
  it("C1·C2 within 4 %, T∞ within 3 K, and T∞ inside its 95 % interval in nearly all", () => {
    let covered = 0;
    const seeds = [1, 2, 3, 4, 5];
    for (const row of published) {
      const glass_C = row.glass_K - kelvin;
      const c2_K = row.c2_K + row.glass_K - row.reference_K;
      const law = {
        kind: "wlf" as const,
        referenceTemperature_C: glass_C,
        c1: (row.c1 * row.c2_K) / c2_K,
        c2_K,
        tangentBelow_C: null,
      };
      const temperatures = Array.from({ length: 13 }, (_, k) => glass_C + 5 + 5 * k);
      for (const seed of seeds) {
        const measured = isothermSweep(temperatures, sweepFrequencies_Hz, truthOf(broadSpectrum(), law), {
          noise: 0.01,
          seed,
        });
        const { superposition } = materialOf([measured], {
          ...defaultMaterialSettings,
          superposition: { ...defaultMaterialSettings.superposition, draws: 0 },
        });
        const { wlf, derived } = superposition!;
        const vogel_C = row.reference_K - row.c2_K - kelvin;
        expect(Math.abs((wlf!.c1 * wlf!.c2_K) / (row.c1 * row.c2_K) - 1), row.name).toBeLessThan(0.04);
        expect(Math.abs(derived!.vogelTemperature_C! - vogel_C), row.name).toBeLessThan(3);
        const { vogelTemperatureLow_C: low_C, vogelTemperatureHigh_C: high_C } = derived!;
        if (low_C! <= vogel_C && vogel_C <= high_C!) covered++;
      }
    }
    console.log(`T∞ inside its 95 % interval in ${covered} of ${published.length * seeds.length}`);
    // 95 % intervals hold 21 of 25 or more in 99 of 100 such sets (binomial).
    expect(covered).toBeGreaterThanOrEqual(21);
  });
});

describe("an asphalt binder as a laboratory left it (open data, see data/binder)", {
  timeout: 120_000,
}, async () => {
  const bytesOf = (name: string) =>
    new Uint8Array(readFileSync(new URL(`./data/binder/${name}`, import.meta.url)));
  const materialFrom = async (name: string) => {
    const read = await readBytes(bytesOf(name), name);
    if (!read.ok) throw new Error(read.problem.message);
    return materialOf(read.value.measurements, {
      ...defaultMaterialSettings,
      superposition: { ...defaultMaterialSettings.superposition, referenceTemperature_C: 46 },
    });
  };
  // All of the open data: the first repeat as a text, and the three repeats side by side.
  const whole: { name: string; material: Material }[] = [];
  for (const name of ["lane01-rep1.csv", "lane1-three-reps.xlsx"]) {
    whole.push({ name, material: await materialFrom(name) });
  }

  it.each(whole)(
    "$name follows one WLF law with constants as an independent shifting found them",
    ({ material: { superposition } }) => {
      expect(superposition!.law).toBe("wlf");
      expect(superposition!.phases).toBeUndefined();
      const { c1, c2_K, c1Low, c1High, c2Low_K, c2High_K } = superposition!.wlf!;
      // C1 11.5 to 13.2 and C2 134 to 145 K at 46 °C over ten such binders.
      expect(c1Low!).toBeLessThan(13.2);
      expect(c1High!).toBeGreaterThan(11.5);
      expect(c2Low_K!).toBeLessThan(145);
      expect(c2High_K!).toBeGreaterThan(134);
      for (const { log10aT, temperature_C } of superposition!.shifts) {
        const law = (-c1 * (temperature_C - 46)) / (c2_K + temperature_C - 46);
        expect(Math.abs(log10aT - law)).toBeLessThan(0.06);
      }
    },
  );

  // Phase angles at equal |G*| of neighbouring isotherms, read off the table itself: 0.1 to 2.5° apart, warmer is higher.
  it.each(whole)(
    "$name: the law is said to hold, and what the isotherms differ by beside it is said too",
    ({ material }) => {
      const codes = material.notices.map(({ code }) => code);
      expect(codes).toContain("fit.nearly-simple");
      expect(codes).not.toContain("fit.not-simple");
      const { message } = material.notices.find(({ code }) => code === "fit.nearly-simple")!;
      expect(message).toMatch(/^One WLF law brings the isotherms from 10 to 82 °C together/);
      const within = Number(/within (0\.\d+) decades/.exec(message)![1]);
      expect(within).toBeLessThanOrEqual(0.06);
      const phase_deg = Number(/([\d.]+)° in phase/.exec(message)![1]);
      expect(phase_deg).toBeGreaterThan(0.5);
      expect(phase_deg).toBeLessThan(2.5);
      const { notices } = outlookOf(material, defaultUses()[0], defaultPredictionSettings, null);
      expect(notices.map(({ code }) => code)).not.toContain("predict.not-thermorheologically-simple");
    },
  );

  it("carries the misfit beside the law in the interval of what is predicted", () => {
    const [{ material }] = whole;
    // Of the draws themselves: the cut-off of the texture bounds the interval that is shown.
    const width = (one: Material) => {
      const use = { ...defaultUses()[0], temperature_C: 23 };
      const drawn = outlookOf(one, use, { ...defaultPredictionSettings, modulusUncertainty: 0 }, null).draws
        .grip!;
      return Math.max(...drawn) - Math.min(...drawn);
    };
    const simple = { ...material.superposition!, thermorheologicallySimple: true };
    expect(width(material)).toBeGreaterThan(width({ ...material, superposition: simple }));
  });

  it.each(whole)(
    "$name has no glass in its range, and its terminal flow is no glass transition",
    ({ material }) => {
      const codes = material.notices.map(({ code }) => code);
      expect(codes).not.toContain("fit.law-border");
      expect(codes).not.toContain("fit.glass-isotherms");
      expect(codes).not.toContain("fit.peak-beyond-data");
      const use = { ...defaultUses()[0], temperature_C: 23 };
      const { transitionAtContact } = outlookOf(material, use, defaultPredictionSettings, null).outlook;
      const { low_C, high_C, reason } = transitionAtContact!.tanDeltaPeak;
      expect([low_C, high_C]).toEqual([null, null]);
      expect(reason).toContain("flows");
    },
  );
});
