import { describe, expect, it } from "vitest";
import type { GlassTransition } from "../../src/fit/material.js";
import { superpose } from "../../src/fit/material-of.js";
import {
  complexModulus,
  maxwellModulus,
  relaxationModulus,
} from "../../src/fit/spectrum/relaxation-model.js";
import { log10ShiftFactor } from "../../src/fit/spectrum/shift-law.js";
import { deriveFromWlf } from "../../src/fit/superposition/describe-superposition.js";
import { constantsAtGlassTransition } from "../../src/fit/superposition/law/reference-curves.js";
import { superposeIsotherms } from "../../src/fit/superposition/superpose.js";
import {
  defaultSuperpositionSettings,
  type SuperpositionSettings,
} from "../../src/fit/superposition/superposition-settings.js";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { temperatureText } from "../../src/words/quantity-text.js";
import {
  blend,
  broadPolymer,
  broadSpectrum,
  isothermSweep,
  knownLaws,
  lawAtGlass,
  measurement,
  sharpSpectrum,
  sweepFrequencies_Hz,
  type Truth,
  temperaturesAbove,
  truthOf,
} from "./synthetic-data.js";

const { law, glass_C, truth } = broadPolymer;
/** The same, but a glass below Tg: the law goes on as its Arrhenius tangent. */
const glassTruth = truthOf(broadSpectrum(), { ...lawAtGlass(law), tangentBelow_C: glass_C } as never);
const noisy = { noise: 0.01, seed: 3 };
const quick: SuperpositionSettings = { ...defaultSuperpositionSettings, draws: 0 };
const atGlass: SuperpositionSettings = { ...quick, referenceTemperature_C: glass_C };
const standard = () => isothermSweep(temperaturesAbove(glass_C), sweepFrequencies_Hz, truth, noisy);

const superposed = (
  measurements: DynamicMeasurement[],
  settings: SuperpositionSettings = quick,
  transitions: GlassTransition[] = [],
) => superpose(measurements, transitions, settings);
/** Codes of all notices but the one that every fit has. */
const codes = (result: ReturnType<typeof superpose>) =>
  result.notices.map((notice) => notice.code).filter((code) => code !== "fit.vertical-shift-chosen");

function rampPoints(step_K: number, frequencies_Hz: number[], from_K = -20, to_K = 60, drift_K = 0.3) {
  const points: { temperature_C: number; frequency_Hz: number }[] = [];
  for (let t = glass_C + from_K; t <= glass_C + to_K; t += step_K) {
    for (const [i, frequency_Hz] of frequencies_Hz.entries()) {
      points.push({ temperature_C: t + drift_K * i, frequency_Hz });
    }
  }
  return points;
}

function lossPeak(frequency_Hz: number, temperature_C: number, bracketed = true): GlassTransition {
  return {
    frequency_Hz,
    deformation: "shear",
    direction: "heating",
    tanDeltaPeak: null,
    lossModulusPeak: {
      temperature_C: bracketed ? temperature_C : null,
      low_C: temperature_C - 0.5,
      high_C: temperature_C + 0.5,
      bracketed,
    },
    storageModulusOnset: null,
    furtherPeaks: [],
    path: "invented.csv",
  };
}

describe("isotherms", { timeout: 60_000 }, () => {
  it("reports both laws, their criterion, derived values and shifts", () => {
    const { superposition, model, notices } = superposed([standard()], atGlass);
    expect(notices.map(({ code }) => code)).toEqual(["fit.vertical-shift-chosen"]);
    expect(superposition).toMatchObject({
      source: "fitted",
      assumption: null,
      deformation: "shear",
      law: "wlf",
    });
    expect(superposition!.aicc.wlf!).toBeLessThan(superposition!.aicc.arrhenius! - 20);
    // One activation energy over the range lies between the law's own at its two ends.
    const energyAt = (d: number) =>
      (Math.LN10 * 8.314462618 * law.c1 * law.c2_K * (glass_C + 273.15 + d) ** 2) / (law.c2_K + d) ** 2;
    expect(superposition!.arrhenius!.activationEnergy_J_mol).toBeGreaterThan(energyAt(60));
    expect(superposition!.arrhenius!.activationEnergy_J_mol).toBeLessThan(energyAt(0));
    // m = C1 Tg/C2 at Tg and the activation energy there, from the true constants.
    const glass_K = glass_C + 273.15;
    const derived = superposition!.derived!;
    expect(derived.glassTemperature_C!).toBeCloseTo(glass_C, -1);
    expect(Math.abs(derived.glassTemperature_C! - glass_C)).toBeLessThan(3);
    expect(derived.fragility! / ((law.c1 * glass_K) / law.c2_K)).toBeCloseTo(1, 1);
    // Of 100 seeds with 1 % noise (superpose-round-trip.test.ts) none is farther off than 1.2 %.
    expect(Math.abs(derived.vogelB_K! / (Math.LN10 * law.c1 * law.c2_K) - 1)).toBeLessThan(0.012);
    expect(derived.vogelTemperatureLow_C!).toBeLessThan(glass_C - law.c2_K);
    expect(derived.vogelTemperatureHigh_C!).toBeGreaterThan(glass_C - law.c2_K);
    expect(superposition!.shifts).toHaveLength(13);
    let outside = 0;
    for (const shift of superposition!.shifts) {
      const expected = log10ShiftFactor(lawAtGlass(law), shift.temperature_C);
      expect(shift.log10aT).toBeCloseTo(expected, 1);
      // The reference itself is known only as well as the law is: allow its own error beside the interval.
      if (expected < shift.log10aTLow! - 0.01 || expected > shift.log10aTHigh! + 0.01) outside++;
    }
    expect(outside).toBeLessThanOrEqual(2);
    expect(superposition!.masterCurve!.temperature_C).toHaveLength(13 * 16);
    expect(model!.law.referenceTemperature_C).toBe(glass_C);
  });

  it("another reference temperature is the same material", () => {
    const here = superposed([standard()]);
    const there = superposed([standard()], { ...quick, referenceTemperature_C: glass_C + 60 });
    expect(there.superposition!.referenceTemperature_C).toBe(glass_C + 60);
    const a = here.superposition!.wlf!;
    const b = there.superposition!.wlf!;
    expect(b.c1 * b.c2_K).toBeCloseTo(a.c1 * a.c2_K, 6);
    for (const t of [glass_C - 10, glass_C + 20, glass_C + 55]) {
      for (const f of [0.1, 10, 1000]) {
        const one = complexModulus(here.model!, t, f);
        const other = complexModulus(there.model!, t, f);
        expect(other.storageModulus_Pa / one.storageModulus_Pa).toBeCloseTo(1, 8);
        expect(other.lossModulus_Pa / one.lossModulus_Pa).toBeCloseTo(1, 8);
        expect(
          relaxationModulus(there.model!, t, 1 / f) / relaxationModulus(here.model!, t, 1 / f),
        ).toBeCloseTo(1, 8);
      }
    }
    // At the reference temperature the reduced frequency is the frequency.
    const curve = there.superposition!.masterCurve!;
    const last = curve.temperature_C.indexOf(glass_C + 60);
    expect(curve.reducedFrequency_Hz[last]).toBeCloseTo(curve.frequency_Hz[last], 9);
  });

  it("the master curve's residuals are log10 of measured over model", () => {
    const { superposition, model } = superposed([standard()]);
    const curve = superposition!.masterCurve!;
    for (const i of [0, 50, 207]) {
      const { storageModulus_Pa, lossModulus_Pa } = maxwellModulus(
        model!,
        2 * Math.PI * curve.reducedFrequency_Hz[i],
      );
      expect(curve.storageResidualLog10[i]).toBeCloseTo(
        Math.log10(curve.storageModulus_Pa[i] / storageModulus_Pa),
        12,
      );
      expect(curve.lossResidualLog10[i]).toBeCloseTo(
        Math.log10(curve.lossModulus_Pa[i] / lossModulus_Pa),
        12,
      );
    }
  });

  it("a reference where the law has no value is refused with a notice", () => {
    const result = superposed([standard()], { ...quick, referenceTemperature_C: glass_C - 80 });
    expect(codes(result)).toContain("fit.reference-temperature");
    expect(result.superposition!.referenceTemperature_C).toBeGreaterThan(glass_C);
  });

  it("isotherms in the glass leave the WLF curve for its tangent, and the constants stay right", () => {
    const temperatures = Array.from({ length: 20 }, (_, k) => glass_C - 40 + 5 * k);
    const result = superposed([isothermSweep(temperatures, sweepFrequencies_Hz, glassTruth, noisy)]);
    expect(codes(result)).toContain("fit.glass-isotherms");
    const { model, superposition } = result;
    // The deepest stand outside the master curve; the border lies where the data were given one.
    expect(superposition!.shifts.length).toBeLessThan(20);
    expect(model!.law.kind === "wlf" && Math.abs(model!.law.tangentBelow_C! - glass_C)).toBeLessThan(2);
    const moved_K = superposition!.referenceTemperature_C - glass_C;
    expect(superposition!.wlf!.c2_K - moved_K).toBeGreaterThan(law.c2_K - 2);
    expect(superposition!.wlf!.c2_K - moved_K).toBeLessThan(law.c2_K + 2);
    for (const t of [glass_C - 35, glass_C - 12, glass_C + 8]) {
      const [storage, loss] = glassTruth(t, 1);
      const predicted = complexModulus(model!, t, 1);
      expect(Math.abs(predicted.storageModulus_Pa / storage - 1)).toBeLessThan(0.03);
      // Deep in the glass the loss is a fiftieth of the modulus, and its shift an extrapolation by 15 K.
      expect(Math.abs(predicted.lossModulus_Pa / loss - 1)).toBeLessThan(t < glass_C - 20 ? 0.12 : 0.05);
    }
  });

  it("a secondary relaxation in the glass does not drag the law along", () => {
    // A broad local process of 50 kJ/mol beside the glass transition, as many rubbers have it; ramp from 45 K below Tg.
    const local: Truth = (t, f) => {
      const centre = 10 ** (-4 + 2611 * (1 / (t + 273.15) - 1 / (glass_C + 273.15)));
      let storage = 0;
      let loss = 0;
      for (let k = -15; k <= 15; k++) {
        const x = 2 * Math.PI * f * centre * 10 ** (k / 3);
        const modulus = 3e7 * Math.exp(-((k / 8) ** 2));
        storage += (modulus * x * x) / (1 + x * x);
        loss += (modulus * x) / (1 + x * x);
      }
      return [storage, loss];
    };
    const both = blend([
      { share: 1, truth: glassTruth },
      { share: 1, truth: local },
    ]);
    const ramp = measurement("temperature sweep", rampPoints(2, [1, 3.16, 10, 31.6], -45, 90), both, noisy);
    const result = superposed([ramp]);
    expect(codes(result)).toContain("fit.glass-isotherms");
    const { superposition, model } = result;
    const moved_K = superposition!.referenceTemperature_C - glass_C;
    expect(Math.abs(superposition!.wlf!.c2_K - moved_K - law.c2_K)).toBeLessThan(4);
    for (const t of [glass_C + 10, glass_C + 30, glass_C + 60]) {
      const [storage, loss] = both(t, 10);
      const predicted = complexModulus(model!, t, 10);
      expect(Math.abs(predicted.storageModulus_Pa / storage - 1)).toBeLessThan(0.05);
      expect(Math.abs(predicted.lossModulus_Pa / loss - 1)).toBeLessThan(0.05);
    }
    // In the glass the storage modulus is still followed.
    const [storage] = both(glass_C - 30, 10);
    expect(Math.abs(complexModulus(model!, glass_C - 30, 10).storageModulus_Pa / storage - 1)).toBeLessThan(
      0.15,
    );
  });

  it("an Arrhenius material is called one", () => {
    const arrheniusTruth = truthOf(broadSpectrum(), {
      kind: "arrhenius",
      referenceTemperature_C: 0,
      activationEnergy_J_mol: 150e3,
    });
    const temperatures = Array.from({ length: 10 }, (_, k) => -20 + 10 * k);
    const { superposition } = superposed([
      isothermSweep(temperatures, sweepFrequencies_Hz, arrheniusTruth, noisy),
    ]);
    expect(superposition!.law).toBe("arrhenius");
    const { activationEnergy_J_mol, low_J_mol, high_J_mol } = superposition!.arrhenius!;
    expect(activationEnergy_J_mol / 150e3).toBeCloseTo(1, 2);
    expect(low_J_mol!).toBeLessThan(activationEnergy_J_mol);
    expect(high_J_mol!).toBeGreaterThan(activationEnergy_J_mol);
    expect(superposed([standard()], { ...quick, law: "arrhenius" }).superposition!.law).toBe("arrhenius");
  });

  it.each([
    ["density-temperature", (t: number) => (t + 273.15) / (glass_C + 273.15) / (1 + 6.6e-4 * (t - glass_C))],
    ["fitted", (t: number) => 1 + 0.003 * (t - glass_C)],
  ] as const)("vertical factor %s is recovered", (verticalShift, scale) => {
    const measured = isothermSweep(temperaturesAbove(glass_C), sweepFrequencies_Hz, truth, {
      ...noisy,
      scale,
    });
    const without = superposed([measured], { ...atGlass, verticalShift: "off" }).superposition!;
    const { superposition, model } = superposed([measured], { ...atGlass, verticalShift });
    expect(superposition!.verticalShift).toBe(verticalShift);
    expect(superposition!.rmsLog10!).toBeLessThan(without.rmsLog10!);
    expect(superposition!.rmsLog10!).toBeLessThan((1.3 * 0.01) / Math.LN10);
    expect(superposition!.wlf!.c2_K / law.c2_K).toBeCloseTo(1, 1);
    for (const t of [glass_C + 12, glass_C + 42]) {
      const [storage, loss] = truth(t, 1);
      const predicted = complexModulus(model!, t, 1);
      expect(Math.abs(predicted.storageModulus_Pa / (scale(t) * storage) - 1)).toBeLessThan(0.03);
      expect(Math.abs(predicted.lossModulus_Pa / (scale(t) * loss) - 1)).toBeLessThan(0.03);
    }
    const warmest = superposition!.shifts.at(-1)!;
    // Measured moduli rise with temperature, so bT falls below one.
    expect(warmest.log10bT).toBeLessThan(-0.03);
    if (verticalShift === "fitted") {
      expect(warmest.log10bT).toBeCloseTo(-Math.log10(scale(glass_C + 60)), 1);
    }
  });

  it("missing and impossible values cost only themselves", () => {
    const measured = standard();
    measured.lossModulus_Pa[3] = Number.NaN;
    measured.lossModulus_Pa[50] = -5;
    measured.storageModulus_Pa[77] = 0;
    measured.frequency_Hz[90] = 0;
    const { superposition } = superposed([measured], atGlass);
    expect(superposition!.wlf!.c2_K / law.c2_K).toBeCloseTo(1, 1);
    expect(superposition!.masterCurve!.temperature_C).toHaveLength(13 * 16 - 2);
  });
});

describe("which measurements go in", { timeout: 60_000 }, () => {
  it("shear and tension are kept apart, strain sweeps left out", () => {
    const tension = isothermSweep(temperaturesAbove(glass_C).slice(0, 4), sweepFrequencies_Hz, truth, {
      ...noisy,
      deformation: "tension",
      file: "tension.csv",
      scale: () => 3,
    });
    const strain = measurement("strain sweep", rampPoints(40, [10]), () => [9e9, 9e9], {});
    const alone = superposed([standard()]);
    const result = superposed([tension, strain, standard()]);
    expect(codes(result)).toEqual(["fit.deformation-chosen"]);
    expect(result.superposition!.deformation).toBe("shear");
    expect(result.superposition!.wlf).toEqual(alone.superposition!.wlf);
    expect(superposed([strain])).toEqual({ superposition: null, model: null, draws: [], notices: [] });
  });

  it("a ramp at several frequencies is the same data read the other way", () => {
    const ramp = measurement("temperature sweep", rampPoints(2.5, [0.3, 1, 3, 10, 30]), glassTruth, noisy);
    const result = superposed([ramp], atGlass);
    expect(codes(result)).toContain("fit.ramp-regrouped");
    const { wlf } = result.superposition!;
    expect(wlf!.c1 / law.c1).toBeCloseTo(1, 1);
    expect(wlf!.c2Low_K!).toBeLessThan(law.c2_K * 1.01);
    expect(wlf!.c2High_K!).toBeGreaterThan(law.c2_K * 0.99);
    expect(result.superposition!.rmsLog10!).toBeLessThan((1.3 * 0.01) / Math.LN10);
  });

  it("ramps at one frequency each in files of their own are read together, and it is said", () => {
    const ramps = [1, 10, 40].map((f, i) =>
      measurement("temperature sweep", rampPoints(1, [f]), glassTruth, {
        noise: 0.01,
        seed: i,
        file: `ramp-${f}.csv`,
      }),
    );
    const result = superposed(ramps);
    expect(codes(result)).toContain("fit.ramps-joined");
    expect(result.superposition!.source).toBe("fitted");
    expect(Math.abs(result.superposition!.derived!.vogelTemperature_C! - (glass_C - law.c2_K))).toBeLessThan(
      1,
    );
  });

  it("a ramp that contradicts the isotherms is left out by name, one that agrees goes in", () => {
    const points = rampPoints(2.5, [1, 3, 10], -10, 60);
    const agreeing = measurement("temperature sweep", points, glassTruth, { ...noisy, file: "same.csv" });
    const other = measurement(
      "temperature sweep",
      points,
      truthOf(sharpSpectrum(), lawAtGlass(knownLaws[4])),
      {
        ...noisy,
        file: "other.csv",
      },
    );
    const together = superposed([standard(), agreeing]);
    expect(codes(together)).not.toContain("fit.ramp-left-out");
    expect(together.superposition!.masterCurve!.temperature_C.length).toBeGreaterThan(208);
    const apart = superposed([standard(), other]);
    expect(apart.notices.find((n) => n.code === "fit.ramp-left-out")!.message).toContain("other.csv");
    // The fit begins elsewhere, and ends where a step is worth a hundredth of its own standard error.
    const [left, alone] = [apart, superposed([standard()])].map((one) => one.superposition!.wlf!);
    for (const key of ["c1", "c2_K"] as const) expect(left[key] / alone[key]).toBeCloseTo(1, 4);
  });

  it("files of one isotherm each make one run", () => {
    const files = temperaturesAbove(glass_C).map((t, i) =>
      isothermSweep([t], sweepFrequencies_Hz, truth, { noise: 0.01, seed: i, file: `${i}.csv` }),
    );
    const result = superposed(files, atGlass);
    expect(codes(result)).toEqual([]);
    expect(result.superposition!.wlf!.c2_K / law.c2_K).toBeCloseTo(1, 1);
  });

  it("replicates are combined, and what lies between them widens the intervals", () => {
    const run = (i: number, offset_K: number) =>
      isothermSweep(
        temperaturesAbove(glass_C),
        sweepFrequencies_Hz,
        (t, f) => truth(t + offset_K * (1 + (t - glass_C) / 60), f),
        {
          noise: 0.01,
          seed: i,
          file: `run-${i}.csv`,
          scale: () => 1 + 0.04 * (i - 2),
        },
      );
    const alike = superposed([run(1, 0), run(2, 0), run(3, 0)], { ...atGlass, draws: 60 });
    expect(codes(alike)).toContain("fit.replicate-runs");
    expect(alike.superposition!.rmsLog10!).toBeLessThan((1.3 * 0.01) / Math.LN10);
    expect(alike.superposition!.wlf!.c2_K / law.c2_K).toBeCloseTo(1, 1);
    const width = (r: ReturnType<typeof superpose>) =>
      r.superposition!.wlf!.c2High_K! - r.superposition!.wlf!.c2Low_K!;
    const one = superposed([run(2, 0)], atGlass);
    expect(width(alike)).toBeLessThan(width(one));
    const unlike = superposed([run(1, -0.8), run(2, 0), run(3, 0.8)], { ...atGlass, draws: 60 });
    expect(width(unlike)).toBeGreaterThan(2 * width(alike));
    // Three specimens 4 % apart: the level of the modulus is known to 4 %/√3.
    const levels = alike.draws.map((draw) => complexModulus(draw, glass_C + 60, 0.1).storageModulus_Pa);
    const mean = levels.reduce((a, b) => a + b, 0) / levels.length;
    const deviation =
      Math.sqrt(levels.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (levels.length - 1)) / mean;
    expect(deviation).toBeGreaterThan(0.015);
    expect(deviation).toBeLessThan(0.035);
  });

  it("isotherms that scatter about the law beyond their noise widen the intervals and say so", () => {
    const jittered: Truth = (t, f) => truth(t + 0.3 * Math.sin(17 * t), f);
    const result = superposed(
      [isothermSweep(temperaturesAbove(glass_C), sweepFrequencies_Hz, jittered, noisy)],
      atGlass,
    );
    expect(codes(result)).toContain("fit.law-scatter-small");
    const plain = superposed([standard()], atGlass).superposition!.wlf!;
    const wide = result.superposition!.wlf!;
    expect(wide.c2High_K! - wide.c2Low_K!).toBeGreaterThan(3 * (plain.c2High_K! - plain.c2Low_K!));
    expect(wide.c2Low_K!).toBeLessThan(law.c2_K);
    expect(wide.c2High_K!).toBeGreaterThan(law.c2_K);
  });
});

describe("no made-up numbers", { timeout: 60_000 }, () => {
  const nothing = { superposition: null, model: null, draws: [] };

  it.each([
    [
      "fewer than three temperatures",
      "fit.too-few-temperatures",
      [glass_C + 10, glass_C + 15],
      sweepFrequencies_Hz,
      truth,
    ],
    [
      "isotherms without overlap",
      "fit.no-overlap",
      [glass_C, glass_C + 25, glass_C + 50],
      [1, 1.5, 2],
      truth,
    ],
    [
      "all below Tg",
      "fit.all-below-glass-transition",
      [-60, -55, -50, -45, -40].map((d) => glass_C + d),
      sweepFrequencies_Hz,
      glassTruth,
    ],
    [
      "one plateau",
      "fit.shifts-undetermined",
      [20, 30, 40, 50],
      sweepFrequencies_Hz,
      (() => [1e6, 1e5]) as Truth,
    ],
  ] as const)("%s: %s", (_, code, temperatures, frequencies, from) => {
    const result = superposed(
      [isothermSweep([...temperatures], [...frequencies], from, noisy)],
      defaultSuperpositionSettings,
    );
    expect(result).toMatchObject(nothing);
    expect(codes(result)).toEqual([code]);
    expect(result.notices[0].message.length).toBeGreaterThan(60);
  });

  it("all below a measured Tg", () => {
    const temperatures = [-16, -13, -10, -7].map((d) => glass_C + d);
    const measured = isothermSweep(temperatures, sweepFrequencies_Hz, glassTruth, noisy);
    const peak = [lossPeak(1, glass_C + 10)];
    const result = superposeIsotherms([measured], measured.deformation, peak, quick);
    expect(result).toMatchObject(nothing);
    expect(codes(result)).toEqual(["fit.all-below-glass-transition"]);
    // The peak that it names was measured.
    expect(result.notices[0].message).not.toContain("nothing measured");
  });

  it("no T∞ below absolute zero of shifts that show next to no bend", () => {
    const at = (c2_K: number) =>
      deriveFromWlf(
        { kind: "wlf", referenceTemperature_C: -20, c1: c2_K / 8, c2_K, tangentBelow_C: null },
        { c1: c2_K / 8, c2_K, c1Low: null, c1High: null, c2Low_K: 0.5 * c2_K, c2High_K: 2 * c2_K },
        -40,
      )!;
    expect(at(10000)).toMatchObject({
      ...{ vogelTemperature_C: null, vogelTemperatureLow_C: null, vogelTemperatureHigh_C: null },
      vogelB_K: null,
    });
    expect(at(10000).fragility).toBeGreaterThan(10);
    // An interval ends at absolute zero.
    expect(at(200)).toMatchObject({ vogelTemperature_C: -220, vogelTemperatureLow_C: -273.15 });
  });

  it("one stray isotherm is left out by name", () => {
    const temperatures = [glass_C, ...[20, 22, 24, 26, 28, 30].map((d) => glass_C + d)];
    const result = superposed([isothermSweep(temperatures, [1, 1.7, 3, 5.5], truth, noisy)]);
    const notice = result.notices.find((n) => n.code === "fit.isotherms-left-out")!;
    expect(notice.message).toContain(`${temperatureText(glass_C)}`);
    expect(notice.message).toMatch(/^The isotherm at .* shares .* and was left out/);
    expect(result.superposition!.shifts).toHaveLength(6);
  });

  it("a storage and a loss modulus that contradict each other are called out", () => {
    const broken: Truth = (t, f) => {
      const [storage, loss] = truth(t, f);
      return [storage, 1.6 * loss];
    };
    const result = superposed([
      isothermSweep(temperaturesAbove(glass_C), sweepFrequencies_Hz, broken, noisy),
    ]);
    expect(codes(result)).toContain("fit.kramers-kronig");
    expect(codes(superposed([standard()]))).not.toContain("fit.kramers-kronig");
  });
});

describe("thermorheological simplicity", { timeout: 60_000 }, () => {
  const glassy = (k: number) =>
    truthOf(broadSpectrum(), {
      ...lawAtGlass(knownLaws[k]),
      tangentBelow_C: knownLaws[k].glassTemperature_C,
    } as never);

  it.each([0.2, 0.5])("a blend of two spectra with different constants is caught (share %d)", (share) => {
    for (const [a, b] of [
      [0, 2],
      [2, 4],
    ]) {
      const warmer = Math.max(knownLaws[a].glassTemperature_C, knownLaws[b].glassTemperature_C);
      const second =
        b === 4
          ? truthOf(broadSpectrum(), {
              ...lawAtGlass({ ...knownLaws[4], glassTemperature_C: -40 }),
              tangentBelow_C: -40,
            } as never)
          : glassy(b);
      const from = b === 4 ? -40 : warmer;
      const mixed = blend([
        { share: 1 - share, truth: glassy(a) },
        { share, truth: second },
      ]);
      const temperatures = Array.from({ length: 13 }, (_, k) => from - 15 + 5 * k);
      const result = superposed([isothermSweep(temperatures, sweepFrequencies_Hz, mixed, noisy)]);
      expect(result.superposition!.thermorheologicallySimple, `${a} and ${b}`).toBe(false);
      expect(codes(result)).toContain("fit.two-phases");
      const figures = result.superposition!.simplicity!;
      expect(
        figures.wicketScatterLog10 > figures.allowedScatterLog10 ||
          figures.phaseScatter_deg > figures.allowedScatter_deg,
      ).toBe(true);
    }
  });

  it.each([0.003, 0.01, 0.03])("a filled but simple compound passes (noise %d)", (noise) => {
    for (const { name, ...constants } of knownLaws) {
      // Guth and Gold's factor at 30 % by volume, falling with temperature as a filler network softens.
      const scale = (t: number) => 3.019 * (1 - 0.002 * (t - constants.glassTemperature_C));
      for (const spectrum of [broadSpectrum(), sharpSpectrum()]) {
        const measured = isothermSweep(
          temperaturesAbove(constants.glassTemperature_C),
          sweepFrequencies_Hz,
          truthOf(spectrum, lawAtGlass({ name, ...constants })),
          { noise, seed: 5, scale },
        );
        expect(superposed([measured]).superposition!.thermorheologicallySimple, name).toBe(true);
      }
    }
  });
});

describe("sweeps at one frequency", { timeout: 60_000 }, () => {
  const frequency_Hz = 10;
  /** Where the M″ of a truth peaks at 10 Hz, found on a fine grid. */
  const peakOf = (from: Truth, about_C: number) => {
    let best = about_C - 10;
    for (let t = about_C - 10; t < about_C + 50; t += 0.05) {
      if (from(t, frequency_Hz)[1] > from(best, frequency_Hz)[1]) best = t;
    }
    return best;
  };
  const ramp = (from: Truth) =>
    measurement("temperature sweep", rampPoints(1, [frequency_Hz], -30, 70), from, noisy);

  /** A polymer whose 10 Hz loss peak stands 14.4 K above its Tg, with the constants of a real elastomer. */
  const polymer = (() => {
    const { times_s, ...rest } = broadSpectrum();
    const shape = { ...lawAtGlass(law), tangentBelow_C: glass_C } as never;
    const moved = (decades: number) =>
      truthOf({ ...rest, times_s: times_s.map((t) => t * 10 ** decades) }, shape);
    // Slower relaxation peaks at a higher temperature: halve the bracket.
    let low = -6;
    let high = 2;
    while (high - low > 1e-3) {
      const middle = 0.5 * (low + high);
      if (peakOf(moved(middle), glass_C) > glass_C + 14.37) high = middle;
      else low = middle;
    }
    return moved(low);
  })();
  const peak_C = peakOf(polymer, glass_C);

  it("hangs the named constants on the measured Tg and says so", () => {
    const result = superposed([ramp(polymer)], defaultSuperpositionSettings, [
      lossPeak(frequency_Hz, peak_C),
    ]);
    expect(codes(result)).toContain("fit.assumed-shift-constants");
    const { superposition, draws } = result;
    expect(superposition).toMatchObject({ source: "assumed", law: "wlf", thermorheologicallySimple: null });
    const { c1, c2_K } = superposition!.wlf!;
    expect(superposition!.assumption).toContain(`C1 ${c1.toFixed(1)}, C2 ${c2_K.toFixed(1)} K`);
    // y C2/(C1 − y) with y = log10(10 Hz × 2π × 100 s): 14.4 K below the 10 Hz peak with the universal constants; with
    // others by the same formula, the peak itself within a few kelvin.
    const { referenceTemperature_C } = superposition!;
    expect(Math.abs(referenceTemperature_C - (peak_C - (3.7982 * c2_K) / (c1 - 3.7982)))).toBeLessThan(3);
    expect(result.notices.find(({ code }) => code === "fit.assumed-shift-constants")!.message).toContain(
      "universal constants",
    );
    expect(superposition!.derived!.glassTemperature_C).toBe(superposition!.referenceTemperature_C);
    expect(draws).toHaveLength(defaultSuperpositionSettings.draws);
  });

  it("draws take the constants of the published elastomers, and their spread covers the truth", () => {
    const { draws, superposition } = superposed([ramp(polymer)], defaultSuperpositionSettings, [
      lossPeak(frequency_Hz, peak_C),
    ]);
    const rows = constantsAtGlassTransition();
    // Between and about the published rows (their products of C1 and C2 reach from 452 to 1723 K), none the same.
    const products = draws.map((draw) =>
      draw.law.kind === "wlf" ? draw.law.c1 * draw.law.c2_K : Number.NaN,
    );
    for (const product of products) {
      expect(product).toBeGreaterThan(0.5 * Math.min(...rows.map((row) => row.c1 * row.c2_K)));
      expect(product).toBeLessThan(2 * Math.max(...rows.map((row) => row.c1 * row.c2_K)));
    }
    expect(new Set(products.map((product) => product.toFixed(3))).size).toBeGreaterThan(rows.length);
    // 10 kHz: three decades from anything measured.
    for (const d of [20, 30, 45]) {
      const values = draws
        .map((draw) => complexModulus(draw, glass_C + d, 1e4).storageModulus_Pa)
        .sort((a, b) => a - b);
      const expected = polymer(glass_C + d, 1e4)[0];
      // Give or take the sweep's own 1 % of noise, which in the glass is all there is to be unsure of.
      expect(values[1]).toBeLessThan(1.01 * expected);
      expect(values[values.length - 2]).toBeGreaterThan(0.99 * expected);
    }
    const atPeak = superposition!.shifts.find((shift) => shift.temperature_C > peak_C)!;
    const others = superposition!.shifts.filter((shift) => shift.temperature_C > glass_C + 30);
    expect(others.length).toBeGreaterThan(2);
    for (const shift of others) {
      expect(shift.log10aTHigh! - shift.log10aTLow!).toBeGreaterThan(1);
      // From the peak, where the data are, to the other temperature: the truth lies inside the interval.
      const expected =
        log10ShiftFactor(lawAtGlass(law), shift.temperature_C) -
        log10ShiftFactor(lawAtGlass(law), atPeak.temperature_C);
      expect(shift.log10aTLow! - atPeak.log10aTHigh!).toBeLessThan(expected);
      expect(shift.log10aTHigh! - atPeak.log10aTLow!).toBeGreaterThan(expected);
    }
  });

  it("with the right constants the model gives the sweep back", () => {
    const assumed = { name: "this polymer's own", c1: law.c1, c2_K: law.c2_K };
    const result = superposed([ramp(polymer)], { ...quick, assumed }, [lossPeak(frequency_Hz, peak_C)]);
    expect(codes(result)).toEqual(["fit.assumed-shift-constants"]);
    expect(result.superposition!.assumption).toContain("this polymer's own");
    expect(result.superposition!.rmsLog10!).toBeLessThan((2 * 0.01) / Math.LN10);
    for (const d of [0, 10, 30, 50]) {
      const [storage, loss] = polymer(glass_C + d, 10);
      const predicted = complexModulus(result.model!, glass_C + d, 10);
      expect(Math.abs(predicted.storageModulus_Pa / storage - 1)).toBeLessThan(0.05);
      expect(Math.abs(predicted.lossModulus_Pa / loss - 1)).toBeLessThan(0.05);
    }
  });

  it("constants that contradict the sweep are called out, with published ones that do not", () => {
    const assumed = { name: "a guess", c1: 17.44, c2_K: 51.6 };
    const result = superposed([ramp(polymer)], { ...quick, assumed }, [lossPeak(frequency_Hz, peak_C)]);
    const notice = result.notices.find((n) => n.code === "fit.assumed-constants-misfit")!;
    expect(notice.message).toMatch(
      /^With the assumed constants \(a guess\) no spectrum .* Constants like C1/,
    );
  });

  it("another reference temperature moves the assumed constants by the invariants", () => {
    const assumed = { name: "a guess", c1: 17.44, c2_K: 51.6 };
    const settings = { ...quick, assumed, referenceTemperature_C: 0 };
    const { superposition } = superposed([ramp(polymer)], settings, [lossPeak(frequency_Hz, peak_C)]);
    expect(superposition!.referenceTemperature_C).toBe(0);
    expect(superposition!.wlf!.c1 * superposition!.wlf!.c2_K).toBeCloseTo(17.44 * 51.6, 6);
  });

  it("without a Tg inside the sweep there is nothing to hang them on", () => {
    const result = superposed([ramp(polymer)], quick, [lossPeak(frequency_Hz, glass_C + 15, false)]);
    expect(result).toMatchObject({ superposition: null, model: null, draws: [] });
    expect(codes(result)).toEqual(["fit.no-glass-transition"]);
  });
});
