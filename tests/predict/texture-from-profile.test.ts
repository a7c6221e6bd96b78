import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/numeric/statistics/random.js";
import { hysteresisFriction } from "../../src/predict/contact/friction.js";
import { roughnessOf } from "../../src/predict/contact/roughness.js";
import { tensileSpectrumAt } from "../../src/predict/contact/tensile-spectrum.js";
import { textureFromProfile } from "../../src/predict/contact/texture-from-profile.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import type { Texture } from "../../src/predict/use.js";
import { exampleModel } from "./example-materials.js";

const asphalt: Texture = {
  name: "made for the test",
  source: "invented",
  rmsHeight_m: 3e-4,
  hurstExponent: 0.8,
  q0_per_m: 1500,
  q1_per_m: 1_000_000,
  measured: null,
};

const settled = (texture: Texture) => {
  const roughness = roughnessOf(texture, settings);
  if (!roughness.ok) throw new Error(roughness.problem.message);
  return roughness.value;
};

/** C1(q) = ∫ C(√(q² + y²)) dy by a plain sum: what a line across the isotropic texture shows. */
function lineSpectrum(q: number): number {
  const { q0_per_m, q1_per_m, spectrum_m4 } = settled(asphalt);
  let sum = 0;
  const step = 0.002;
  for (let t = step / 2; q * Math.cosh(t) < q1_per_m; t += step) {
    const radius = q * Math.cosh(t);
    // y = q sinh t, dy = q cosh t dt.
    if (radius > q0_per_m) sum += 2 * spectrum_m4(radius) * radius * step;
  }
  return sum;
}

/** A line of random phases across that texture, 80 mm long, tilted and lifted. */
function profile(seed: number, count = 8000, step_m = 1e-5) {
  const random = seededRandom(seed);
  const length_m = count * step_m;
  const position_m = new Float64Array(count);
  const height_m = new Float64Array(count);
  const modeStep = (2 * Math.PI) / length_m;
  for (let i = 0; i < count; i++) {
    position_m[i] = 0.02 + i * step_m;
    height_m[i] = 1e-3 + 0.01 * position_m[i];
  }
  for (let k = 1; k < count / 2; k++) {
    const q = k * modeStep;
    // Two-sided C1: a²/2 = 2 C1 dq.
    const amplitude = Math.sqrt(4 * lineSpectrum(q) * modeStep);
    const phase = 2 * Math.PI * random.uniform();
    // Recurrence for cos(q x + phase): a sum of thousands of waves stays quick.
    const turn = 2 * Math.cos(q * step_m);
    let before = Math.cos(phase - q * step_m);
    let here = Math.cos(phase);
    for (let i = 0; i < count; i++) {
      height_m[i] += amplitude * here;
      const next = turn * here - before;
      before = here;
      here = next;
    }
  }
  return { name: "line", source: "invented", position_m, height_m };
}

describe("texture from a profile", () => {
  const line = profile(3);
  const result = textureFromProfile(line);
  if (!result.ok) throw new Error(result.problem.message);
  const { texture, notices } = result.value;

  it("takes tilt and offset away and finds the height", () => {
    expect(notices).toEqual([]);
    // The shortest wave numbers carry most of the height, and a line holds few of them.
    expect(Math.abs(texture.rmsHeight_m / 3e-4 - 1)).toBeLessThan(0.1);
  });

  // One line holds few long waves, so three are averaged: the bias is looked for, not the noise.
  it("finds the isotropic spectrum within 20 % in every bin and 5 % on average, inside its band", () => {
    const { spectrum_m4 } = settled(asphalt);
    const lines = [3, 4, 5].map((seed) => {
      const one = textureFromProfile(profile(seed));
      if (!one.ok) throw new Error(one.problem.message);
      return one.value.texture.measured!;
    });
    const ratios = lines[0].wavenumber_per_m.flatMap((q, i) => {
      const mean = lines.reduce((sum, one) => sum + one.spectrum_m4[i], 0) / lines.length;
      return q > 4000 && q < 200_000 ? [mean / spectrum_m4(q)] : [];
    });
    expect(ratios.length).toBeGreaterThan(8);
    for (const ratio of ratios) expect(Math.abs(ratio - 1)).toBeLessThan(0.2);
    const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
    expect(Math.abs(mean - 1)).toBeLessThan(0.05);
  });

  it("finds the Hurst exponent of its fine part", () => {
    expect(Math.abs(texture.hurstExponent - 0.8)).toBeLessThan(0.1);
  });

  it("gives the friction of the texture it was cut from within 10 %", () => {
    const spectrum = tensileSpectrumAt(exampleModel(), -10, settings);
    const friction = (roughness: ReturnType<typeof settled>) =>
      hysteresisFriction(spectrum, { speed_m_s: 0.3, pressure_Pa: 3e5, roughness }, settings)
        .frictionCoefficient;
    const q1_per_m = 25_000;
    const known = friction({ ...settled(asphalt), q1_per_m });
    const measured = friction(settled({ ...texture, q1_per_m }));
    expect(Math.abs(measured / known - 1)).toBeLessThan(0.1);
  });

  it("puts uneven steps on even ones, says so, and keeps the coarse spectrum", () => {
    const random = seededRandom(9);
    const kept = [...line.position_m.keys()].filter(() => random.uniform() > 0.2);
    const uneven = textureFromProfile({
      ...line,
      position_m: kept.map((i) => line.position_m[i]).reverse(),
      height_m: kept.map((i) => line.height_m[i]).reverse(),
    });
    if (!uneven.ok) throw new Error(uneven.problem.message);
    expect(uneven.value.notices.map((notice) => notice.code)).toEqual(["predict.texture-profile-resampled"]);
    expect(uneven.value.texture.rmsHeight_m / texture.rmsHeight_m).toBeCloseTo(1, 2);
  });
});

describe("a profile that cannot be used", () => {
  const ramp = Float64Array.from({ length: 100 }, (_, i) => i * 1e-5);
  const wave = ramp.map((x) => 1e-5 * Math.sin(3e4 * x));
  const message = (position_m: ArrayLike<number>, height_m: ArrayLike<number>) => {
    const result = textureFromProfile({ name: "line", source: "", position_m, height_m });
    return result.ok ? "" : `${result.problem.code}: ${result.problem.message}`;
  };

  it("says what is wrong", () => {
    expect(message(ramp, wave.subarray(1))).toContain("100 positions and 99 heights");
    expect(message(ramp.subarray(0, 20), wave.subarray(0, 20))).toContain("20 points, 64 or more");
    expect(message(ramp, wave.with(41, Number.NaN))).toContain("point 42 is");
    expect(message(ramp.with(7, ramp[6]), wave)).toContain("two points share the position");
    expect(message(ramp, ramp)).toContain("a straight line");
  });
});
