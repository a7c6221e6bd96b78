import { describe, expect, it } from "vitest";
import type { GlassTransition, Material } from "../../src/fit/material.js";
import { measuredStates } from "../../src/fit/measured-states.js";
import { complexModulus } from "../../src/fit/spectrum/relaxation-model.js";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { areTooFew } from "../../src/numeric/statistics/value-interval.js";
import { nearestMeasurement } from "../../src/predict/cold/nearest-measurement.js";
import { instrumentDeviates } from "../../src/predict/contact/drawn-contacts.js";
import { defaultUses } from "../../src/predict/default-uses.js";
import { outlookOf } from "../../src/predict/outlook-of.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import { exampleMaterial } from "./example-materials.js";

const exact = { ...settings, temperatureUncertainty_K: 0, modulusUncertainty: 0 };
const useAt = (temperature_C: number) => ({ ...defaultUses()[0], temperature_C });

/** Draws that are all the model itself: what opens an interval is then the instrument alone. */
function certainMaterial(overrides: Partial<Material> = {}, count = 60): Material {
  const material = exampleMaterial();
  return { ...material, draws: Array.from({ length: count }, () => material.model!), ...overrides };
}

function transition(frequency_Hz: number, tanDelta_C: number, further_C: number[] = []): GlassTransition {
  const peak = (temperature_C: number) => ({
    temperature_C,
    low_C: temperature_C - 1,
    high_C: temperature_C + 1,
    bracketed: true,
  });
  return {
    frequency_Hz,
    deformation: "tension",
    direction: "heating",
    tanDeltaPeak: { ...peak(tanDelta_C), height: 1, width_K: 20 },
    lossModulusPeak: peak(tanDelta_C - 8),
    storageModulusOnset: null,
    furtherPeaks: further_C.map((at_C) => ({
      quantity: "tan delta" as const,
      ...peak(at_C),
      height: 0.4,
      prominence: 0.3,
    })),
    path: "invented.csv",
  };
}

function measuredAt(material: Material, temperatures_C: number[], factor: number): DynamicMeasurement {
  const states = temperatures_C.map((T) => complexModulus(material.model!, T, 1));
  return {
    kind: "temperature sweep",
    sample: null,
    deformation: "tension",
    direction: "heating",
    temperature_C: Float64Array.from(temperatures_C),
    frequency_Hz: Float64Array.from(temperatures_C, () => 1),
    storageModulus_Pa: Float64Array.from(states, ({ storageModulus_Pa }) => storageModulus_Pa * factor),
    lossModulus_Pa: Float64Array.from(states, ({ lossModulus_Pa }) => lossModulus_Pa * factor),
    strainAmplitude: null,
    time_s: null,
    heatingRate_K_min: null,
    provenance: { file: "invented.csv", sheet: null, section: null, firstLine: 1, lastLine: 9, columns: [] },
  };
}

describe("what the instrument may be off by", () => {
  it("has no mean, and the stated 95 % half widths", () => {
    const deviates = instrumentDeviates(400, settings);
    const of = (value: (deviate: (typeof deviates)[number]) => number) => {
      const values = deviates.map(value);
      const mean = values.reduce((a, b) => a + b, 0) / values.length;
      return { mean, deviation: Math.sqrt(values.reduce((a, b) => a + (b - mean) ** 2, 0) / values.length) };
    };
    const temperature = of(({ temperature_K }) => temperature_K);
    expect(temperature.mean).toBeCloseTo(0, 12);
    // 1.96 standard deviations hold 95 % of a normal distribution (any table of it).
    expect(1.96 * temperature.deviation).toBeCloseTo(settings.temperatureUncertainty_K, 3);
    const modulus = of(({ modulusFactor }) => Math.log(modulusFactor));
    expect(modulus.mean).toBeCloseTo(0, 12);
    expect(1.96 * modulus.deviation).toBeCloseTo(Math.log(1 + settings.modulusUncertainty), 4);
    expect(instrumentDeviates(0, settings)).toEqual([]);
  });

  it("opens the borders by the thermometer, so that a narrow miss is no plain word", () => {
    const material = certainMaterial();
    const plain = outlookOf(material, useAt(-10), exact, null).outlook.cold!;
    const border_C = -10 - plain.marginToGlassy_K!;
    // Contact frequency and border move little over a kelvin: just above the border the margin is about that.
    const near = useAt(Math.round(border_C) + 1);
    const certain = outlookOf(material, near, exact, null).outlook.cold!;
    expect(certain.verdict).toBe("leathery");
    expect(Math.abs(certain.marginToGlassy_K!)).toBeLessThan(1.4);
    const judged = outlookOf(material, near, settings, null).outlook.cold!;
    expect(judged.verdict).toBe("glassy or leathery");
    const peak = judged.glassTemperatureAtUse!.lossModulusPeak;
    // The contact slows down a little where the rubber is softer, so somewhat more than the thermometer's ±1.5 K.
    expect((peak.high_C! - peak.low_C!) / 2).toBeGreaterThan(1.1);
    expect((peak.high_C! - peak.low_C!) / 2).toBeLessThan(2.2);
    const wide = outlookOf(material, near, { ...settings, temperatureUncertainty_K: 4 }, null).outlook;
    const wider = wide.cold!.glassTemperatureAtUse!.lossModulusPeak;
    expect(wider.high_C! - wider.low_C!).toBeGreaterThan(2 * (peak.high_C! - peak.low_C!));
  });

  it("lets the interval hold both readings where the file does not state the mode", () => {
    const unstated = exampleMaterial({ deformation: "unstated" });
    unstated.draws = Array.from({ length: 40 }, () => unstated.model!);
    const asTension = outlookOf(exampleMaterial(), useAt(0), exact, null).outlook;
    const asShear = outlookOf(exampleMaterial({ deformation: "shear" }), useAt(0), exact, null).outlook;
    const { rebound, grip } = outlookOf(unstated, useAt(0), exact, null).outlook;
    for (const { rebound: one, grip: other } of [asTension, asShear]) {
      expect(rebound!.low).toBeLessThanOrEqual(one!.fraction + 1e-9);
      expect(rebound!.high).toBeGreaterThanOrEqual(one!.fraction - 1e-9);
      expect(grip!.low).toBeLessThanOrEqual(other!.frictionCoefficient + 1e-9);
      expect(grip!.high).toBeGreaterThanOrEqual(other!.frictionCoefficient - 1e-9);
    }
  });
});

describe("a phase that was measured warm", () => {
  it("forbids the plain word rubbery, whatever the model's border", () => {
    const material = certainMaterial();
    const use = useAt(10);
    const { outlook } = outlookOf(material, use, exact, null);
    expect(outlook.cold!.verdict).toBe("rubbery");
    const blend = certainMaterial({ glassTransitions: [transition(1, -48, [3])] });
    const judged = outlookOf(blend, use, exact, null);
    expect(judged.outlook.cold!.verdict).toBe("leathery or rubbery");
    expect(judged.notices.find(({ code }) => code === "predict.phase-not-rubbery")!.message).toMatch(
      /peak was measured at 3 °C and 1 Hz .* a part of the compound is not rubbery .*: 10 °C\./,
    );
  });

  it("counts only where it was measured no faster than the contact and the border is not passed", () => {
    const use = useAt(10);
    const verdict = (transitions: GlassTransition[]) =>
      outlookOf(certainMaterial({ glassTransitions: transitions }), use, exact, null).outlook.cold!.verdict;
    expect(verdict([transition(1, -48, [-1])])).toBe("rubbery");
    expect(verdict([transition(1e5, 3)])).toBe("rubbery");
    const low = transition(1, -48, [3]);
    low.furtherPeaks[0].height = 0.1;
    expect(verdict([low])).toBe("rubbery");
  });
});

describe("the compound's own data beside the model", () => {
  const temperatures_C = [-40, -39, -20, -19, -18, 0, 1, 20];

  it("are kept a state for each 5 K and decade, with what the model gives there", () => {
    const material = exampleMaterial();
    const states = measuredStates([measuredAt(material, temperatures_C, 2)], material.model);
    expect(states.map(({ temperature_C }) => temperature_C)).toEqual([-39, -19, 1, 20].map((T) => T));
    for (const state of states) {
      expect(state.storageModulus_Pa / state.modelStorageModulus_Pa).toBeCloseTo(2, 4);
      expect(state.modulusMisfit_ln).toBeCloseTo(Math.log(2), 5);
      expect(state.tanDeltaMisfit_ln).toBeCloseTo(0, 9);
    }
    expect(measuredStates([measuredAt(material, temperatures_C, 2)], null)).toEqual([]);
    const sheared = { ...measuredAt(material, temperatures_C, 2), deformation: "shear" as const };
    expect(measuredStates([sheared], material.model)).toEqual([]);
  });

  it("speak up where the model misses them", () => {
    const material = exampleMaterial();
    const fitting = measuredStates([measuredAt(material, temperatures_C, 1.1)], material.model);
    const missing = measuredStates([measuredAt(material, temperatures_C, 2)], material.model);
    const found = (states: typeof fitting, T: number) => {
      const { outlook, notices } = outlookOf({ ...material, measuredStates: states }, useAt(T), exact, null);
      return {
        nearest_C: outlook.nearestMeasurement?.temperature_C ?? null,
        messages: notices.filter(({ code }) => code === "predict.model-misses-data").map((n) => n.message),
      };
    };
    expect(found(fitting, -20)).toEqual({ nearest_C: -19, messages: [] });
    expect(found(missing, -20).messages[0]).toMatch(
      /near −20 °C, at −19 °C and 1 Hz, M′ 29.0 MPa .* the model has 14.5 MPa .* \|M\*\| is 2.0 times the model's/,
    );
    expect(found(missing, -29)).toEqual({ nearest_C: null, messages: [] });
  });

  it("are chosen near in temperature first, then near the contact frequency", () => {
    const state = (temperature_C: number, frequency_Hz: number) => ({
      ...measuredStates([measuredAt(exampleMaterial(), [0], 1)], exampleMaterial().model)[0],
      temperature_C,
      frequency_Hz,
    });
    const states = [state(0, 0.1), state(0, 100), state(4, 300)];
    expect(nearestMeasurement(states, 0, 200)!.frequency_Hz).toBe(100);
    expect(nearestMeasurement(states, 3, 200)!.frequency_Hz).toBe(300);
    expect(nearestMeasurement(states, -6, 200)).toBeNull();
    expect(nearestMeasurement([], 0, 200)).toBeNull();
  });
});

describe("an interval that stands on a part of the draws", () => {
  it("is said to be too narrow", () => {
    const material = certainMaterial();
    const short = { ...material.model!, highestReducedFrequency_Hz: 1e-9 };
    const draws = material.draws.map((model, i) => (i % 3 === 0 ? short : model));
    const doubt = (one: Material) =>
      outlookOf(one, useAt(-10), exact, null).outlook.transitionAtContact!.lossModulusPeak.reason;
    expect(doubt({ ...material, draws })).toMatch(
      /too many of the equally likely models .* outside what was measured/,
    );
    expect(doubt(material)).toBeNull();
    expect(areTooFew([1, 2, Number.NaN])).toBe(true);
    expect(areTooFew([1, 2, 3, 4, Number.NaN])).toBe(false);
    expect(areTooFew([])).toBe(false);
  });
});
