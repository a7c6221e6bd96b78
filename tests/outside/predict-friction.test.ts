import { describe, expect, it } from "vitest";
import { errorFunction } from "../../src/numeric/error-function.js";
import { contactAreaRatio, contactIntegral } from "../../src/predict/contact/contact-share.js";
import { frictionOverRoughness, hysteresisFriction } from "../../src/predict/contact/friction.js";
import { angleIntegrals } from "../../src/predict/contact/hysteresis-angles.js";
import { roughnessOf } from "../../src/predict/contact/roughness.js";
import { namedTexture } from "../../src/predict/contact/textures.js";
import { defaultPredictionSettings } from "../../src/predict/prediction-settings.js";
import { tensileModulus } from "../../src/predict/rebound/rebound.js";

function roughnessWithSlope(slope: number) {
  const texture = {
    name: "check",
    source: "invented",
    rmsHeight_m: 1e-3,
    hurstExponent: 0.8,
    q0_per_m: 1500,
    q1_per_m: 1e7,
    measured: null,
  };
  const unit = roughnessOf(texture, defaultPredictionSettings);
  if (!unit.ok) throw new Error(unit.problem.message);
  const scaled = { ...texture, rmsHeight_m: (1e-3 * slope) / unit.value.rmsSlope };
  const roughness = roughnessOf(scaled, defaultPredictionSettings);
  if (!roughness.ok) throw new Error(roughness.problem.message);
  return roughness.value;
}

// Abramowitz and Stegun, Handbook of Mathematical Functions, Table 7.1.
it.each([
  [0.1, 0.112462916],
  [0.5, 0.5204998778],
  [1, 0.8427007929],
  [1.5, 0.9661051465],
  [2, 0.995322265],
])("errorFunction(%f) is the tabulated one", (x, value) => {
  expect(errorFunction(x)).toBeCloseTo(value, 9);
});

// Derived from Persson's formulas (J. Chem. Phys. 115, 3840, 2001) for E = 10 MPa, σ0 = 10 kPa, ν = 0.5,
// rms slope 15.272, a light load.
describe("closed forms at light load", () => {
  const sliding = { speed_m_s: 1, pressure_Pa: 1e4, roughness: roughnessWithSlope(15.272) };

  it("an elastic solid has no hysteresis friction and the contact area √(8/π) σ0 (1−ν²)/(E h′)", () => {
    const spectrum = {
      equilibriumModulus_Pa: 1e7,
      times_s: new Float64Array(),
      moduli_Pa: new Float64Array(),
    };
    const friction = hysteresisFriction(spectrum, sliding, defaultPredictionSettings);
    expect(friction.frictionCoefficient).toBe(0);
    expect(friction.contactFrequency_Hz).toBeNull();
    expect(Math.abs(friction.contactAreaRatio / 7.8365e-5 - 1)).toBeLessThan(1e-3);
  });

  it("a constant loss angle with S = 1 gives μ = 8/(π√(2π)) h′ sin δ", () => {
    const delta = Math.atan(0.3);
    const magnitude_Pa = 1e7;
    const constantAngle = () => ({
      lossModulus_Pa: 4 * magnitude_Pa * Math.sin(delta),
      magnitude_Pa2: 2 * Math.PI * magnitude_Pa ** 2,
    });
    const settings = { ...defaultPredictionSettings, contactShare: 1 };
    const friction = frictionOverRoughness(constantAngle, sliding, settings);
    expect(Math.abs(friction.frictionCoefficient / 4.458 - 1)).toBeLessThan(1e-3);
    const closed = (8 / (Math.PI * Math.sqrt(2 * Math.PI))) * 15.272 * Math.sin(delta);
    expect(Math.abs(friction.frictionCoefficient / closed - 1)).toBeLessThan(5e-4);
  });
});

describe("angle integrals", () => {
  // ∫₀^{2π} cos φ Im E(w cos φ) dφ and ∫₀^{2π} |E(w cos φ)|² dφ summed directly, as the friction formula defines them, on four thousand midpoints of a quarter turn.
  it("in closed form are the sums over the angle", () => {
    const spectrum = {
      equilibriumModulus_Pa: 4e6,
      times_s: Float64Array.of(1e-5, 3e-4, 3.1e-4, 1e-2),
      moduli_Pa: Float64Array.of(8e8, 3e7, 2e7, 5e6),
    };
    for (const w of [1, 200, 3e3, 1e5, 1e7]) {
      let loss = 0;
      let magnitude = 0;
      const count = 4000;
      for (let i = 0; i < count; i++) {
        const c = Math.cos((Math.PI / 2) * ((i + 0.5) / count));
        const { storageModulus_Pa, lossModulus_Pa } = tensileModulus(spectrum, w * c);
        loss += (2 * Math.PI * c * lossModulus_Pa) / count;
        magnitude += (2 * Math.PI * (storageModulus_Pa ** 2 + lossModulus_Pa ** 2)) / count;
      }
      const closed = angleIntegrals(spectrum)(w);
      expect(closed.lossModulus_Pa / loss).toBeCloseTo(1, 3);
      expect(closed.magnitude_Pa2 / magnitude).toBeCloseTo(1, 3);
    }
  });
});

describe("the integral of the contact share", () => {
  it("has S P for its slope at every load", () => {
    for (const share of [0, 0.5, 1]) {
      for (const G of [1e-4, 0.02, 0.3, 1, 5, 100, 1e5]) {
        const nudge = 1e-4 * G;
        const slope = (contactIntegral(G + nudge, share) - contactIntegral(G - nudge, share)) / (2 * nudge);
        const P = contactAreaRatio(G);
        expect(slope / (P * (share + (1 - share) * P * P))).toBeCloseTo(1, 4);
      }
    }
  });
});

describe("self-affine texture", () => {
  // 2π ∫ q C dq = h_rms² and 2π ∫ q³ C dq = slope², summed directly on a fine grid.
  it("carries the stated height and reaches the slope at its cut-off", () => {
    const texture = namedTexture("worn asphalt");
    const roughness = roughnessOf(texture!, defaultPredictionSettings);
    if (!roughness.ok) throw new Error(roughness.problem.message);
    const { q0_per_m, q1_per_m, spectrum_m4, rmsSlope, cutOff } = roughness.value;
    const count = 20000;
    const step = Math.log(q1_per_m / q0_per_m) / count;
    let height2 = 0;
    let slope2 = 0;
    for (let i = 0; i < count; i++) {
      const q = q0_per_m * Math.exp((i + 0.5) * step);
      height2 += 2 * Math.PI * q ** 2 * spectrum_m4(q) * step;
      slope2 += 2 * Math.PI * q ** 4 * spectrum_m4(q) * step;
    }
    expect(Math.sqrt(height2) / 3e-4).toBeCloseTo(1, 5);
    expect(Math.sqrt(slope2)).toBeCloseTo(1.3, 5);
    expect(rmsSlope).toBeCloseTo(1.3, 6);
    expect(cutOff).toBe("from the slope");
  });
});
