import { describe, expect, it } from "vitest";
import { glassAtFrequency } from "../../src/fit/glass/glass-at-frequency.js";
import type { Material } from "../../src/fit/material.js";
import {
  complexModulus,
  type RelaxationModel,
  relaxationModulus,
} from "../../src/fit/spectrum/relaxation-model.js";
import { log10ShiftFactor, temperatureAtShift } from "../../src/fit/spectrum/shift-law.js";
import { coldVerdict } from "../../src/predict/cold/cold.js";
import { stiffening } from "../../src/predict/cold/stiffening.js";
import { defaultUses } from "../../src/predict/default-uses.js";
import { outlookOf } from "../../src/predict/outlook-of.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import { cautions } from "../../src/words/cautions.js";
import { predictionNotices } from "../../src/words/codes/prediction-codes.js";
import { exampleMaterial, exampleModel, type Rubber } from "./example-materials.js";

const useAt = (temperature_C: number) => ({ ...defaultUses()[0], temperature_C });
const outlookAt = (temperature_C: number, rubber: Rubber = {}, draws = 0) =>
  outlookOf(exampleMaterial(rubber, draws), useAt(temperature_C), settings, null);
const codes = (result: { notices: { code: string }[] }) => result.notices.map((notice) => notice.code);

/** Highest value of a function of temperature, by looking at every 0.01 K. */
function peak_C(value: (temperature_C: number) => number, from_C: number, to_C: number): number {
  let best_C = from_C;
  for (let T = from_C; T <= to_C; T += 0.01) if (value(T) > value(best_C)) best_C = T;
  return best_C;
}

describe("the glass transition at a frequency", () => {
  it("is where a sweep at that frequency would show it, with and without a vertical factor", () => {
    for (const verticalShift of [
      { kind: "off" as const },
      { kind: "density-temperature" as const, expansion_per_K: 6e-4 },
    ]) {
      for (const frequency_Hz of [1, 400]) {
        const model: RelaxationModel = { ...exampleModel(), verticalShift };
        const found = glassAtFrequency(model, frequency_Hz);
        if ("absent" in found) throw new Error(found.absent);
        const at = (T: number) => complexModulus(model, T, frequency_Hz);
        expect(found.tanDeltaPeak_C).toBeCloseTo(
          peak_C((T) => at(T).lossModulus_Pa / at(T).storageModulus_Pa, -60, 0),
          1,
        );
        expect(found.lossModulusPeak_C!).toBeCloseTo(
          peak_C((T) => at(T).lossModulus_Pa, -80, -20),
          1,
        );
      }
    }
  });

  it("lets the highest tan δ peak govern a blend and names the other", () => {
    const soft = exampleModel({ glassTemperature_C: -70 });
    // A second phase that relaxes seven decades later, a third as strong.
    const blend: RelaxationModel = {
      ...soft,
      times_s: Float64Array.from([...soft.times_s, ...soft.times_s.map((time_s) => time_s * 1e7)]),
      moduli_Pa: Float64Array.from([
        ...soft.moduli_Pa,
        ...soft.moduli_Pa.map((modulus_Pa) => 0.03 * modulus_Pa),
      ]),
      equilibriumModulus_Pa: 3e6,
      lowestReducedFrequency_Hz: 1e-14,
    };
    const found = glassAtFrequency(blend, 1);
    if ("absent" in found) throw new Error(found.absent);
    const tanDelta = (T: number) => {
      const { storageModulus_Pa, lossModulus_Pa } = complexModulus(blend, T, 1);
      return lossModulus_Pa / storageModulus_Pa;
    };
    const warm_C = peak_C(tanDelta, -45, 20);
    const cold_C = peak_C(tanDelta, -80, -45);
    const governing_C = tanDelta(warm_C) > tanDelta(cold_C) ? warm_C : cold_C;
    expect(found.tanDeltaPeak_C).toBeCloseTo(governing_C, 0);
    const other_C = governing_C === warm_C ? found.colderPhase_C : found.warmerPhase_C;
    expect(other_C!).toBeCloseTo(governing_C === warm_C ? cold_C : warm_C, -1);
    const material: Material = { ...exampleMaterial(), model: blend };
    const result = outlookOf(material, useAt(0), settings, null);
    expect(codes(result)).toContain(
      governing_C === warm_C ? "predict.second-phase-colder" : "predict.second-phase-warmer",
    );
  });
});

describe("temperature at a shift", () => {
  it("undoes both laws, on either side of the tangent", () => {
    const wlf = exampleModel().law;
    const arrhenius = { kind: "arrhenius" as const, referenceTemperature_C: 20, activationEnergy_J_mol: 9e4 };
    for (const law of [wlf, arrhenius]) {
      for (const T of [-80, -56, -54, 0, 60]) {
        expect(temperatureAtShift(law, log10ShiftFactor(law, T))!).toBeCloseTo(T, 6);
      }
    }
    expect(temperatureAtShift({ ...wlf, tangentBelow_C: null } as typeof wlf, -16.6)).toBeNull();
  });
});

describe("verdict", () => {
  const at = (temperature_C: number, low_C = temperature_C, high_C = temperature_C) => ({ low_C, high_C });
  it("names the state, and both where the interval holds the temperature", () => {
    expect(coldVerdict(-30, at(-25), at(0))).toBe("glassy");
    expect(coldVerdict(-25, at(-25), at(0))).toBe("leathery");
    expect(coldVerdict(-10, at(-25), at(0))).toBe("leathery");
    expect(coldVerdict(0, at(-25), at(0))).toBe("rubbery");
    expect(coldVerdict(-24, at(-25, -28, -22), at(0, -3, 3))).toBe("glassy or leathery");
    expect(coldVerdict(-1, at(-25, -28, -22), at(0, -3, 3))).toBe("leathery or rubbery");
    // Two wide borders at once leave all three words open.
    expect(coldVerdict(-10, at(-12, -20, -5), at(-8, -15, 0))).toBe(null);
  });
  it("is a plain word where a half-open border decides, and two where it does not", () => {
    const unknown = { low_C: Number.NEGATIVE_INFINITY, high_C: Number.POSITIVE_INFINITY };
    const below = (high_C: number) => ({ ...unknown, high_C });
    const above = (low_C: number) => ({ ...unknown, low_C });
    // The M″ peak is colder than the data reach: at 23 °C, above the leathery border, that is rubbery.
    expect(coldVerdict(23, below(-25), at(5, 3, 7))).toBe("rubbery");
    expect(coldVerdict(-10, below(-25), at(5, 3, 7))).toBe("leathery");
    expect(coldVerdict(-30, below(-25), at(5, 3, 7))).toBe("glassy or leathery");
    // The tan δ peak is warmer than the data reach.
    expect(coldVerdict(-30, at(-20, -22, -18), above(0))).toBe("glassy");
    expect(coldVerdict(-10, at(-20, -22, -18), above(0))).toBe("leathery");
    expect(coldVerdict(10, at(-20, -22, -18), above(0))).toBe("leathery or rubbery");
    expect(coldVerdict(10, unknown, unknown)).toBe(null);
  });

  it("takes the contact of the higher frequency and says which", () => {
    for (const T of [23, -30]) {
      const both = outlookAt(T).outlook;
      const impact_Hz = 1 / (2 * both.rebound!.contactTime_s);
      const sliding_Hz = both.grip!.contactFrequency_Hz!;
      expect(both.cold!.contactFrequency_Hz).toBe(Math.max(impact_Hz, sliding_Hz));
      expect(both.cold!.contact).toBe(sliding_Hz >= impact_Hz ? "sliding" : "impact");
    }
  });

  it("gives margins, the oven's own reading beside the use's, and the lowest temperatures", () => {
    const material = exampleMaterial();
    const peak = (temperature_C: number) => ({ temperature_C, low_C: null, high_C: null, bracketed: true });
    material.glassTransitions.push({
      frequency_Hz: 1,
      deformation: "tension",
      direction: "heating",
      tanDeltaPeak: { ...peak(-45.5), height: 1, width_K: 12 },
      lossModulusPeak: peak(-55.5),
      storageModulusOnset: null,
      furtherPeaks: [],
      path: "hazel.csv",
    });
    const { cold } = outlookOf(material, useAt(-20), settings, null).outlook;
    const { tanDeltaPeak, lossModulusPeak } = cold!.glassTemperatureAtUse!;
    expect(cold!.marginToGlassy_K).toBeCloseTo(-20 - lossModulusPeak.temperature_C!, 9);
    expect(cold!.marginToLeathery_K).toBeCloseTo(-20 - tanDeltaPeak.temperature_C! - 10, 9);
    expect(cold!.glassTemperatureMeasured).toEqual({
      frequency_Hz: 1,
      tanDeltaPeak_C: -45.5,
      lossModulusPeak_C: -55.5,
    });
    // The ground is quicker than the oven: the transition stands warmer there.
    expect(tanDeltaPeak.temperature_C).toBeGreaterThan(-35);
    // The borders are where they say: the verdict changes there.
    const verdictAt = (T: number) => outlookOf(material, useAt(T), settings, null).outlook.cold!.verdict;
    expect(verdictAt(cold!.lowestRubbery_C! + 0.1)).toBe("rubbery");
    expect(verdictAt(cold!.lowestRubbery_C! - 0.1)).toBe("leathery");
    expect(verdictAt(cold!.lowestAboveGlassy_C! + 0.1)).toBe("leathery");
    expect(verdictAt(cold!.lowestAboveGlassy_C! - 0.1)).toBe("glassy");
  });

  it("straddles where the draws cross the border", () => {
    const { outlook } = outlookAt(0, {}, 40);
    const border_C = outlook.cold!.lowestRubbery_C!;
    const straddling = outlookAt(border_C, {}, 40);
    expect(straddling.outlook.cold!.verdict).toBe("leathery or rubbery");
    expect(codes(straddling)).toContain("predict.verdict-straddles");
  });
});

describe("what the data do not reach", () => {
  it("is null with the sweep to run, where nothing was measured", () => {
    const result = outlookOf({ ...exampleMaterial(), model: null }, useAt(0), settings, null);
    expect(result.outlook).toMatchObject({ rebound: null, grip: null });
    expect(codes(result)).toEqual(["predict.no-model"]);
    expect(predictionNotices["predict.no-model"].whatToDo).toMatch(
      /sweep at 1 or 10 Hz from −100 to \+80 °C/,
    );
  });

  it("is without a verdict, and says that none was tried, where no sweep was read", () => {
    const unswept = { ...exampleMaterial(), model: null, hasNoSweep: true };
    const result = outlookOf(unswept, useAt(0), settings, null);
    expect(result.outlook.cold).toBeNull();
    expect(result.outlook.flags).toEqual(["predict.no-sweep"]);
    expect(result.outlook.verdictMissing).toMatch(/^No sweep was measured on .*could be glassy/);
  });

  it("is null for rebound and grip outside the reduced frequencies, and names temperatures that would do", () => {
    const result = outlookAt(-30, { highestReducedFrequency_Hz: 1e-9, lowestTemperature_C: -20 });
    expect(result.outlook).toMatchObject({ rebound: null, grip: null });
    const outside = result.notices.filter((notice) => notice.code === "predict.contact-outside-range");
    expect(outside).toHaveLength(2);
    const advised = /at 1 Hz from −(\d+) to/.exec(outside[0].message);
    // At 1 Hz the state of the impact at −30 °C stands colder than −30 °C; the sweep must get there.
    const impact_Hz = 300;
    const model = exampleModel();
    const equivalent_C = temperatureAtShift(
      model.law,
      log10ShiftFactor(model.law, -30) + Math.log10(impact_Hz),
    )!;
    expect(equivalent_C).toBeLessThan(-30);
    expect(-Number(advised![1])).toBeLessThan(equivalent_C);
    expect(-Number(advised![1])).toBeGreaterThan(equivalent_C - 30);
  });

  it("is rubbery on a tan δ peak that is known to lie colder, and says from where", () => {
    const { outlook, notices } = outlookAt(23, {
      highestReducedFrequency_Hz: 1e-4,
      lowestTemperature_C: -20,
    });
    expect(outlook.cold!.verdict).toBe("rubbery");
    expect(outlook.cold!.marginToGlassy_K).toBeNull();
    expect(outlook.cold!.marginToLeathery_K).toBeNull();
    const { tanDeltaPeak, lossModulusPeak } = outlook.transitionAtContact!;
    expect(tanDeltaPeak).toMatchObject({ temperature_C: null, low_C: null });
    expect(tanDeltaPeak.reason).toMatch(/tan δ still climbs at the cold, fast end/);
    // The whole model, which shows the peak, has it below that bound.
    const whole = outlookAt(23).outlook.cold!.glassTemperatureAtUse!;
    expect(whole.tanDeltaPeak.temperature_C!).toBeLessThan(tanDeltaPeak.high_C!);
    expect(whole.lossModulusPeak.temperature_C!).toBeLessThan(lossModulusPeak.high_C!);
    const notice = notices.find((one) => one.code === "predict.verdict-from-bounds")!;
    // The words name the bound that the interval has, with its margins.
    const bound_C = /tan δ still climbs [^:]*: its peak lies colder than −([\d.]+) °C/.exec(notice.message);
    expect(-Number(bound_C![1])).toBeCloseTo(tanDeltaPeak.high_C!, 1);
  });

  it("is rubbery without an M″ peak where the tan δ peak decides, and two words where neither does", () => {
    const warm = outlookAt(23, { highestReducedFrequency_Hz: 1e-2 }).outlook;
    expect(warm.cold!.verdict).toBe("rubbery");
    expect(warm.cold!.marginToGlassy_K).toBeNull();
    expect(warm.cold!.marginToLeathery_K!).toBeGreaterThan(20);
    const cold = outlookAt(-60, { highestReducedFrequency_Hz: 1e-2 }).outlook;
    expect(cold.cold!.verdict).toBe("glassy or leathery");
  });

  it("still tells glassy from borders that were measured, far below the coldest measurement", () => {
    const result = outlookAt(-100, { lowestTemperature_C: -70 });
    expect(result.outlook.cold!.verdict).toBe("glassy");
    expect(result.outlook.rebound).toBeNull();
    expect(codes(result)).toContain("predict.contact-frequency-extrapolated");
  });

  it("says so when it leans on the model a little", () => {
    const inside = outlookAt(0, { highestTemperature_C: 20 });
    expect(codes(inside)).not.toContain("predict.law-outside-range");
    const outside = outlookAt(30, { highestTemperature_C: 20 });
    expect(codes(outside)).toContain("predict.law-outside-range");
    expect(outside.outlook.grip).not.toBeNull();
  });
});

describe("outlook", () => {
  it("carries cautions beside every number", () => {
    const result = outlookAt(-10, {}, 20);
    const text = result.notices.map((notice) => notice.message).join(" ");
    for (const caution of [
      cautions.grip,
      cautions.gripNotIncluded,
      cautions.rebound,
      cautions.cold,
      cautions.crystallisation,
    ]) {
      expect(text).toContain(caution);
    }
    for (const { code, severity } of result.notices) {
      expect(predictionNotices).toHaveProperty(code);
      expect(severity).toBe(predictionNotices[code as keyof typeof predictionNotices].severity);
    }
  });

  it("has intervals that hold the value, draws for ratios, and the same numbers every time", () => {
    const first = outlookAt(-10, {}, 20);
    const { rebound, grip } = first.outlook;
    expect(rebound!.low).toBeLessThan(rebound!.fraction);
    expect(rebound!.high).toBeGreaterThan(rebound!.fraction);
    expect(grip!.low).toBeLessThan(grip!.frictionCoefficient);
    expect(grip!.high).toBeGreaterThan(grip!.frictionCoefficient);
    expect(first.draws.rebound).toHaveLength(20);
    expect(first.draws.grip).toHaveLength(20);
    expect(outlookAt(-10, {}, 20)).toEqual(first);
    expect(codes(outlookAt(-10))).toContain("predict.interval-not-determined");
  });

  it("opens the rebound interval by the calibration's own uncertainty", () => {
    const calibration = {
      compound: "Hazel 55",
      method: null,
      stiffnessFactor: 1,
      low: 0.6,
      high: 1.6,
      logStandardError: 0.25,
      leaveOneOutError: 0.02,
      uncalibratedError: 0.02,
      readings: [],
    };
    const material = { ...exampleMaterial({}, 0), strainSoftening: "unfilled" as const };
    material.draws = Array.from({ length: 40 }, () => material.model!);
    const exact = { ...settings, temperatureUncertainty_K: 0, modulusUncertainty: 0 };
    const width = (one: typeof calibration | null) => {
      const { rebound, grip } = outlookOf(material, useAt(-10), exact, one).outlook;
      return { rebound: rebound!.high - rebound!.low, grip: grip!.high - grip!.low };
    };
    // The draws are the model itself, computed more coarsely: 0.0012 of R at most (see `coarser`).
    expect(width(null).rebound).toBeLessThan(0.0012);
    expect(width(calibration).rebound).toBeGreaterThan(0.01);
    // Grip has the cut-off in its interval, and nothing of the calibration.
    expect(width(calibration).grip).toBe(width(null).grip);
  });

  it("turns shear into tension by E = 3 G and says so; an unstated mode is taken for tension", () => {
    const shear = exampleMaterial({ deformation: "shear", scale: 1 / 3 });
    const tension = exampleMaterial();
    const a = outlookOf(shear, useAt(0), settings, null);
    const b = outlookOf(tension, useAt(0), settings, null);
    expect(a.outlook.rebound!.fraction).toBeCloseTo(b.outlook.rebound!.fraction, 9);
    expect(a.outlook.grip!.frictionCoefficient).toBeCloseTo(b.outlook.grip!.frictionCoefficient, 9);
    expect(codes(a)).toContain("predict.shear-to-tension");
    expect(codes(outlookAt(0, { deformation: "unstated" }))).toContain("predict.deformation-unstated");
  });

  it("leaves out what the use or its texture does not give", () => {
    const material = exampleMaterial();
    const use = useAt(0);
    const impactOnly = outlookOf(material, { ...use, sliding: null }, settings, null).outlook;
    expect(impactOnly.grip).toBeNull();
    expect(impactOnly.cold!.contact).toBe("impact");
    const neither = outlookOf(material, { ...use, sliding: null, impact: null }, settings, null);
    expect(codes(neither)).toContain("predict.use-without-contact");
    const texture = { ...use.sliding!.texture, hurstExponent: 1.7 };
    const bad = outlookOf(material, { ...use, sliding: { ...use.sliding!, texture } }, settings, null);
    expect(bad.outlook.grip).toBeNull();
    expect(bad.outlook.rebound).not.toBeNull();
    expect(bad.notices.find((one) => one.code === "predict.texture-unusable")!.message).toContain(
      "Hurst exponent is 1.7",
    );
  });
});

describe("stiffening", () => {
  it("finds where the 10 s modulus is 2, 5, 10 and 100 times that at 23 °C", () => {
    const material = exampleMaterial({}, 20);
    const { stiffening: result, notices } = stiffening(material, settings);
    expect(notices).toEqual([]);
    const at = (T: number) => relaxationModulus(material.model!, T, 10);
    expect(result!.temperatures.map(({ ratio }) => ratio)).toEqual([2, 5, 10, 100]);
    for (const { ratio, reached } of result!.temperatures) {
      expect(at(reached!.temperature_C) / at(23) / ratio).toBeCloseTo(1, 2);
      expect(reached!.low_C).toBeLessThan(reached!.temperature_C);
    }
    expect(result!.caution).toContain("not the Gehman test");
  });

  it("is null beyond what was measured, with the sweep to run", () => {
    const material = exampleMaterial({ highestReducedFrequency_Hz: 1e-4, lowestTemperature_C: -40 });
    const { stiffening: result, notices } = stiffening(material, settings);
    expect(result!.temperatures.at(-1)!.reached).toBeNull();
    expect(notices[0].message).toMatch(/T100 .*run a temperature sweep at 1 Hz from −\d+/);
  });
});

describe("stiffening of a compound of which what was measured ends cold", () => {
  it("is not determined where some of the models flow by 23 °C, and says that the reference is missing", () => {
    const material = exampleMaterial({ highestTemperature_C: -30, lowestReducedFrequency_Hz: 1e-8 }, 20);
    // A tenth of the draws has no network: at 23 °C after 10 s next to nothing is left.
    const draws = material.draws.map((draw, i) =>
      i % 10 === 0
        ? {
            ...draw,
            equilibriumModulus_Pa: 0,
            moduli_Pa: draw.moduli_Pa.map((M, k) => (draw.times_s[k] > 1e2 ? 0 : M)),
          }
        : draw,
    );
    const { stiffening: result, notices } = stiffening({ ...material, draws }, settings);
    expect(result!.temperatures.map(({ reached }) => reached)).toEqual([null, null, null, null]);
    expect(notices).toHaveLength(1);
    expect(notices[0].message).toMatch(
      /^T2, T5, T10, T100 are not determined: .* 10 s modulus up to 23 °C, to which they refer\. .* at 1 Hz from −\d+ to (2[5-9]|[3-9]\d) °C/,
    );
  });
});

it("stiffening within 2 K of the reference is told where the reference was measured", () => {
  const material = exampleMaterial({ glassTemperature_C: 14 }, 20);
  const { temperatures } = stiffening(material, settings).stiffening!;
  expect(temperatures[0].reached!.temperature_C).toBeGreaterThan(20);
  for (const { reached } of temperatures.slice(0, 3)) expect(reached!.high_C).toBeLessThanOrEqual(23);
});

it("stiffening asks for no sweep where the glass itself is not so many times as stiff", () => {
  const material = exampleMaterial({ lowestTemperature_C: -110 });
  // As filled as makes it thirty times as stiff when warm.
  material.model!.equilibriumModulus_Pa *= 30;
  const { stiffening: result, notices } = stiffening(material, settings);
  expect(result!.temperatures.at(-1)!.reached).toBeNull();
  const [, ratio] = /^T100 is not reached: the glass, measured down to −110 °C, is (\d+) times/.exec(
    notices[0].message,
  )!;
  const at = (T: number) => relaxationModulus(material.model!, T, 10);
  expect(Number(ratio) / (at(-110) / at(23))).toBeCloseTo(1, 1);
  expect(notices).toHaveLength(1);
});

it("stiffening asks for no colder sweep where the reference is what is missing", () => {
  const material = exampleMaterial({
    ...{ lowestReducedFrequency_Hz: 1e-4, highestReducedFrequency_Hz: 1e-1 },
    ...{ lowestTemperature_C: -60, highestTemperature_C: -50 },
  });
  const { stiffening: result, notices } = stiffening(material, settings);
  expect(result!.temperatures.filter(({ reached }) => reached === null).length).toBeGreaterThan(1);
  expect(notices).toHaveLength(1);
  expect(notices[0].message).toContain("10 s modulus up to 23 °C");
});

describe("a use as warm as where the compound softens", () => {
  const softening = {
    ...{ temperature_C: 50, low_C: 48, high_C: 52, bracketed: true },
    ...{ frequency_Hz: 1, deformation: "tension" as const, paths: [] },
  };
  const softened = (temperature_C: number, own: Material["softening"]) =>
    codes(outlookOf({ ...exampleMaterial(), softening: own }, useAt(temperature_C), settings, null)).includes(
      "predict.softened",
    );

  it("carries a caution from the low end of the interval on, and none on a bound", () => {
    expect([47, 48, 60].map((T) => softened(T, softening))).toEqual([false, true, true]);
    expect(softened(60, { ...softening, temperature_C: null, high_C: null, bracketed: false })).toBe(false);
    expect(softened(60, null)).toBe(false);
  });
});
