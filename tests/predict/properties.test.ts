import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { glassAtFrequency } from "../../src/fit/glass/glass-at-frequency.js";
import type { RelaxationModel } from "../../src/fit/spectrum/relaxation-model.js";
import { hysteresisFriction } from "../../src/predict/contact/friction.js";
import { roughnessOf } from "../../src/predict/contact/roughness.js";
import { type TensileSpectrum, tensileSpectrumAt } from "../../src/predict/contact/tensile-spectrum.js";
import { namedTexture } from "../../src/predict/contact/textures.js";
import { defaultUses, pendulumImpact } from "../../src/predict/default-uses.js";
import type { ColdVerdict } from "../../src/predict/outlook.js";
import { outlookOf } from "../../src/predict/outlook-of.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import { hertzContact, linearContact, simulateImpact } from "../../src/predict/rebound/impact.js";
import { predictRebound } from "../../src/predict/rebound/rebound.js";
import { exampleMaterial, exampleModel } from "./example-materials.js";

const runs = { seed: 20240117, numRuns: 60 };
const number = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });

/** A body of one to six modes within three decades of the contact. */
const bodies = fc.record({
  equilibriumModulus_Pa: number(1e6, 1e8),
  modes: fc.array(fc.record({ decade: number(-6, 0), share: number(0, 2) }), { minLength: 1, maxLength: 6 }),
});
type Body = { equilibriumModulus_Pa: number; modes: { decade: number; share: number }[] };

const spectrumOf = ({ equilibriumModulus_Pa, modes }: Body): TensileSpectrum => ({
  equilibriumModulus_Pa,
  times_s: Float64Array.from(modes, ({ decade }) => 10 ** decade),
  moduli_Pa: Float64Array.from(modes, ({ share }) => share * equilibriumModulus_Pa),
});

describe("rebound", () => {
  // tan δ is raised with nothing else changed: a mode at the contact's own time, on the linear and Hertz contact.
  it("never rises with more loss", () => {
    fc.assert(
      fc.property(number(0, 3), number(0.01, 1), fc.boolean(), (share, more, hertz) => {
        const equilibrium = 1e5;
        const rebound = (strength: number) =>
          simulateImpact(
            {
              equilibrium,
              times_s: Float64Array.of(1.5e-3),
              strengths: Float64Array.of(strength * equilibrium),
            },
            hertz ? hertzContact : linearContact,
            0.255,
            1.98,
            { expectedContactTime_s: hertz ? 1e-2 : 5e-3, steps: 96 },
          ).reboundFraction;
        expect(rebound(share + more)).toBeLessThanOrEqual(rebound(share) + 1e-6);
      }),
      runs,
    );
  });

  it("lies between 0 and 1 for any body, and the contact ends", () => {
    fc.assert(
      fc.property(bodies, (body) => {
        const result = predictRebound(spectrumOf(body), pendulumImpact, settings);
        expect(result.fraction).toBeGreaterThanOrEqual(0);
        expect(result.fraction).toBeLessThanOrEqual(1);
        expect(result.contactTime_s).toBeGreaterThan(0);
        expect(result.contactTime_s).toBeLessThan(20 * result.textbookContactTime_s);
      }),
      runs,
    );
  });

  it("is 1 for an elastic solid", () => {
    fc.assert(
      fc.property(
        number(1e5, 1e10),
        fc.constantFrom("linear" as const, "spherical" as const),
        (modulus, kind) => {
          const elastic = {
            equilibriumModulus_Pa: modulus,
            times_s: new Float64Array(),
            moduli_Pa: new Float64Array(),
          };
          const result = predictRebound(elastic, pendulumImpact, { ...settings, impactContact: kind });
          expect(Math.abs(result.fraction - 1)).toBeLessThan(1e-4);
          expect(result.textbookFraction).toBe(1);
        },
      ),
      runs,
    );
  });
});

const scaled = (model: RelaxationModel, factor: number): RelaxationModel => ({
  ...model,
  equilibriumModulus_Pa: model.equilibriumModulus_Pa * factor,
  moduli_Pa: model.moduli_Pa.map((modulus_Pa) => modulus_Pa * factor),
});

describe("scaling all moduli", () => {
  // Rebound depends on the moduli through the contact time alone: with mass and modulus scaled together it is
  // the same, and the textbook value at a fixed contact frequency is exp(−π tan δ) whatever the scale.
  it("leaves the textbook rebound unchanged at the same contact frequency", () => {
    fc.assert(
      fc.property(number(0.1, 10), number(-40, 23), (factor, temperature_C) => {
        const model = exampleModel();
        const textbook = (one: RelaxationModel, mass_kg: number) =>
          predictRebound(
            tensileSpectrumAt(one, temperature_C, settings),
            { ...pendulumImpact, mass_kg },
            {
              ...settings,
              impactContact: "linear",
            },
          ).textbookFraction;
        expect(textbook(scaled(model, factor), 0.255 * factor)).toBeCloseTo(textbook(model, 0.255), 7);
      }),
      runs,
    );
  });

  it("leaves the glass transition unchanged", () => {
    fc.assert(
      fc.property(number(0.1, 10), number(0, 4), (factor, decade) => {
        const before = glassAtFrequency(exampleModel(), 10 ** decade);
        const after = glassAtFrequency(scaled(exampleModel(), factor), 10 ** decade);
        if ("absent" in before || "absent" in after) throw new Error("no transition found");
        expect(after.tanDeltaPeak_C).toBeCloseTo(before.tanDeltaPeak_C, 8);
        expect(after.lossModulusPeak_C!).toBeCloseTo(before.lossModulusPeak_C!, 8);
      }),
      runs,
    );
  });
});

describe("cold", () => {
  const rank: Record<ColdVerdict, number> = {
    glassy: 0,
    "glassy or leathery": 1,
    leathery: 2,
    "leathery or rubbery": 3,
    rubbery: 4,
  };

  it("a colder use never has a warmer verdict", () => {
    fc.assert(
      fc.property(
        number(-75, -20),
        number(-60, 30),
        number(0.1, 40),
        fc.constantFrom(0, 8),
        (glass, warm, by, draws) => {
          const material = exampleMaterial(
            { glassTemperature_C: glass, lowestTemperature_C: glass - 40 },
            draws,
          );
          const at = (temperature_C: number) =>
            outlookOf(material, { ...defaultUses()[0], temperature_C }, settings, null).outlook.cold!;
          expect(rank[at(warm - by).verdict]).toBeLessThanOrEqual(rank[at(warm).verdict]);
        },
      ),
      { ...runs, numRuns: 40 },
    );
  });
});

describe("friction", () => {
  const sliding = (rmsHeight_m: number) => {
    const texture = { ...namedTexture("worn asphalt")!, rmsHeight_m, q1_per_m: 25_000 };
    const roughness = roughnessOf(texture, settings);
    if (!roughness.ok) throw new Error(roughness.problem.message);
    return { speed_m_s: 0.3, pressure_Pa: 3e5, roughness: roughness.value };
  };

  it("grows with the texture's slope", () => {
    fc.assert(
      fc.property(bodies, number(1e-5, 5e-4), number(1.05, 5), (body, height_m, factor) => {
        fc.pre(body.modes.some(({ share }) => share > 0.01));
        const friction = (rmsHeight_m: number) =>
          hysteresisFriction(spectrumOf(body), sliding(rmsHeight_m), settings).frictionCoefficient;
        expect(friction(height_m * factor)).toBeGreaterThan(friction(height_m));
      }),
      runs,
    );
  });

  it("of an elastic solid is zero on any texture", () => {
    fc.assert(
      fc.property(number(1e5, 1e10), number(1e-6, 1e-3), (modulus, height_m) => {
        const elastic = {
          equilibriumModulus_Pa: modulus,
          times_s: new Float64Array(),
          moduli_Pa: new Float64Array(),
        };
        expect(hysteresisFriction(elastic, sliding(height_m), settings).frictionCoefficient).toBe(0);
      }),
      runs,
    );
  });

  it("keeps the contact share between 0 and 1 and grows with the cut-off", () => {
    fc.assert(
      fc.property(bodies, number(1e-5, 5e-4), (body, height_m) => {
        const result = hysteresisFriction(spectrumOf(body), sliding(height_m), settings);
        expect(result.contactAreaRatio).toBeGreaterThan(0);
        expect(result.contactAreaRatio).toBeLessThanOrEqual(1);
        const { halved, doubled } = result.cutOffSensitivity;
        expect(halved).toBeLessThanOrEqual(result.frictionCoefficient);
        expect(doubled).toBeGreaterThanOrEqual(result.frictionCoefficient);
      }),
      runs,
    );
  });
});
