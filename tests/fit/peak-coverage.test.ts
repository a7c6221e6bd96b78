import { describe, expect, it } from "vitest";
import { glassTransitions } from "../../src/fit/glass/glass-transition.js";
import { estimatePeak, expectedScatter, roundPeak } from "../../src/fit/glass/peak.js";
import { complexModulus } from "../../src/fit/spectrum/relaxation-model.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";
import { densePeak_C, havriliakNegami, measure } from "../make/havriliak-negami.js";
import { wedgeMaterials, wedgeModel } from "../make/wedge-material.js";

const wedge = (name: string) => {
  const model = wedgeModel(wedgeMaterials[name]);
  return (temperature_C: number, frequency_Hz: number) => complexModulus(model, temperature_C, frequency_Hz);
};
const shapes = {
  "Havriliak-Negami": havriliakNegami,
  "natural-rubber-like wedge": wedge("natural-rubber-like"),
  "styrene-butadiene-like wedge": wedge("styrene-butadiene-like"),
};
const quantities = ["tan delta", "loss modulus"] as const;
const seeds = 100;

/** How many of 100 intervals hold the exact peak of the curve that the sweeps were made from. */
function held(modulus: typeof havriliakNegami, step_K: number, noise: number) {
  const counts = { "tan delta": 0, "loss modulus": 0 };
  const truth_C = quantities.map((quantity) => densePeak_C(modulus, 10, quantity));
  for (let seed = 1; seed <= seeds; seed++) {
    const [transition] = glassTransitions(measure(modulus, { step_K, noise, seed })).transitions;
    for (const [i, peak] of [transition.tanDeltaPeak, transition.lossModulusPeak].entries()) {
      if (peak?.low_C == null || peak.high_C === null) continue;
      if (peak.low_C <= truth_C[i] && truth_C[i] <= peak.high_C) counts[quantities[i]]++;
    }
  }
  return counts;
}

describe("95 % intervals of measured peaks, 100 sweeps each, every sweep on a grid of its own", () => {
  // A binomial count of 100 at 95 % lies within 88 and 100 in all but one of a thousand; 84 leaves room for the
  // sweeps whose smoothing is off by as much as their noise.
  it.each(Object.entries(shapes))("of a %s spectrum hold the truth at every noise and step", (_, modulus) => {
    const sums = { "tan delta": 0, "loss modulus": 0 };
    for (const step_K of [1, 2]) {
      for (const noise of [0.005, 0.01, 0.03]) {
        const counts = held(modulus, step_K, noise);
        for (const quantity of quantities) {
          expect(counts[quantity], `${quantity}, ${step_K} K, noise ${noise}`).toBeGreaterThanOrEqual(84);
          sums[quantity] += counts[quantity];
        }
      }
    }
    for (const quantity of quantities) {
      expect(sums[quantity] / 6, quantity).toBeGreaterThanOrEqual(91);
      expect(sums[quantity] / 6, quantity).toBeLessThanOrEqual(99);
    }
  });

  it.each(Object.entries(shapes))("of a %s spectrum in 5 K steps too", (_, modulus) => {
    const counts = held(modulus, 5, 0.01);
    for (const quantity of quantities) expect(counts[quantity], quantity).toBeGreaterThanOrEqual(84);
  });
});

describe("a tan δ peak of two humps in coarse steps", () => {
  // Two relaxations 9 K apart under one peak, as compounds with a slow tail have them: log-normal in temperature, one on the
  // other, so that the maximum stands 3 to 5 K beside the middle of the peak.
  const tanDelta = (t: number) =>
    0.02 + 1.5 * Math.exp(-(((t + 20.5) / 6) ** 2)) + 1.8 * Math.exp(-(((t + 11.5) / 6) ** 2));
  const truth_C = (() => {
    let best = -20;
    for (let t = -20; t < 0; t += 0.01) if (tanDelta(t) > tanDelta(best)) best = t;
    return best;
  })();

  it.each([3, 4, 5, 6])("in steps of %d K its interval holds the truth, on 100 grids", (step_K) => {
    let held = 0;
    let widths = 0;
    for (let seed = 1; seed <= seeds; seed++) {
      const random = seededRandom(7000 + seed);
      for (let i = 0; i < 20; i++) random.uniform();
      const offset_K = step_K * random.uniform();
      const x = Float64Array.from(
        { length: Math.floor(100 / step_K) },
        (_, i) => -70 + offset_K + step_K * i,
      );
      const y = x.map((t) => Math.log(tanDelta(t)) + 0.014 * random.normal());
      const highest = y.indexOf(Math.max(...y));
      const peak = estimatePeak(x, y, highest, roundPeak);
      if (peak === null) continue;
      widths += (peak.high - peak.low) / seeds;
      if (peak.low <= truth_C && truth_C <= peak.high) held++;
    }
    console.log({ step_K, truth_C, held, width_K: widths });
    expect(held).toBeGreaterThanOrEqual(88);
    expect(widths).toBeLessThan(2 * step_K);
  });
});

describe("a narrow tan δ peak with unlike flanks", () => {
  // tan δ = 1/(exp(−t/a) + exp(t/b)) is greatest where both terms' slopes are alike: t = ln(b/a)/(1/a + 1/b). Beside such a
  // top the flanks are steep and nearly straight; a regression that also saw three rows of them beyond its window followed
  // them, and put the peak towards the flatter one by 0.12 K.
  it.each([
    [3.5, 6],
    [6, 3],
    [9, 4],
  ])("that rises over %d K and falls over %d K stands where it is said to, on 200 grids", (a, b) => {
    const truth_C = Math.log(b / a) / (1 / a + 1 / b);
    const grids = 200;
    let held = 0;
    let bias_K = 0;
    for (let seed = 1; seed <= grids; seed++) {
      const random = seededRandom(4000 + seed);
      for (let i = 0; i < 20; i++) random.uniform();
      const offset_K = 2 * random.uniform();
      const x = Float64Array.from({ length: 50 }, (_, i) => -50 + offset_K + 2 * i);
      const y = x.map((t) => -Math.log(Math.exp(-t / a) + Math.exp(t / b)) + 0.014 * random.normal());
      const { position, low, high } = estimatePeak(x, y, y.indexOf(Math.max(...y)), roundPeak)!;
      bias_K += (position - truth_C) / grids;
      if (low <= truth_C && truth_C <= high) held++;
    }
    console.log({ a, b, truth_C, held, bias_K });
    // 181 or more in all but one of a thousand at 95 %.
    expect(held).toBeGreaterThanOrEqual(181);
    expect(Math.abs(bias_K)).toBeLessThan(0.1);
  });

  it("is expected to scatter as a good instrument does, or as its curve does where that is more", () => {
    const random = seededRandom(11);
    const x = Float64Array.from({ length: 400 }, (_, i) => i);
    const scattering = (by: number) =>
      expectedScatter(
        x,
        x.map((t) => 0.01 * t + by * random.normal()),
      );
    expect(scattering(0.004).scatter).toBe(0.012);
    // The median of 400 deviations scatters by some 6 % (normal errors).
    expect(scattering(0.05).scatter / 0.05).toBeGreaterThan(0.8);
    expect(scattering(0.05).scatter / 0.05).toBeLessThan(1.2);
  });
});
