import { describe, expect, it } from "vitest";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { quickIndicators } from "../../src/predict/indicators/quick-indicators.js";

type Row = [temperature_C: number, frequency_Hz: number, storageModulus_Pa: number, tanDelta: number];

function sweep(kind: DynamicMeasurement["kind"], rows: Row[], file = "sweep.csv"): DynamicMeasurement {
  return {
    kind,
    sample: null,
    deformation: "tension",
    direction: null,
    temperature_C: Float64Array.from(rows, ([T]) => T),
    frequency_Hz: Float64Array.from(rows, ([, f]) => f),
    storageModulus_Pa: Float64Array.from(rows, ([, , storage]) => storage),
    lossModulus_Pa: Float64Array.from(rows, ([, , storage, tanDelta]) => storage * tanDelta),
    strainAmplitude: null,
    time_s: null,
    heatingRate_K_min: null,
    provenance: { file, sheet: null, section: null, firstLine: 4, lastLine: 4 + rows.length, columns: [] },
  };
}

const at10Hz: Row[] = [
  [-30, 10, 2e8, 0.3],
  [-20, 10, 5e7, 0.8],
  [-2, 10, 2e7, 0.4],
  [2, 10, 1e7, 0.2],
  [60, 10, 6e6, 0.11],
];

describe("quick indicators", () => {
  it("are read at 10 Hz between the rows on either side", () => {
    const { tanDeltaAt0C, tanDeltaAt60C, storageModulusAtMinus25C } = quickIndicators([
      sweep("temperature sweep", at10Hz),
    ]);
    // Halfway between two rows on a log scale: the geometric mean.
    expect(tanDeltaAt0C.value).toBeCloseTo(Math.sqrt(0.4 * 0.2), 9);
    expect(tanDeltaAt60C.value).toBeCloseTo(0.11, 9);
    expect(storageModulusAtMinus25C.value! / Math.sqrt(2e8 * 5e7)).toBeCloseTo(1, 9);
    expect(tanDeltaAt0C.reading).toBe("read at 10 Hz");
    expect(tanDeltaAt0C.source).toEqual({ file: "sweep.csv", section: null, firstLine: 4 });
    expect(tanDeltaAt0C.caution).toMatch(/Common practice.*no friction value/);
    expect(storageModulusAtMinus25C.caution).toMatch(/snow or ice/);
  });

  it("take the nearest frequency where 10 Hz was not measured, and say so", () => {
    const rows = at10Hz.flatMap(([T, , storage, tanDelta]): Row[] => [
      [T, 0.1, storage, 3 * tanDelta],
      [T, 1, storage, tanDelta],
    ]);
    const { tanDeltaAt60C } = quickIndicators([sweep("temperature sweep", rows)]);
    expect(tanDeltaAt60C.value).toBeCloseTo(0.11, 9);
    expect(tanDeltaAt60C.frequency_Hz).toBe(1);
    expect(tanDeltaAt60C.reading).toContain("at 1 Hz, the nearest to 10 Hz");
  });

  it("prefer a measurement at 10 Hz that reaches the temperature, whatever the order of files", () => {
    const short = sweep("temperature sweep", at10Hz.slice(0, 4), "cold.csv");
    const oneHertz = sweep(
      "temperature sweep",
      at10Hz.map(([T, , storage]): Row => [T, 1, storage, 0.05]),
      "slow.csv",
    );
    const result = quickIndicators([oneHertz, short]);
    expect(result.tanDeltaAt0C.source!.file).toBe("cold.csv");
    expect(result.tanDeltaAt60C.source!.file).toBe("slow.csv");
  });

  it("read isotherms of a frequency sweep", () => {
    const rows = [0, 60].flatMap((T): Row[] => [
      [T, 1, 1e7, 0.1],
      [T + 0.2, 10, 1e7, T === 0 ? 0.35 : 0.12],
      [T, 100, 1e7, 0.9],
    ]);
    const { tanDeltaAt0C, tanDeltaAt60C } = quickIndicators([sweep("frequency sweep", rows)]);
    expect(tanDeltaAt0C.value).toBeCloseTo(0.35, 9);
    expect(tanDeltaAt60C.value).toBeCloseTo(0.12, 9);
  });

  it("are null with the reason where the sweep does not reach, and never bridge a wide gap", () => {
    const { tanDeltaAt60C, storageModulusAtMinus25C } = quickIndicators([
      sweep("temperature sweep", [
        [-60, 10, 2e9, 0.1],
        [0, 10, 1e7, 0.2],
        [20, 10, 8e6, 0.15],
      ]),
    ]);
    expect(tanDeltaAt60C.value).toBeNull();
    expect(tanDeltaAt60C.reading).toContain("no sweep has rows on both sides of 60 °C");
    expect(storageModulusAtMinus25C.value).toBeNull();
    expect(quickIndicators([]).tanDeltaAt0C.reading).toContain("no sweep of modulus");
  });
});
