import { describe, expect, it } from "vitest";
import type { ReboundMeasurement } from "../../src/io/measurement.js";
import { tensileSpectrumAt } from "../../src/predict/contact/tensile-spectrum.js";
import { pendulumImpact } from "../../src/predict/default-uses.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import { calibrateRebound } from "../../src/predict/rebound/calibrate-rebound.js";
import { predictRebound } from "../../src/predict/rebound/rebound.js";
import { medianAfterConditioning, reduceRebound } from "../../src/predict/rebound/rebound-readings.js";
import { reboundBesideSweep } from "../../src/predict/rebound-beside-sweep.js";
import { exampleMaterial } from "./example-materials.js";

function measured(
  rows: [number, number[]][],
  method: string | null = "ISO 4662 pendulum",
): ReboundMeasurement {
  return {
    kind: "rebound",
    sample: "Hazel 55",
    method,
    readings: rows.map(([temperature_C, fractions], i) => ({ temperature_C, fractions, line: i + 2 })),
    provenance: {
      file: "rebound.csv",
      sheet: null,
      section: null,
      firstLine: 2,
      lastLine: rows.length + 1,
      columns: [],
    },
  };
}

// ISO 4662: three to seven conditioning impacts, then the median of three readings (from memory).
describe("reducing impacts", () => {
  it("takes the median of the last three", () => {
    expect(medianAfterConditioning([0.5, 0.52, 0.54, 0.56, 0.6, 0.57])).toEqual({
      fraction: 0.57,
      readings: 3,
      conditioningImpacts: 3,
    });
    expect(medianAfterConditioning([0.5, 0.6])).toEqual({
      fraction: 0.55,
      readings: 2,
      conditioningImpacts: 0,
    });
    expect(medianAfterConditioning([Number.NaN])).toBeNull();
  });

  it("keeps methods apart and says which it used", () => {
    const pendulum = measured([[23, [0.5]]], "ISO 4662 pendulum");
    const dropped = measured(
      [
        [23, [0.6]],
        [0, [0.5]],
      ],
      "ASTM D2632 vertical rebound",
    );
    const reduced = reduceRebound([dropped, pendulum], "pendulum as in ISO 4662");
    expect(reduced.method).toBe("ISO 4662 pendulum");
    expect(reduced.points.map((point) => point.fraction)).toEqual([0.5]);
    expect(reduced.notices[0].message).toContain('only "ISO 4662 pendulum" is used');
    const alone = reduceRebound([dropped], "pendulum as in ISO 4662");
    expect(alone.points).toEqual([]);
    expect(alone.notices[0].code).toBe("predict.rebound-methods-differ");
    expect(reduceRebound([dropped, pendulum], null).method).toBe("ASTM D2632 vertical rebound");
  });

  it("names a reading that it cannot use, with its line", () => {
    const { points, notices } = reduceRebound(
      [
        measured([
          [Number.NaN, [0.5]],
          [0, [1.4]],
          [23, [0.5, 1.5]],
        ]),
      ],
      null,
    );
    expect(points).toHaveLength(1);
    expect(notices.map((notice) => notice.message)).toEqual([
      "The rebound reading in line 2 of rebound.csv is not used: it states no temperature.",
      "The rebound reading in line 3 of rebound.csv is not used: it has no value between 0 and 1.",
      "In line 4 of rebound.csv the rebound value 1.5 is not between 0 and 1; it is left out and the others are kept.",
    ]);
  });
});

describe("measured rebound beside the sweep, where no calibration is had", () => {
  const material = exampleMaterial({}, 40);
  const beside = (rows: [number, number[]][]) =>
    reboundBesideSweep(material, [measured(rows)], pendulumImpact, settings);
  const own = (T: number) =>
    predictRebound(tensileSpectrumAt(material.model!, T, settings), pendulumImpact, settings).fraction;

  it("contradicts it where it lies outside the interval of the prediction, and is said with both numbers", () => {
    const notice = beside([
      [10, [own(10)]],
      [23, [0.98]],
    ])!;
    expect(notice.code).toBe("predict.rebound-contradicts-sweep");
    expect(notice.severity).toBe("caution");
    expect(notice.message).toContain(
      `98.0 % measured at 23 °C, ${(100 * own(23)).toFixed(0)} % from the sweep (95 %:`,
    );
    expect(notice.message).not.toContain("at 10 °C");
  });

  it("does not inside it, nor where the sweep predicts nothing", () => {
    expect(beside([[23, [own(23) - 0.01]]])).toBeNull();
    expect(beside([[200, [0.01]]])).toBeNull();
  });

  it("does not where its own scatter reaches the interval", () => {
    expect(beside([[23, [0.05, 0.98, own(23)]]])).toBeNull();
  });
});

describe("calibration", () => {
  const material = exampleMaterial();
  const predicted = (temperature_C: number, factor: number) =>
    predictRebound(
      tensileSpectrumAt(material.model!, temperature_C, settings),
      pendulumImpact,
      settings,
      factor,
    ).fraction;
  const temperatures_C = [-20, -10, 0, 10, 23, 40];

  it("finds the factor that readings were made with", () => {
    const rows = temperatures_C.map((T): [number, number[]] => [T, [predicted(T, 1.8)]]);
    const { calibration, notices } = calibrateRebound(material, [measured(rows)], pendulumImpact, settings);
    expect(notices).toEqual([]);
    expect(calibration!.stiffnessFactor / 1.8).toBeCloseTo(1, 2);
    expect(calibration!.leaveOneOutError!).toBeLessThan(1e-3);
    expect(calibration!.uncalibratedError).toBeGreaterThan(10 * calibration!.leaveOneOutError!);
    expect(calibration!.readings).toHaveLength(6);
    expect(calibration!.readings[0].calibratedFraction).toBeCloseTo(
      calibration!.readings[0].measuredFraction,
      3,
    );
  });

  it("holds the true factor in its interval when readings scatter, and leaves each out in turn", () => {
    const scatter = [0.012, -0.015, 0.008, 0.011, -0.013, 0.006];
    const rows = temperatures_C.map((T, i): [number, number[]] => [T, [predicted(T, 0.7) + scatter[i]]]);
    const { calibration } = calibrateRebound(material, [measured(rows)], pendulumImpact, settings);
    expect(calibration!.low).toBeLessThan(0.7);
    expect(calibration!.high).toBeGreaterThan(0.7);
    // A reading left out is predicted worse than one fitted.
    const fitted = Math.sqrt(
      calibration!.readings.reduce((sum, r) => sum + (r.calibratedFraction - r.measuredFraction) ** 2, 0) / 6,
    );
    expect(calibration!.leaveOneOutError!).toBeGreaterThan(fitted);
    expect(calibration!.leaveOneOutError!).toBeLessThan(0.03);
  });

  // Energy that no contact returns, or that every contact loses: the best factor lies beyond what is tried.
  it.each([
    ["springier than any factor makes it", (T: number) => 0.985 + 0.0001 * (T % 7)],
    ["deader than any factor makes it", () => 0.002],
  ])("that runs into its limit is none: readings %s", (_, fraction) => {
    const rows = temperatures_C.map((T): [number, number[]] => [T, [fraction(T)]]);
    const { calibration, notices } = calibrateRebound(material, [measured(rows)], pendulumImpact, settings);
    expect(calibration).toBeNull();
    const weak = notices.find(({ code }) => code === "predict.calibration-weak")!;
    expect(weak.message).toContain("runs into its limit");
    expect(weak.message).toContain("No calibration is used");
  });

  it("is none where its interval runs into the limit: a reading that no stiffness moves, of a scatter that fits any loss", () => {
    const rows = [0, 10, 23].map((T, i): [number, number[]] => [T, [[0.9, 0.12, 0.8][i]]]);
    const { calibration } = calibrateRebound(material, [measured(rows)], pendulumImpact, settings);
    expect(calibration).toBeNull();
  });

  it("finds a factor on the loss where the readings were made with one, by what it predicts of readings left out", () => {
    const rows = temperatures_C.map((T): [number, number[]] => [T, [predicted(T, 1) ** 1.5]]);
    const { calibration } = calibrateRebound(material, [measured(rows)], pendulumImpact, settings);
    expect(calibration!.lossFactor! / 1.5).toBeCloseTo(1, 1);
    expect(calibration!.stiffnessFactor).toBeCloseTo(1, 3);
    expect(calibration!.leaveOneOutError!).toBeLessThan(1e-3);
  });

  it("finds both where the readings were made with both", () => {
    const rows = temperatures_C.map((T): [number, number[]] => [T, [predicted(T, 2.5) ** 1.4]]);
    const { calibration } = calibrateRebound(material, [measured(rows)], pendulumImpact, settings);
    expect(calibration!.lossFactor! / 1.4).toBeCloseTo(1, 1);
    expect(calibration!.stiffnessFactor / 2.5).toBeCloseTo(1, 1);
    expect(calibration!.leaveOneOutError!).toBeLessThan(2e-3);
  });

  it("takes readings of one row that contradict one another for tests of their own, which settle nothing", () => {
    const contrary = [measured([[0, [0.25, 0.8]]])];
    const [point] = reduceRebound(contrary, null).points;
    expect(point).toMatchObject({ tests: 2, low: 0, high: 1 });
    expect(reduceRebound([measured([[0, [0.25, 0.28]]])], null).points[0]).toMatchObject({
      tests: 1,
      low: null,
    });
    expect(calibrateRebound(material, contrary, pendulumImpact, settings).calibration).toBeNull();
  });

  it("gives the loss the interval of the spread between tests, not that of what the stiffness would move", () => {
    const fraction =
      predictRebound(tensileSpectrumAt(material.model!, 20, settings), pendulumImpact, settings).fraction **
      0.4;
    const rows = [-0.01, 0, 0.01].map((away): [number, number[]] => [20, [fraction + away]]);
    const { calibration } = calibrateRebound(material, [measured(rows)], pendulumImpact, settings);
    expect(calibration!.lossFactor! / 0.4).toBeCloseTo(1, 2);
    // By hand: deviation 0.01, t for two degrees of freedom 4.303; R^λ moves by R^λ ln R^λ with ln λ.
    const half = (4.303 * 0.01) / Math.sqrt(3);
    expect(calibration!.lossLogStandardError).toBeCloseTo(
      half / 1.96 / Math.abs(fraction * Math.log(fraction)),
      3,
    );
  });

  it("believes one reading alone less far from the sweep than two", () => {
    const spectrum = (temperature_C: number) => tensileSpectrumAt(material.model!, temperature_C, settings);
    const third = (temperature_C: number): [number, number[]] => [
      temperature_C,
      [predictRebound(spectrum(temperature_C), pendulumImpact, settings).fraction ** 0.35],
    ];
    const calibrated = (...temperatures_C: number[]) =>
      calibrateRebound(material, [measured(temperatures_C.map(third))], pendulumImpact, settings);
    expect(calibrated(10, 20, 30).calibration!.lossFactor! / 0.35).toBeCloseTo(1, 1);
    const alone = calibrated(20);
    expect(alone.calibration).toBeNull();
    expect(alone.notices.at(-1)!.message).toContain("(1/3.2 to 3.2 on the stiffness, 1/2 to 2 on the loss)");
  });

  it("says so where there is one reading, or none in reach", () => {
    const one = calibrateRebound(material, [measured([[0, [0.5]]])], pendulumImpact, settings);
    expect(one.calibration!.leaveOneOutError).toBeNull();
    expect(one.notices.map((notice) => notice.code)).toContain("predict.calibration-single-reading");
    expect(one.notices.at(-1)!.message).toMatch(
      /\(50\s%, where the sweep alone gives \d+\s%\): its error cannot/,
    );
    const far = calibrateRebound(material, [measured([[150, [0.5]]])], pendulumImpact, settings);
    expect(far.calibration).toBeNull();
    expect(far.notices.map((notice) => notice.code)).toEqual([
      "predict.rebound-readings-skipped",
      "predict.rebound-not-calibrated",
    ]);
    const unmeasured = { ...material, model: null };
    expect(
      calibrateRebound(unmeasured, [measured([[0, [0.5]]])], pendulumImpact, settings).calibration,
    ).toBeNull();
  });
});
