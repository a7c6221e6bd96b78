import { expect, it } from "vitest";
import { log10ShiftFactor } from "../../src/fit/spectrum/shift-law.js";
import { hysteresisFriction } from "../../src/predict/contact/friction.js";
import { roughnessOf } from "../../src/predict/contact/roughness.js";
import { tensileSpectrumAt } from "../../src/predict/contact/tensile-spectrum.js";
import { namedTexture } from "../../src/predict/contact/textures.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import { exampleModel } from "./example-materials.js";

// With no vertical factor the modulus depends on frequency times aT alone, so friction on one texture and
// pressure depends on v·aT alone (Grosch, Proc. R. Soc. A 274, 21, 1963, found it so on rubber; from memory).
it("friction against log(v·aT) at several temperatures falls on one curve with a maximum", () => {
  const model = exampleModel();
  const roughness = roughnessOf(namedTexture("worn asphalt")!, settings);
  if (!roughness.ok) throw new Error(roughness.problem.message);
  const frictionAt = (temperature_C: number, log10vaT: number) =>
    hysteresisFriction(
      tensileSpectrumAt(model, temperature_C, settings),
      {
        speed_m_s: 10 ** (log10vaT - log10ShiftFactor(model.law, temperature_C)),
        pressure_Pa: 3e5,
        roughness: roughness.value,
      },
      settings,
    ).frictionCoefficient;
  const curve: number[] = [];
  for (let log10vaT = -10; log10vaT <= 2; log10vaT += 1) {
    const master = frictionAt(-40, log10vaT);
    for (const temperature_C of [-20, 0, 23, 40]) {
      expect(frictionAt(temperature_C, log10vaT) / master).toBeCloseTo(1, 8);
    }
    curve.push(master);
  }
  const top = curve.indexOf(Math.max(...curve));
  expect(top).toBeGreaterThan(0);
  expect(top).toBeLessThan(curve.length - 1);
  expect(curve[top]).toBeGreaterThan(3 * curve[curve.length - 1]);
});
