import { describe, expect, it } from "vitest";
import { defaultPredictionSettings } from "../../src/predict/prediction-settings.js";
import { hertzContact, linearContact, simulateImpact } from "../../src/predict/rebound/impact.js";
import { contactGeometry, predictRebound } from "../../src/predict/rebound/rebound.js";
import type { ImpactContact } from "../../src/predict/use.js";

const mass_kg = 0.255;
const speed_m_s = 1.98;
const none = new Float64Array();

describe("impact of a mass on a spring beside a Maxwell element", () => {
  // Derived: m ẍ = −(k_e x + q), q̇ = k_1 ẋ − q/τ, k_e = 1e5 N/m, k_1 = c k_e, τ = 1/√((k_e + k_1/2)/m),
  // integrated with SciPy's ODE solver at 1e-10. Columns: c, rebound, contact time in ms.
  const table = [
    [0.05, 0.94992, 4.9349],
    [0.1, 0.90424, 4.8562],
    [0.2, 0.82409, 4.7079],
    [0.5, 0.64859, 4.3229],
    [1, 0.47875, 3.8294],
    [3, 0.2525, 2.7533],
  ];
  it.each(table)("loses what the ODE says for c = %f", (c, rebound, contactTime_ms) => {
    const equilibrium = 1e5;
    const k1 = c * equilibrium;
    const result = simulateImpact(
      {
        equilibrium,
        times_s: Float64Array.of(1 / Math.sqrt((equilibrium + k1 / 2) / mass_kg)),
        strengths: Float64Array.of(k1),
      },
      linearContact,
      mass_kg,
      speed_m_s,
      { expectedContactTime_s: Math.PI * Math.sqrt(mass_kg / equilibrium), steps: 96 },
    );
    expect(Math.abs(result.reboundFraction - rebound)).toBeLessThan(1e-4);
    expect(Math.abs((1e3 * result.contactTime_s) / contactTime_ms - 1)).toBeLessThan(1e-3);
  });
});

describe("impact of a sphere, F = K y with y = x^{3/2}", () => {
  // Derived with scipy_predict.py of this folder for K(t) = 1e6 (1 + c e^{−t/2 ms}) N/m^{3/2}: the plain history
  // integral by SciPy's Radau at 1e-9, the shrinking contact (Ting, J. Appl. Mech. 33, 845, 1966) by sums over the
  // whole history. Columns: c, rebound and contact time in ms with the plain history, then with the shrinking one.
  const table = [
    [0.2, 0.80803, 5.9004, 0.82956, 6.127],
    [1, 0.48772, 4.7496, 0.51736, 5.067],
    [3, 0.34707, 3.5121, 0.36832, 3.7408],
  ];
  it.each(table)(
    "loses what SciPy says for c = %f",
    (c, plain, plainTime_ms, shrinking, shrinkingTime_ms) => {
      const run = (recedes: boolean) =>
        simulateImpact(
          { equilibrium: 1e6, times_s: Float64Array.of(2e-3), strengths: Float64Array.of(c * 1e6) },
          { ...hertzContact, recedes },
          mass_kg,
          speed_m_s,
          { expectedContactTime_s: 5e-3, steps: 96 },
        );
      expect(Math.abs(run(false).reboundFraction - plain)).toBeLessThan(1e-4);
      expect(Math.abs((1e3 * run(false).contactTime_s) / plainTime_ms - 1)).toBeLessThan(1e-3);
      expect(Math.abs(run(true).reboundFraction - shrinking)).toBeLessThan(1e-4);
      expect(Math.abs((1e3 * run(true).contactTime_s) / shrinkingTime_ms - 1)).toBeLessThan(1e-3);
    },
  );
});

describe("elastic impact", () => {
  const spectrum = { equilibriumModulus_Pa: 6e6, times_s: none, moduli_Pa: none };
  const pendulum: ImpactContact = {
    method: "",
    mass_kg,
    speed_m_s,
    contact: "sphere",
    indenterRadius_m: 0.0075,
    thickness_m: null,
  };

  // Contact time 2.94 x/v and deepest indentation (5 m v²/(4 K))^{2/5}, F = K x^{3/2}
  // (Johnson, Contact Mechanics, 1985, section 11.4).
  it("follows Hertz's contact time and depth", () => {
    const K = ((4 / 3) * 6e6 * Math.sqrt(0.0075)) / 0.75;
    const depth_m = ((5 * mass_kg * speed_m_s ** 2) / (4 * K)) ** 0.4;
    const result = predictRebound(spectrum, pendulum, defaultPredictionSettings);
    expect(result.fraction).toBeGreaterThan(1 - 2e-5);
    expect(result.indentation_m / depth_m).toBeCloseTo(1, 4);
    expect((result.contactTime_s * speed_m_s) / depth_m).toBeCloseTo(2.94, 2);
  });

  // Half a period of a mass on a spring.
  it("takes π √(m/k) on a flat face", () => {
    const settings = { ...defaultPredictionSettings, impactContact: "linear" as const };
    const k = (2 * 0.0075 * 6e6) / 0.75;
    const result = predictRebound(spectrum, pendulum, settings);
    expect(result.contactTime_s / (Math.PI * Math.sqrt(mass_kg / k))).toBeCloseTo(1, 5);
    expect(result.fraction).toBeCloseTo(1, 6);
  });

  // The correction for a layer held on a rigid support, Dimitriadis et al., Biophys. J. 82, 2798 (2002), equation
  // for an incompressible bonded layer (constants from memory): at χ = √(Rx)/h = 0.5 the force is 2.0 times Hertz.
  it("is stiffer on a thin layer", () => {
    const { contact } = contactGeometry({ ...pendulum, thickness_m: 0.01 }, defaultPredictionSettings);
    const depth_m = (0.5 * 0.01) ** 2 / 0.0075;
    const expected = 1 + 1.133 * 0.5 + 1.283 * 0.25 + 0.769 * 0.125 + 0.0975 * 0.0625;
    expect(contact.shape(depth_m) / hertzContact.shape(depth_m)).toBeCloseTo(expected, 10);
    const nudge = 1e-6 * depth_m;
    const slope = (contact.shape(depth_m + nudge) - contact.shape(depth_m - nudge)) / (2 * nudge);
    expect(contact.slope(depth_m) / slope).toBeCloseTo(1, 6);
  });
});

// The pendulum of DIN 53512 as public references describe it: 0.5 J, 1.98 m/s, hemisphere 15 mm in diameter.
it("carries the energy of the pendulum's published speed", () => {
  expect(0.5 * mass_kg * speed_m_s ** 2).toBeCloseTo(0.5, 3);
});
