import { describe, expect, it } from "vitest";
import { glassAtFrequency } from "../../src/fit/glass/glass-at-frequency.js";
import { superpose } from "../../src/fit/material-of.js";
import { defaultSuperpositionSettings } from "../../src/fit/superposition/superposition-settings.js";
import { intervalAround } from "../../src/numeric/statistics/value-interval.js";
import { isothermSweep, type Truth } from "./synthetic-data.js";

/**
 * An invented rubber in closed form, not from a list of modes: the function of Havriliak and Negami (Polymer 8, 161,
 * 1967) twice, for the transition and for the slow end of the network, moved by a WLF law.
 */
const glass_C = -46;
const truth: Truth = (temperature_C, frequency_Hz) => {
  const above_K = temperature_C - glass_C;
  const omega = 2 * Math.PI * frequency_Hz * 10 ** ((-13.5 * above_K) / (46 + above_K));
  const transition = havriliakNegami(omega * 40, 0.68, 0.5);
  const network = havriliakNegami(omega * 1e5, 0.22, 1);
  return [3.6e6 + 2.2e9 * transition[0] + 1.5e6 * network[0], 2.2e9 * transition[1] + 1.5e6 * network[1]];
};

/** 1 − 1/(1 + (iωτ)^a)^b. */
function havriliakNegami(x: number, a: number, b: number): [number, number] {
  const real = 1 + x ** a * Math.cos((a * Math.PI) / 2);
  const imaginary = x ** a * Math.sin((a * Math.PI) / 2);
  const size = Math.hypot(real, imaginary) ** -b;
  const angle = b * Math.atan2(imaginary, real);
  return [1 - size * Math.cos(angle), size * Math.sin(angle)];
}

const temperatures_C = Array.from({ length: 12 }, (_, k) => glass_C + 1 + 7.5 * k);
const frequencies_Hz = Array.from({ length: 9 }, (_, i) => 10 ** (-0.5 + 0.25 * i));
/** Some contact under a sliding tread: sweeps reach 30 Hz only, superposition carries the peaks there. */
const contact_Hz = 1e4;

/** Temperatures of the tan δ and the M″ peak of a truth, by search in steps of 0.02 K. */
function truePeaks_C(): { tanDelta: number; loss: number } {
  const best = { tanDelta: 0, loss: 0 };
  const peaks = { tanDelta: 0, loss: 0 };
  for (let t = glass_C; t < glass_C + 90; t += 0.02) {
    const [storage, loss] = truth(t, contact_Hz);
    if (loss / storage > best.tanDelta) [best.tanDelta, peaks.tanDelta] = [loss / storage, t];
    if (loss > best.loss) [best.loss, peaks.loss] = [loss, t];
  }
  return peaks;
}

describe("intervals of what the draws predict", { timeout: 120_000 }, () => {
  it("the peaks at the contact frequency lie inside their 95 % intervals in nine of ten sets with 2 % noise", () => {
    const peaks = truePeaks_C();
    const covered = { tanDelta: 0, loss: 0 };
    const width_K = { tanDelta: 0, loss: 0 };
    const sets = 40;
    for (let seed = 1; seed <= sets; seed++) {
      const measured = isothermSweep(temperatures_C, frequencies_Hz, truth, { noise: 0.02, seed });
      const { model, draws } = superpose([measured], [], defaultSuperpositionSettings);
      const best = glassAtFrequency(model!, contact_Hz);
      if ("absent" in best) throw new Error(best.absent);
      const drawn = draws.flatMap((draw) => {
        const glass = glassAtFrequency(draw, contact_Hz);
        return "absent" in glass ? [] : [glass];
      });
      for (const quantity of ["tanDelta", "loss"] as const) {
        const key = quantity === "tanDelta" ? "tanDeltaPeak_C" : "lossModulusPeak_C";
        const { low, high } = intervalAround(
          best[key]!,
          drawn.flatMap((glass) => glass[key] ?? []),
        );
        if (low <= peaks[quantity] && peaks[quantity] <= high) covered[quantity]++;
        width_K[quantity] += (high - low) / sets;
      }
    }
    console.log(`of ${sets}: tan δ peak ${covered.tanDelta}, M″ peak ${covered.loss}; mean width`, width_K);
    // 95 % of 40 is 38; with that coverage 34 or fewer come up in one case of thirty.
    expect(covered.tanDelta).toBeGreaterThanOrEqual(35);
    expect(covered.loss).toBeGreaterThanOrEqual(35);
    // An interval that says nothing would hold the truth as well. At 2 % noise the isotherms do not tell whether a vertical
    // factor of the network alone is at work, so that doubt is in the width too.
    expect(width_K.tanDelta).toBeLessThan(6.5);
    expect(width_K.loss).toBeLessThan(1.5);
  });
});
