import { describe, expect, it } from "vitest";
import { glassAtFrequency } from "../../src/fit/glass/glass-at-frequency.js";
import { glassTransitionsFromIsotherms } from "../../src/fit/glass/glass-transition.js";
import { superpose } from "../../src/fit/material-of.js";
import type { RelaxationModel } from "../../src/fit/spectrum/relaxation-model.js";
import { superposeIsotherms } from "../../src/fit/superposition/superpose.js";
import { defaultSuperpositionSettings } from "../../src/fit/superposition/superposition-settings.js";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { quantile } from "../../src/numeric/statistics/quantile.js";
import { densePeak_C, havriliakNegami, narrowIsotherms } from "../make/havriliak-negami.js";

function superposed(measurement: DynamicMeasurement, draws: number) {
  const settings = { ...defaultSuperpositionSettings, draws };
  const { transitions } = glassTransitionsFromIsotherms([measurement]);
  const before = superposeIsotherms([measurement], measurement.deformation, transitions, settings);
  return { before, after: superpose([measurement], transitions, settings) };
}

/** The tan δ peak at a contact's frequency; null where the model has none inside what was measured. */
function peak_C(model: RelaxationModel, frequency_Hz: number): number | null {
  const found = glassAtFrequency(model, frequency_Hz);
  return "absent" in found ? null : found.tanDeltaPeak_C;
}

describe("isotherms from 5 to 15 Hz every 5 K, too narrow to overlap in the glass transition", () => {
  it("end above the transition where they are shifted by their overlap alone", () => {
    const { before } = superposed(narrowIsotherms(), 0);
    expect(before.model === null || peak_C(before.model, 200) === null).toBe(true);
  });

  it("are placed by the compound's own law; the peak at 200 Hz lies in its interval", () => {
    const truth_C = densePeak_C(havriliakNegami, 200, "tan delta");
    let held = 0;
    for (let seed = 1; seed <= 12; seed++) {
      const { after } = superposed(narrowIsotherms({ seed }), 40);
      const value = peak_C(after.model!, 200)!;
      const drawn = after.draws.map((draw) => peak_C(draw, 200)).filter((one) => one !== null);
      drawn.sort((a, b) => a - b);
      const assumedToo = after.superposition!.source === "assumed" ? 12 : 3;
      expect(Math.abs(value - truth_C), `seed ${seed}`).toBeLessThan(assumedToo);
      if (quantile(drawn, 0.025) <= truth_C && truth_C <= quantile(drawn, 0.975)) held++;
      expect(after.notices.map(({ code }) => code)).toContain("fit.isotherms-placed-by-law");
      expect(after.notices.map(({ code }) => code)).not.toContain("fit.isotherms-left-out");
    }
    // At 95 %, 8 or fewer of 12 would come once in several thousand.
    expect(held).toBeGreaterThanOrEqual(9);
  }, 60_000);

  it("have all their points on the master curve and a Tg", () => {
    const measurement = narrowIsotherms({ seed: 3 });
    const { superposition } = superposed(measurement, 0).after;
    expect(superposition!.source).toBe("fitted");
    expect(superposition!.masterCurve!.temperature_C).toHaveLength(measurement.temperature_C.length);
    // The closed form's own Tg is −46 °C.
    expect(Math.abs(superposition!.derived!.glassTemperature_C! + 46)).toBeLessThan(6);
    expect(superposition!.rmsLog10!).toBeLessThan(0.01);
  });

  it("fall back on assumed constants where both moduli contradict the law in the cold", () => {
    const measurement = narrowIsotherms({ seed: 3 });
    for (let i = 0; i < measurement.temperature_C.length; i++) {
      if (measurement.temperature_C[i] < -20) measurement.lossModulus_Pa[i] *= 0.4;
    }
    const { after } = superposed(measurement, 0);
    expect(after.superposition?.source).not.toBe("fitted");
  });

  it("at one frequency take assumed constants on the Tg read across them", () => {
    const { before, after } = superposed(narrowIsotherms({ frequencies_Hz: [10] }), 20);
    expect(before.model).toBeNull();
    expect(after.superposition!.source).toBe("assumed");
    expect(peak_C(after.model!, 100)).not.toBeNull();
  });
});

it("a master curve that reaches the transition stays as it is", () => {
  const wide = narrowIsotherms({ frequencies_Hz: [0.1, 0.32, 1, 3.2, 10, 32, 100], from_C: -50 });
  const { before, after } = superposed(wide, 0);
  expect(after.model).toEqual(before.model);
  expect(after.superposition).toEqual(before.superposition);
});

it("isotherms of a rubber far above its transition stay as they are", () => {
  const { before, after } = superposed(narrowIsotherms({ from_C: 0, to_C: 60 }), 0);
  expect(after.model).toEqual(before.model);
  expect(after.superposition).toEqual(before.superposition);
});
