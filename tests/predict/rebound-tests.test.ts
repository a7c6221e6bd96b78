import { describe, expect, it } from "vitest";
import type { ReboundMeasurement } from "../../src/io/measurement.js";
import { readText } from "../../src/io/read-text.js";
import { tensileSpectrumAt } from "../../src/predict/contact/tensile-spectrum.js";
import { pendulumImpact } from "../../src/predict/default-uses.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import { calibrateRebound } from "../../src/predict/rebound/calibrate-rebound.js";
import { poolRebound } from "../../src/predict/rebound/pool-rebound.js";
import { predictRebound } from "../../src/predict/rebound/rebound.js";
import { reboundMethodOf } from "../../src/predict/rebound/rebound-method.js";
import { reduceRebound } from "../../src/predict/rebound/rebound-readings.js";
import { exampleMaterial } from "./example-materials.js";

function rebounds(text: string): ReboundMeasurement[] {
  const outcome = readText(text, "invented.csv");
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problem));
  return outcome.value.measurements as ReboundMeasurement[];
}

const iso = "ISO 4662 pendulum";
const header = "Compound,Method,Laboratory,Temperature (°C),Rebound 1 (%),Rebound 2 (%),Rebound 3 (%)";
const rows = [
  `Birch 60,${iso},North,23,31.0,31.2,31.1`,
  `Birch 60,${iso},South,23,36.0,36.1,36.2`,
  `Birch 60,${iso},East,23,28.0,28.1,28.2`,
];
const inOrder = (order: number[]) => [header, ...order.map((i) => rows[i])].join("\n");

describe("tests of several laboratories", () => {
  it("are pooled with the spread between them, whatever their order", () => {
    for (const order of [
      [0, 1, 2],
      [2, 0, 1],
      [1, 2, 0],
    ]) {
      const { points, notices } = reduceRebound(rebounds(inOrder(order)), iso);
      expect(points).toHaveLength(1);
      // Mean of the medians 31.1, 36.1 and 28.1; t(2 degrees of freedom, 95 %) = 4.303 (Student's table).
      expect(100 * points[0].fraction).toBeCloseTo(95.3 / 3, 10);
      const half = (4.303 * Math.sqrt((0.6667 ** 2 + 4.3333 ** 2 + 3.6667 ** 2) / 2)) / Math.sqrt(3);
      expect(100 * points[0].low!).toBeCloseTo(95.3 / 3 - half, 1);
      expect(100 * points[0].high!).toBeCloseTo(95.3 / 3 + half, 1);
      expect(points[0]).toMatchObject({ tests: 3, laboratories: ["East", "North", "South"] });
      expect(notices.map(({ code }) => code)).toEqual(["predict.rebound-tests-pooled"]);
      expect(notices[0].message).toContain("3 tests of 3 laboratories (East, North, South)");
    }
  });

  it("count once each, however many tests one of them made", () => {
    const test = (fraction: number, laboratory: string | null, line: number) => ({
      temperature_C: 23,
      fraction,
      laboratory,
      path: "a.csv",
      line,
    });
    const [pooled] = poolRebound([
      test(0.3, "North", 2),
      test(0.32, "North", 3),
      test(0.31, "North", 4),
      test(0.37, "South", 5),
    ]);
    expect(pooled.fraction).toBeCloseTo(0.34, 12);
    expect(pooled.between).toBe("laboratories");
    const [own] = poolRebound([test(0.3, "North", 2), test(0.32, "North", 3), test(0.31, "North", 4)]);
    expect(own).toMatchObject({ between: "tests", tests: 3 });
    expect(own.fraction).toBeCloseTo(0.31, 12);
    const [single] = poolRebound([test(0.3, "North", 2)]);
    expect(single).toMatchObject({ low: null, high: null, halfWidth: 0, between: null });
  });

  it("widen the calibration's interval, the more the less they agree", () => {
    const material = exampleMaterial();
    const { fraction } = predictRebound(
      tensileSpectrumAt(material.model!, 0, settings),
      pendulumImpact,
      settings,
    );
    const width = (spread: number) => {
      const lines = [-spread, 0, spread].map(
        (away, i) => `Hazel 55,${iso},${"ABC"[i]},0,${100 * (fraction + away)},${100 * (fraction + away)}`,
      );
      const text = [header.replace(",Rebound 3 (%)", ""), ...lines].join("\n");
      const { calibration } = calibrateRebound(material, rebounds(text), pendulumImpact, settings);
      expect(calibration!.stiffnessFactor).toBeCloseTo(1, 2);
      expect(calibration!.readings).toHaveLength(1);
      expect(calibration!.readings[0]).toMatchObject({ tests: 3, laboratories: ["A", "B", "C"] });
      return calibration!.logStandardError;
    };
    // The half width is 4.303 · spread/√3, so it grows in proportion once it is beyond a reading's own 1 %.
    expect(width(0.02) / width(0.01)).toBeCloseTo(2, 1);
  });
});

// Which standards are equivalent: from memory (see rebound-method.ts).
describe("the method that a name stands for", () => {
  it.each([
    ["ISO 4662 pendulum", "ISO 4662"],
    ["pendulum as in ISO 4662", "ISO 4662"],
    ["Pendelhammer nach DIN ISO 4662:2017", "ISO 4662"],
    ["DIN 53512", "ISO 4662"],
    ["DIN 53 512", "ISO 4662"],
    ["Schob-Pendel", "ISO 4662"],
    ["ASTM D7121", "ISO 4662"],
    ["JIS K 6255", "ISO 4662"],
    ["GB/T 1681-2009", "ISO 4662"],
    ["BS 903-A8", "ISO 4662"],
    ["ASTM D1054 Goodyear-Healey pendulum", "ASTM D1054"],
    ["ASTM D 2632 vertical rebound", "ASTM D2632"],
    ["ISO 8307 ball drop", "ISO 8307"],
    ["GB/T 6670", "ISO 8307"],
    ["ASTM D3574 test H", "ASTM D3574"],
  ])("%s is %s", (name, key) => {
    expect(reboundMethodOf(name)).toEqual({ key, known: true });
  });

  it.each(["in-house pendulum", "Pendel", "ISO 46620", "DIN 53512 and ASTM D2632", ""])(
    "%j is unknown and compares with itself only",
    (name) => {
      expect(reboundMethodOf(name)).toEqual({ key: name.toLowerCase(), known: false });
    },
  );
});

describe("methods do not mix", () => {
  const table = (...lines: string[]) => ["Compound;Prüfnorm;T (°C);Rebound (%)", ...lines].join("\n");

  it("a Goodyear-Healey pendulum calibrates no use of ISO 4662", () => {
    const text = table(
      "A;ASTM D1054 Goodyear-Healey pendulum;23;60",
      "A;ASTM D1054 Goodyear-Healey pendulum;0;40",
    );
    const { points, notices } = reduceRebound(rebounds(text), "pendulum as in ISO 4662");
    expect(points).toEqual([]);
    expect(notices.map(({ code }) => code)).toEqual(["predict.rebound-methods-differ"]);
    const { calibration } = calibrateRebound(exampleMaterial(), rebounds(text), pendulumImpact, settings);
    expect(calibration).toBeNull();
  });

  it("DIN 53512 is read with ISO 4662, ISO 8307 beside it is left out by name", () => {
    const text = table(
      "A;DIN 53512;40;53",
      "A;DIN 53512;40;54",
      "A;ISO 4662;23;31",
      "A;ISO 8307 ball drop;40;72",
    );
    const { method, points, notices } = reduceRebound(rebounds(text), "ISO 4662 pendulum");
    expect(points.map(({ fraction }) => fraction)).toEqual([0.31, 0.535]);
    expect(method).toBe("DIN 53512; ISO 4662");
    expect(notices.map(({ code }) => code)).toEqual(["predict.rebound-methods-differ"]);
    expect(notices[0].message).toContain('"ISO 8307 ball drop"');
  });

  it("an unknown method stays apart with a notice, unless the use is that very test", () => {
    const text = table("A;in-house pendulum;23;31", "A;ISO 4662;0;20");
    const { points, notices } = reduceRebound(rebounds(text), "ISO 4662 pendulum");
    expect(points.map(({ fraction }) => fraction)).toEqual([0.2]);
    expect(notices.map(({ code }) => code)).toEqual([
      "predict.rebound-methods-differ",
      "predict.rebound-method-unknown",
    ]);
    expect(reduceRebound(rebounds(text), "In-house pendulum").points.map(({ fraction }) => fraction)).toEqual(
      [0.31],
    );
  });

  it("readings without a method are taken for the use's, which is said", () => {
    const text = "Compound;T (°C);Rebound (%)\nA;23;31\n";
    const { points, notices } = reduceRebound(rebounds(text), "ISO 4662 pendulum");
    expect(points).toHaveLength(1);
    expect(notices.map(({ code }) => code)).toEqual(["predict.rebound-method-unstated"]);
  });
});
