import { beforeAll, describe, expect, it } from "vitest";
import { log10ShiftFactor } from "../../src/fit/spectrum/shift-law.js";
import { hysteresisFriction } from "../../src/predict/contact/friction.js";
import { angleIntegrals } from "../../src/predict/contact/hysteresis-angles.js";
import { roughnessOf } from "../../src/predict/contact/roughness.js";
import { tensileSpectrumAt } from "../../src/predict/contact/tensile-spectrum.js";
import { namedTexture } from "../../src/predict/contact/textures.js";
import { pendulumImpact } from "../../src/predict/default-uses.js";
import { defaultPredictionSettings, type PredictionSettings } from "../../src/predict/prediction-settings.js";
import { hertzContact, linearContact, simulateImpact } from "../../src/predict/rebound/impact.js";
import { contactGeometry, predictRebound } from "../../src/predict/rebound/rebound.js";
import { exampleModel } from "../predict/example-materials.js";
import { runPython, withoutSciPy } from "./python.js";

interface Answer {
  impacts: { reboundFraction: number; contactTime_s: number }[];
  receding: { reboundFraction: number; contactTime_s: number }[];
  angles: [number, number][];
  friction: { frictionCoefficient: number; contactAreaRatio: number }[];
}

const settings = defaultPredictionSettings;
const model = exampleModel();
const atReference = tensileSpectrumAt(model, model.law.referenceTemperature_C, settings);
const roughness = (() => {
  const settled = roughnessOf(namedTexture("worn asphalt")!, settings);
  if (!settled.ok) throw new Error(settled.problem.message);
  return settled.value;
})();
const speeds_m_s = [0.01, 0.3, 3];
const temperatures_C = [23, 0, -10, -20, -30];
const states = speeds_m_s.flatMap((speed_m_s) =>
  temperatures_C.map((temperature_C) => ({ speed_m_s, temperature_C })),
);
const frequencies_rad_s = [1e-6, 1e-3, 1, 300, 1e6];

function impactCase(temperature_C: number, impactContact: PredictionSettings["impactContact"]) {
  const spectrum = tensileSpectrumAt(model, temperature_C, settings);
  const { factor } = contactGeometry(pendulumImpact, { ...settings, impactContact });
  const stiffness = {
    equilibrium: factor * spectrum.equilibriumModulus_Pa,
    times_s: spectrum.times_s,
    strengths: spectrum.moduli_Pa.map((modulus_Pa) => factor * modulus_Pa),
  };
  return { temperature_C, impactContact, stiffness };
}

const impactCases = [23, -20, -35].flatMap((temperature_C) => [
  impactCase(temperature_C, "spherical, plain history"),
  impactCase(temperature_C, "linear"),
]);

const recedingCases = [23, -10, -20, -40];
const predictedAt = (temperature_C: number) =>
  predictRebound(tensileSpectrumAt(model, temperature_C, settings), pendulumImpact, settings);

describe.skipIf(withoutSciPy)("prediction against SciPy", () => {
  let answer: Answer;
  beforeAll(() => {
    answer = runPython<Answer>("scipy_predict.py", {
      spectrum: {
        equilibriumModulus_Pa: atReference.equilibriumModulus_Pa,
        times_s: [...atReference.times_s],
        moduli_Pa: [...atReference.moduli_Pa],
      },
      frequencies_rad_s,
      texture: { ...namedTexture("worn asphalt")!, q1_per_m: roughness.q1_per_m },
      pressure_Pa: 3e5,
      cases: states.map(({ speed_m_s, temperature_C }) => ({
        speed_m_s,
        log10aT: log10ShiftFactor(model.law, temperature_C),
      })),
      impacts: impactCases.map(({ impactContact, stiffness }) => ({
        equilibrium: stiffness.equilibrium,
        times_s: [...stiffness.times_s],
        strengths: [...stiffness.strengths],
        power: impactContact === "linear" ? 1 : 1.5,
        mass_kg: pendulumImpact.mass_kg,
        speed_m_s: pendulumImpact.speed_m_s,
      })),
      receding: recedingCases.map((temperature_C) => {
        const { stiffness } = impactCase(temperature_C, "spherical");
        return {
          equilibrium: stiffness.equilibrium,
          times_s: [...stiffness.times_s],
          strengths: [...stiffness.strengths],
          power: 1.5,
          mass_kg: pendulumImpact.mass_kg,
          speed_m_s: pendulumImpact.speed_m_s,
          contactTime_s: predictedAt(temperature_C).contactTime_s,
        };
      }),
    });
  }, 240_000);

  it("angle integrals in closed form are those of quad", () => {
    const at = angleIntegrals(atReference);
    frequencies_rad_s.forEach((frequency_rad_s, i) => {
      const { lossModulus_Pa, magnitude_Pa2 } = at(frequency_rad_s);
      expect(Math.abs(lossModulus_Pa / answer.angles[i][0] - 1)).toBeLessThan(1e-6);
      expect(Math.abs(magnitude_Pa2 / answer.angles[i][1] - 1)).toBeLessThan(1e-6);
    });
  });

  it("friction and contact area at three speeds and five temperatures are those of quad to 0.5 %", () => {
    let worst = 0;
    states.forEach(({ speed_m_s, temperature_C }, i) => {
      const friction = hysteresisFriction(
        tensileSpectrumAt(model, temperature_C, settings),
        { speed_m_s, pressure_Pa: 3e5, roughness },
        settings,
      );
      worst = Math.max(
        worst,
        Math.abs(friction.frictionCoefficient / answer.friction[i].frictionCoefficient - 1),
        Math.abs(friction.contactAreaRatio / answer.friction[i].contactAreaRatio - 1),
      );
    });
    expect(worst).toBeLessThan(1e-3);
  });

  it("impacts through the whole spectrum are those of the stiff ODE solver", () => {
    impactCases.forEach(({ impactContact, stiffness }, i) => {
      const result = simulateImpact(
        stiffness,
        impactContact === "linear" ? linearContact : { ...hertzContact, recedes: false },
        pendulumImpact.mass_kg,
        pendulumImpact.speed_m_s,
        { expectedContactTime_s: answer.impacts[i].contactTime_s, steps: settings.impactSteps },
      );
      expect(Math.abs(result.reboundFraction - answer.impacts[i].reboundFraction)).toBeLessThan(3e-4);
      expect(Math.abs(result.contactTime_s / answer.impacts[i].contactTime_s - 1)).toBeLessThan(1e-3);
    });
  });

  it("a sphere's shrinking contact is that of sums over the whole history", () => {
    recedingCases.forEach((temperature_C, i) => {
      const result = predictedAt(temperature_C);
      expect(Math.abs(result.fraction - answer.receding[i].reboundFraction)).toBeLessThan(3e-4);
      expect(Math.abs(result.contactTime_s / answer.receding[i].contactTime_s - 1)).toBeLessThan(1e-3);
    });
  });
});
