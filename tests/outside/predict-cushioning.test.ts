import { describe, expect, it } from "vitest";
import { pendulumImpact } from "../../src/predict/default-uses.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import { cushioningOf } from "../../src/predict/rebound/cushioning.js";
import { padFactor_m, predictRebound } from "../../src/predict/rebound/rebound.js";
import type { ImpactContact } from "../../src/predict/use.js";

const none = new Float64Array();
const elastic = { equilibriumModulus_Pa: 6e6, times_s: none, moduli_Pa: none };

/** To 0.1 %. */
const within = (value: number, expected: number) => expect(Math.abs(value / expected - 1)).toBeLessThan(1e-3);

describe("cushioning of an elastic body", () => {
  // Sphere on a half-space, Hertz (Johnson, Contact Mechanics, 1985, section 11.4); the figures were had with SciPy's
  // integration at 1e-11: 0.255 kg, 1.98 m/s, radius 7.5 mm, E 6 MPa, ν 0.5.
  it("is Hertz's for a sphere on thick rubber", () => {
    const impact = predictRebound(elastic, pendulumImpact, settings);
    const { peakForce_N, peakDeceleration_g, indentation_m, energyAbsorbed_J } = cushioningOf(
      impact,
      pendulumImpact,
    );
    within(1e3 * indentation_m, 4.4925);
    within(peakForce_N, 278.158);
    within(peakDeceleration_g, 111.232);
    within(1e3 * impact.contactTime_s, 6.67812);
    expect(energyAbsorbed_J).toBeLessThan(1e-4);
  });

  // Flat face of 45 mm on a pad of 10 mm, 8.5 kg, 5 J, with the shape factor S = 1.125 of Gent and Lindley (Proc. Inst.
  // Mech. Eng. 173, 111, 1959); a mass on a linear spring, closed form.
  it("is a spring's for a flat face on a pad", () => {
    const pad: ImpactContact = {
      method: "flat face on a pad",
      mass_kg: 8.5,
      speed_m_s: Math.sqrt((2 * 5) / 8.5),
      contact: "flat",
      indenterRadius_m: 0.0225,
      thickness_m: 0.01,
    };
    const impact = predictRebound(elastic, pad, settings);
    const { peakForce_N, peakDeceleration_g, indentation_m } = cushioningOf(impact, pad);
    within(peakForce_N, 5804.93);
    within(peakDeceleration_g, 69.6398);
    within(1e3 * indentation_m, 1.72267);
    within(1e3 * impact.contactTime_s, 4.98956);
    // Without the shape factor the same face would be softer by 1 + 2 S² = 3.53125.
    within((padFactor_m(0.045, 0.01) * 0.01) / (Math.PI * 0.0225 ** 2), 3.53125);
  });

  // Energy: what does not come back was absorbed. One Maxwell element of the table of section 5, c = 0.5: R 0.64859.
  it("absorbs what does not come back", () => {
    const { energyAbsorbed_J } = cushioningOf(
      { fraction: 0.64859, peakForce_N: 0, indentation_m: 0 },
      { mass_kg: 0.255, speed_m_s: 1.98 },
    );
    within(energyAbsorbed_J, 0.35141 * 0.5 * 0.255 * 1.98 ** 2);
  });
});
