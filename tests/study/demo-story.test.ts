import { describe, expect, it } from "vitest";
import { hysteresisFriction } from "../../src/predict/contact/friction.js";
import { roughnessOf } from "../../src/predict/contact/roughness.js";
import { tensileSpectrumAt } from "../../src/predict/contact/tensile-spectrum.js";
import { defaultPredictionSettings } from "../../src/predict/prediction-settings.js";
import { type CompoundModel, compoundModel } from "../../src/study/demo/compound-model.js";
import {
  alderN,
  birch60,
  type DemoCompound,
  juniper55,
  lindenPU,
  mapleDuo,
  rowanW,
  spruceH,
} from "../../src/study/demo/compounds.js";
import { exactRebound } from "../../src/study/demo/rebound-table.js";

/** What the demo is to show, held against the exact models: not against what a fit makes of the files. */
const treads = [birch60, rowanW, alderN, spruceH, lindenPU, mapleDuo, juniper55];
const settings = defaultPredictionSettings;
const wornAsphalt = roughnessOf(
  {
    name: "worn asphalt",
    source: "the default of the program",
    rmsHeight_m: 0.3e-3,
    hurstExponent: 0.8,
    q0_per_m: 1500,
    q1_per_m: null,
    measured: null,
  },
  settings,
);

function slide(compound: DemoCompound, temperature_C: number) {
  if (!wornAsphalt.ok) throw new Error(wornAsphalt.problem.message);
  const spectrum = tensileSpectrumAt(compoundModel(compound).modelAt(temperature_C), temperature_C, settings);
  const sliding = { speed_m_s: 0.3, pressure_Pa: 0.3e6, roughness: wornAsphalt.value };
  return hysteresisFriction(spectrum, sliding, settings);
}

function lossModulusPeak_C(model: CompoundModel, frequency_Hz: number): number {
  let best_C = Number.NaN;
  let best_Pa = 0;
  for (let temperature_C = -100; temperature_C <= 60; temperature_C += 0.1) {
    const { lossModulus_Pa } = model.complexModulus(temperature_C, frequency_Hz);
    if (lossModulus_Pa > best_Pa) {
      best_Pa = lossModulus_Pa;
      best_C = temperature_C;
    }
  }
  return best_C;
}

/** Kelvin above the glassy border in sliding contact. */
function marginToGlassy_K(compound: DemoCompound, temperature_C: number): number {
  const frequency_Hz = slide(compound, temperature_C).contactFrequency_Hz;
  expect(frequency_Hz).not.toBeNull();
  return temperature_C - lossModulusPeak_C(compoundModel(compound), frequency_Hz!);
}

describe("the story of the demo", () => {
  it("gives the best grip at +5 °C to the compound that is glassy at −20 °C", () => {
    const grip = treads.map((compound) => slide(compound, 5).frictionCoefficient);
    expect(treads[grip.indexOf(Math.max(...grip))].name).toBe("Spruce H");
    expect([...grip].sort((a, b) => b - a)[0] / [...grip].sort((a, b) => b - a)[1]).toBeGreaterThan(1.2);
    expect(marginToGlassy_K(spruceH, -20)).toBeLessThan(-4);
    expect(marginToGlassy_K(spruceH, 5)).toBeGreaterThan(4);
  });

  it("keeps the winter compound rubbery at −30 °C, with the lowest grip at +5 °C", () => {
    expect(marginToGlassy_K(rowanW, -30)).toBeGreaterThan(30);
    const grip = treads.map((compound) => slide(compound, 5).frictionCoefficient);
    expect(treads[grip.indexOf(Math.min(...grip))].name).toBe("Rowan W");
  });

  it("makes grip cost rebound at +5 °C", () => {
    const byGrip = [...treads].sort(
      (a, b) => slide(a, 5).frictionCoefficient - slide(b, 5).frictionCoefficient,
    );
    expect(exactRebound(byGrip[0], 5)).toBeGreaterThan(0.7);
    expect(exactRebound(byGrip[byGrip.length - 1], 5)).toBeLessThan(0.3);
  });

  it("lifts the glass transition from the 1 Hz of the laboratory to the frequency of the contact by 8 to 15 K", () => {
    const model = compoundModel(spruceH);
    const inContact_C = lossModulusPeak_C(model, slide(spruceH, 5).contactFrequency_Hz!);
    const lift_K = inContact_C - lossModulusPeak_C(model, 1);
    expect(lift_K).toBeGreaterThan(8);
    expect(lift_K).toBeLessThan(15);
  });
});
