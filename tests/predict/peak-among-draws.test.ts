import { describe, expect, it } from "vitest";
import { type BlendCurve, blendStep_K } from "../../src/fit/glass/blend-table.js";
import { normalQuantile } from "../../src/numeric/statistics/normal-quantile.js";
import { peakAmongDraws } from "../../src/predict/cold/peak-among-draws.js";

const loss = (curve: BlendCurve, i: number) => curve.lossModulus_Pa[i];

/** M″ as e to the power of a function of temperature, from the warm end to the cold. */
function curveOf(lnLoss: (temperature_C: number) => number, from_C = 60, to_C = -100): BlendCurve {
  const count = (from_C - to_C) / blendStep_K + 1;
  const lossModulus_Pa = Float64Array.from({ length: count }, (_, i) =>
    Math.exp(lnLoss(from_C - blendStep_K * i)),
  );
  return {
    warmest_C: from_C,
    slowHalfDecade: 5,
    fastHalfDecade: 5,
    storageModulus_Pa: lossModulus_Pa,
    lossModulus_Pa,
  };
}

/** 60 values that stand for a normal distribution of a standard deviation. */
const normalErrors = (deviation: number) =>
  Array.from({ length: 60 }, (_, i) => deviation * normalQuantile((i + 0.5) / 60));
const rootMeanSquare = (errors: number[]) =>
  Math.sqrt(errors.reduce((sum, one) => sum + one * one, 0) / errors.length);

const anyValley = (heightMargin_ln: number) => ({
  heightMargin_ln,
  deepestValley_ln: Number.POSITIVE_INFINITY,
});

const round = (at_C: number) => (T: number) => -0.005 * (T - at_C) ** 2;

describe("where the peak of a blend's curve may stand", () => {
  // Of parabolas of one curvature the slope at T is zero where the peak is: 95 % of normal places lie within 1.96 standard deviations.
  it("of one round hump it is 1.96 standard deviations of its place", () => {
    const errors_K = normalErrors(3);
    const drawn = errors_K.map((error_K) => ({ curve: curveOf(round(-20 + error_K)), warmer_K: 0 }));
    const { low_C, high_C } = peakAmongDraws(curveOf(round(-20)), drawn, loss, -20, anyValley(0.02));
    const half_K = 1.96 * rootMeanSquare(errors_K);
    expect(Math.abs(low_C - (-20 - half_K))).toBeLessThan(0.05);
    expect(Math.abs(high_C - (-20 + half_K))).toBeLessThan(0.05);
  });

  it("a thermometer's error moves it as the peak's own place does", () => {
    const errors_K = normalErrors(1.3);
    const curve = curveOf(round(-20));
    const drawn = errors_K.map((warmer_K) => ({ curve, warmer_K }));
    const { low_C, high_C } = peakAmongDraws(curve, drawn, loss, -20, anyValley(0.02));
    expect(Math.abs(high_C - low_C - 2 * 1.96 * rootMeanSquare(errors_K))).toBeLessThan(0.1);
  });

  /** Two humps, the cold one lower by a difference in ln. */
  const humps = (lower: number) => (T: number) => Math.max(round(10)(T), round(-50)(T) - lower);
  const twoHumps = (lower: number, deviation: number, margin_ln: number, deepestValley_ln = 9) =>
    peakAmongDraws(
      curveOf(humps(lower)),
      normalErrors(deviation).map((error) => ({ curve: curveOf(humps(lower + error)), warmer_K: 0 })),
      loss,
      10,
      { heightMargin_ln: margin_ln, deepestValley_ln },
    );

  it("a further hump counts where its height may be the greatest", () => {
    expect(twoHumps(0.05, 0.03, 0).low_C).toBeCloseTo(-50, 0);
    expect(twoHumps(0.07, 0.03, 0).low_C).toBeCloseTo(10, 0);
    // What the model's misfit leaves open of a ratio of heights comes on top.
    expect(twoHumps(0.07, 0.03, 0.02).low_C).toBeCloseTo(-50, 0);
    expect(twoHumps(0.05, 0.03, 0).high_C).toBeCloseTo(10, 0);
  });

  it("and where no valley parts it so far that it counts for itself", () => {
    // Between 10 and −50 °C the two parabolas cross 4.5 below the tops.
    expect(twoHumps(0, 0.03, 0, 4.6).low_C).toBeCloseTo(-50, 0);
    expect(twoHumps(0, 0.03, 0, 4.4).low_C).toBeCloseTo(10, 0);
  });

  it("is open on the side where it may lie beyond what the draws reach", () => {
    const drawn = normalErrors(5).map((error_K) => ({
      curve: curveOf(round(-20 + error_K), -15),
      warmer_K: 0,
    }));
    const { low_C, high_C } = peakAmongDraws(curveOf(round(-20), -15), drawn, loss, -20, anyValley(0.02));
    expect(high_C).toBe(Number.POSITIVE_INFINITY);
    expect(Math.abs(low_C + 20 + 1.96 * 5)).toBeLessThan(0.4);
  });

  it("without draws it is the model's own place", () => {
    expect(peakAmongDraws(curveOf(round(-20)), [], loss, -20.25, anyValley(0))).toEqual({
      low_C: -20.25,
      high_C: -20.25,
    });
  });
});
