import { describe, expect, it } from "vitest";
import { glassTransitions } from "../../src/fit/glass/glass-transition.js";
import { softeningOf } from "../../src/fit/network/softening.js";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { makeSweep, type SweepMaking, wedgeMaterials, wedgeModel } from "../make/wedge-material.js";

const rubber = wedgeModel(wedgeMaterials["natural-rubber-like"]);
const softensAt_C = 92;

/**
 * A rubber whose network is entropic, M′ ∝ T, and lets go about 92 °C: M′/T by 1/(1 + e^((T − 92 °C)/4 K)), half at
 * 92 °C itself; tan δ rises with what has let go.
 */
function softeningSweep(making: SweepMaking = {}, isLossRising = true): DynamicMeasurement {
  const sweep = makeSweep(rubber, { to_C: 110, ...making });
  const left = sweep.temperature_C.map((T) => 1 / (1 + Math.exp((T - softensAt_C) / 4)));
  const entropic = sweep.temperature_C.map((T) => (T + 273.15) / 293.15);
  return {
    ...sweep,
    storageModulus_Pa: sweep.storageModulus_Pa.map((modulus, i) => modulus * entropic[i] * left[i]),
    lossModulus_Pa: sweep.lossModulus_Pa.map((modulus, i) => {
      const lost = isLossRising ? 0.4 * (1 - left[i]) : 0;
      return (modulus + lost * sweep.storageModulus_Pa[i]) * entropic[i] * left[i];
    }),
  };
}

const softening = (...sweeps: DynamicMeasurement[]) =>
  softeningOf(
    sweeps,
    sweeps.flatMap((sweep) => glassTransitions(sweep).transitions),
    { seed: 1, draws: 100 },
  );

describe("softening at the warm end", () => {
  it("is where M′/T has fallen to half of its plateau's, with an interval that holds it about as often as it says", () => {
    let covered = 0;
    const runs = 20;
    for (let seed = 1; seed <= runs; seed++) {
      const found = softening(softeningSweep({ noise: 0.01, seed }))!;
      expect(found.bracketed).toBe(true);
      expect(Math.abs(found.temperature_C! - softensAt_C)).toBeLessThan(1);
      if (found.low_C! <= softensAt_C && softensAt_C <= found.high_C!) covered++;
    }
    expect(covered).toBeGreaterThanOrEqual(16);
  });

  it("is a bound where the data end before it", () => {
    expect(softening(softeningSweep({ to_C: 70 }))).toMatchObject({
      ...{ temperature_C: null, high_C: null, bracketed: false },
      low_C: 70,
    });
  });

  it("is none where M′ falls without the loss rising, or where no plateau is seen", () => {
    expect(softening(softeningSweep({}, false))).toBeNull();
    expect(softening(softeningSweep({ to_C: -20 }))).toBeNull();
  });
});
