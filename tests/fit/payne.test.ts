import { describe, expect, it } from "vitest";
import type { PayneEffect } from "../../src/fit/material.js";
import { linearRangeNotices } from "../../src/fit/network/linear-range.js";
import { payneEffects } from "../../src/fit/network/payne.js";
import {
  filledRubber,
  krausLimitOfLinearity,
  krausStorage_Pa,
  makeStrainSweep,
  type StrainSweepMaking,
} from "../make/kraus-sweep.js";
import { makeSweep, wedgeMaterials, wedgeModel } from "../make/wedge-material.js";

const effectOf = (making: StrainSweepMaking = {}): PayneEffect =>
  payneEffects([makeStrainSweep(filledRubber, making)]).effects[0];
const codesOf = (making: StrainSweepMaking) =>
  payneEffects([makeStrainSweep(filledRubber, making)]).notices.map(({ code }) => code);
const trueAmplitude_Pa = krausStorage_Pa(filledRubber, 1e-4) - krausStorage_Pa(filledRubber, 1);
const trueLimit = krausLimitOfLinearity(filledRubber, 1e-4);

describe("the Payne effect of a known curve", () => {
  it("comes back without noise: amplitude, limit of linearity and strain of the loss maximum", () => {
    const effect = effectOf();
    expect(effect.amplitude_Pa.value / trueAmplitude_Pa).toBeCloseTo(1, 2);
    expect(effect.limitOfLinearity!.value / trueLimit).toBeCloseTo(1, 1);
    expect(effect.lossMaximumStrain!.value / filledRubber.criticalStrain).toBeCloseTo(1, 1);
    expect(effect.relativeAmplitude).toBeCloseTo(trueAmplitude_Pa / krausStorage_Pa(filledRubber, 1e-4), 2);
    expect(effect).toMatchObject({
      levelAtSmallest: true,
      points: 25,
      path: "strain.csv",
      deformation: "shear",
    });
  });

  it("is inside its 95 % interval about as often as it says", () => {
    let amplitudes = 0;
    let limits = 0;
    let maxima = 0;
    const runs = 60;
    for (let seed = 1; seed <= runs; seed++) {
      const { amplitude_Pa, limitOfLinearity, lossMaximumStrain } = effectOf({ noise: 0.01, seed });
      const holds = (interval: PayneEffect["limitOfLinearity"], truth: number) =>
        interval !== null && interval.low! <= truth && interval.high! >= truth;
      if (holds(amplitude_Pa, trueAmplitude_Pa)) amplitudes++;
      if (holds(limitOfLinearity, trueLimit)) limits++;
      if (holds(lossMaximumStrain, filledRubber.criticalStrain)) maxima++;
    }
    console.info(`covered of ${runs}: amplitude ${amplitudes}, limit ${limits}, loss maximum ${maxima}`);
    for (const covered of [amplitudes, limits, maxima]) expect(covered).toBeGreaterThanOrEqual(0.85 * runs);
  });

  it("has no limit and no loss maximum where the sweep stays linear, and says so", () => {
    const effect = effectOf({ from: 1e-5, to: 2e-4 });
    expect(effect.limitOfLinearity).toBeNull();
    expect(effect.lossMaximumStrain).toBeNull();
    expect(codesOf({ from: 1e-5, to: 2e-4 })).toContain("fit.linear-throughout");
  });

  it("says where it does not start or end on a level", () => {
    expect(effectOf({ from: 5e-3 }).levelAtSmallest).toBe(false);
    expect(codesOf({ from: 5e-3 })).toContain("fit.strain-sweep-starts-late");
    expect(codesOf({ to: 0.01 })).toContain("fit.strain-sweep-ends-early");
    expect(codesOf({})).not.toContain("fit.strain-sweep-starts-late");
  });

  it("is read by straight lines and without interval from a few strains", () => {
    const strains = [0.0001, 0.001, 0.003, 0.1];
    const effect = effectOf({ strains });
    const [a, b, c] = strains.map((strain) => Math.log(krausStorage_Pa(filledRubber, strain)));
    const border = a + Math.log(0.95);
    const [from, to] = border > b ? [0, 1] : [1, 2];
    const ends = [a, b, c];
    const share = (ends[from] - border) / (ends[from] - ends[to]);
    const expected = strains[from] * (strains[to] / strains[from]) ** share;
    expect(effect.limitOfLinearity!.value).toBeCloseTo(expected, 12);
    expect(effect.limitOfLinearity!.low).toBeNull();
    expect(effect.amplitude_Pa.value).toBeCloseTo(
      krausStorage_Pa(filledRubber, 0.0001) - krausStorage_Pa(filledRubber, 0.1),
      3,
    );
    expect(codesOf({ strains })).toContain("fit.strain-sweep-coarse");
  });
});

describe("untidy strain sweeps", () => {
  it("are read on the way up only, whatever comes after", () => {
    const up = makeStrainSweep(filledRubber);
    const both = makeStrainSweep(filledRubber, {
      strains: [...up.strainAmplitude!, ...up.strainAmplitude!.toReversed()],
    });
    for (let i = up.strainAmplitude!.length; i < both.storageModulus_Pa.length; i++) {
      both.storageModulus_Pa[i] *= 0.8;
    }
    const { effects, notices } = payneEffects([both]);
    expect(effects).toEqual(payneEffects([up]).effects);
    expect(notices.map(({ code }) => code)).toContain("fit.strain-sweep-returns");
  });

  it("are read when strain falls all along, and with rows that hold nothing", () => {
    const up = makeStrainSweep(filledRubber);
    const down = makeStrainSweep(filledRubber, {
      strains: [...up.strainAmplitude!.toReversed(), 0, Number.NaN],
    });
    expect(payneEffects([down]).effects).toEqual(payneEffects([up]).effects);
  });

  it("part by temperature and frequency", () => {
    const strains = [...makeStrainSweep(filledRubber).strainAmplitude!];
    const sweep = makeStrainSweep(filledRubber, { strains: [...strains, ...strains] });
    sweep.temperature_C.fill(23, strains.length);
    expect(payneEffects([sweep]).effects.map(({ temperature_C }) => temperature_C)).toEqual([60, 23]);
  });

  it("without strain amplitudes or with two of them give a notice and no numbers", () => {
    const bare = { ...makeStrainSweep(filledRubber), strainAmplitude: null };
    const short = makeStrainSweep(filledRubber, { strains: [0.001, 0.01] });
    for (const sweep of [bare, short]) {
      const { effects, notices } = payneEffects([sweep]);
      expect(effects).toEqual([]);
      expect(notices.map(({ code }) => code)).toEqual(["fit.strain-sweep-unusable"]);
      expect(notices[0].path).toBe("strain.csv");
    }
  });
});

describe("a sweep run outside the linear range", () => {
  const effects = payneEffects([makeStrainSweep(filledRubber)]).effects;
  const sweepAt = (strain: number, deformation: "shear" | "tension" = "shear") => {
    const sweep = makeSweep(wedgeModel(wedgeMaterials["natural-rubber-like"]));
    return { ...sweep, deformation, strainAmplitude: sweep.temperature_C.map(() => strain) };
  };

  it("gets a caution that names both strains", () => {
    const [notice, ...others] = linearRangeNotices([sweepAt(0.01)], effects);
    expect(others).toEqual([]);
    expect(notice).toMatchObject({
      severity: "caution",
      code: "fit.outside-linear-range",
      path: "sweep.csv",
    });
    expect(notice.message).toContain("up to 1 %");
    expect(notice.message).toContain(
      `${Number((100 * effects[0].limitOfLinearity!.value).toPrecision(2))} %`,
    );
  });

  it("gets none inside it, and none where the file states no strain", () => {
    expect(linearRangeNotices([sweepAt(trueLimit / 2)], effects)).toEqual([]);
    expect(linearRangeNotices([{ ...sweepAt(1), strainAmplitude: null }], effects)).toEqual([]);
    expect(linearRangeNotices([sweepAt(1)], [])).toEqual([]);
  });

  it("is not judged by strains of another mode", () => {
    expect(linearRangeNotices([sweepAt(0.5, "tension")], effects).map(({ code }) => code)).toEqual([
      "fit.linear-range-unknown",
    ]);
  });

  it("is told where the strain sweep itself ends before it", () => {
    const short = payneEffects([makeStrainSweep(filledRubber, { from: 1e-5, to: 2e-4 })]).effects;
    expect(linearRangeNotices([sweepAt(0.001)], short).map(({ code }) => code)).toEqual([
      "fit.strain-not-covered",
    ]);
  });
});
