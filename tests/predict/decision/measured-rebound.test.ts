import { describe, expect, it } from "vitest";
import type { ReboundMeasurement } from "../../../src/io/measurement.js";
import { measuredRebound } from "../../../src/predict/decision/measured-rebound.js";

type Test = [temperature_C: number, ...fractions: number[]];

function rebound(method: string | null, ...tests: Test[]): ReboundMeasurement {
  return {
    kind: "rebound",
    sample: "Alder N",
    method,
    readings: tests.map(([temperature_C, ...fractions], i) => ({ temperature_C, fractions, line: 2 + i })),
    provenance: {
      ...{ file: "rebound.csv", sheet: null, section: null },
      ...{ firstLine: 2, lastLine: 9, columns: [] },
    },
  };
}

describe("rebound as a measured property", () => {
  it("is the median of the last three impacts at 23 °C, with Student's interval of their mean", () => {
    const [found, ...others] = measuredRebound([
      rebound("ISO 4662", [0, 0.3, 0.3, 0.3], [23, 0.4, 0.45, 0.48, 0.5, 0.52, 0.51]),
    ]);
    expect(others).toEqual([]);
    // By hand: mean 51, deviation 1, t for two degrees of freedom 4.303; 51 ± 4.303/√3.
    expect(found).toMatchObject({
      quantity: "measured rebound",
      unit: "%",
      value: 51,
      count: 3,
      method: "ISO 4662, at 23 °C",
    });
    expect(found.low).toBeCloseTo(51 - 4.303 / Math.sqrt(3), 2);
    expect(found.high).toBeCloseTo(51 + 4.303 / Math.sqrt(3), 2);
  });

  it("takes several tests by their medians, and the temperature nearest to 23 °C", () => {
    const [found] = measuredRebound([
      rebound("ISO 4662", [20, 0.3], [22, 0.5, 0.51, 0.52], [22, 0.55, 0.56, 0.57]),
    ]);
    expect(found).toMatchObject({ value: 53.5, count: 2, method: "ISO 4662, at 22 °C" });
  });

  it("lies between nothing and all, also where two tests contradict one another", () => {
    const [found] = measuredRebound([rebound("ISO 4662", [23, 0.25], [23, 0.8])]);
    expect(found).toMatchObject({ value: 52.5, low: 0, high: 100 });
  });

  it("takes a reading without a temperature where there is no other, and says so", () => {
    expect(measuredRebound([rebound(null, [Number.NaN, 0.46])])).toMatchObject([
      { value: 46, low: null, high: null, count: 1, method: "temperature not stated" },
    ]);
    expect(measuredRebound([rebound(null, [Number.NaN, 0.46], [23, 0.5])])).toMatchObject([
      { value: 50, method: "at 23 °C" },
    ]);
  });

  it("keeps methods apart, and is nothing where all was measured in the cold or the warm", () => {
    const both = measuredRebound([rebound("ISO 4662", [23, 0.5]), rebound("ASTM D2632", [23, 0.6])]);
    expect(both.map(({ value }) => value)).toEqual([50, 60]);
    expect(measuredRebound([rebound("ISO 4662", [19.9, 0.5], [26.1, 0.5])])).toEqual([]);
  });
});
