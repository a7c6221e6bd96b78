import { describe, expect, it } from "vitest";
import { fitKraus, fitKrausLoss, krausLoss } from "../../src/fit/network/kraus-curve.js";
import { strainSoftening } from "../../src/fit/network/strain-softening.js";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { filledRubber, krausStorage_Pa, makeStrainSweep } from "../make/kraus-sweep.js";

/** M′ at a strain over that at the smallest, from the formula that made the sweep. */
const trueRatio = (strain: number, smallest: number) =>
  krausStorage_Pa(filledRubber, strain) / krausStorage_Pa(filledRubber, smallest);

describe("the curve of Kraus through a strain sweep", () => {
  it("brings back the constants of a sweep without noise", () => {
    const sweep = makeStrainSweep(filledRubber);
    const curve = fitKraus(sweep.strainAmplitude!, sweep.storageModulus_Pa)!;
    expect(curve.storageAtLarge / filledRubber.limit_Pa).toBeCloseTo(1, 4);
    expect(curve.storageAtRest / (filledRubber.limit_Pa + filledRubber.amplitude_Pa)).toBeCloseTo(1, 4);
    expect(curve.criticalStrain / filledRubber.criticalStrain).toBeCloseTo(1, 3);
    expect(curve.exponent).toBeCloseTo(filledRubber.m, 4);
    const loss = fitKrausLoss(curve, sweep.strainAmplitude!, sweep.lossModulus_Pa)!;
    // At the critical strain M″ has its maximum.
    expect(krausLoss(curve, loss, curve.criticalStrain) / filledRubber.lossMaximum_Pa).toBeCloseTo(1, 4);
  });

  it("tells M′ at the strain of an impact closer than the points do, 2 % noise, 60 seeds", () => {
    let [byCurve, byPoints] = [0, 0];
    for (let seed = 1; seed <= 60; seed++) {
      const sweep = makeStrainSweep(filledRubber, { noise: 0.02, seed, to: 0.3 });
      const strains = sweep.strainAmplitude!;
      // The strain of the sweep nearest to an impact's 15 %.
      const at = strains.findIndex((strain) => strain > 0.15);
      const truth = trueRatio(strains[at], strains[0]);
      byCurve += (strainSoftening([sweep])!.storageRatio[at] / truth - 1) ** 2;
      byPoints += (sweep.storageModulus_Pa[at] / sweep.storageModulus_Pa[0] / truth - 1) ** 2;
    }
    console.log(
      `rms error of M′ at 15 %: ${Math.sqrt(byCurve / 60).toFixed(4)} by the curve, ${Math.sqrt(byPoints / 60).toFixed(4)} by the points`,
    );
    expect(Math.sqrt(byCurve / 60)).toBeLessThan(0.6 * Math.sqrt(byPoints / 60));
  });

  it("is carried on to twice the largest strain, within 5 % of the truth there", () => {
    const sweep = makeStrainSweep(filledRubber, { to: 0.1, noise: 0.005, seed: 4 });
    const { strain, storageRatio } = strainSoftening([sweep])!;
    expect(strain.at(-1)).toBeCloseTo(0.2, 9);
    expect(storageRatio.at(-1)! / trueRatio(0.2, strain[0])).toBeGreaterThan(0.95);
    expect(storageRatio.at(-1)! / trueRatio(0.2, strain[0])).toBeLessThan(1.05);
  });

  it("is not drawn through points that do not follow it, nor through a handful", () => {
    const strains = [0.001, 0.003, 0.01, 0.03, 0.1, 0.3, 1];
    const stepped = [3e6, 3e6, 3e6, 3e6, 1e6, 1e6, 1e6];
    expect(fitKraus(strains, stepped)).toBeNull();
    expect(fitKraus(strains.slice(0, 5), [3e6, 2.9e6, 2.5e6, 2e6, 1.7e6])).toBeNull();
    expect(
      fitKraus(
        strains,
        strains.map(() => 1e6),
      ),
    ).toBeNull();
    const sweep: DynamicMeasurement = {
      ...makeStrainSweep(filledRubber, { strains }),
      storageModulus_Pa: Float64Array.from(stepped),
    };
    const softening = strainSoftening([sweep])!;
    expect(softening.strain).toEqual(strains);
    expect(softening.storageRatio).toEqual(stepped.map((value) => value / 3e6));
  });
});
