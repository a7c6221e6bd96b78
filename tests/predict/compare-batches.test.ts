import { describe, expect, it } from "vitest";
import { glassTransitions } from "../../src/fit/glass/glass-transition.js";
import type { DynamicMeasurement, ReboundMeasurement } from "../../src/io/measurement.js";
import {
  type Batch,
  type BatchLimits,
  batchesByFile,
  compareBatches,
  repeatedRuns,
} from "../../src/predict/batches/compare-batches.js";
import {
  exactPeak_C,
  makeSweep,
  type SweepMaking,
  wedgeMaterials,
  wedgeModel,
} from "../make/wedge-material.js";

const material = wedgeMaterials["styrene-butadiene-like"];
const accepted = wedgeModel(material);
/** The same compound with its transition 2 K higher. */
const warmer = wedgeModel({ ...material, glassTemperature_C: material.glassTemperature_C + 2 });
const limits = { glassTransitionDifference_K: 3, tanDeltaDifference: 0.05, reboundDifference: 0.03 };
const noLimits = { glassTransitionDifference_K: null, tanDeltaDifference: null, reboundDifference: null };

function sweepOf(model = accepted, file = "a.csv", making: SweepMaking = {}): DynamicMeasurement {
  const sweep = makeSweep(model, { to_C: 80, ...making });
  return { ...sweep, provenance: { ...sweep.provenance, file } };
}

function batchOf(name: string, measurements: Batch["measurements"]): Batch {
  const transitions = measurements.flatMap((one) =>
    one.kind === "rebound" ? [] : glassTransitions(one).transitions,
  );
  return { name, measurements, glassTransitions: transitions };
}

function reboundOf(
  file: string,
  readings: [temperature_C: number, fractions: number[]][],
  method = "ISO 4662 pendulum",
) {
  const measurement: ReboundMeasurement = {
    kind: "rebound",
    sample: null,
    method,
    readings: readings.map(([temperature_C, fractions], line) => ({ temperature_C, fractions, line })),
    provenance: { file, sheet: null, section: null, firstLine: 1, lastLine: 9, columns: [] },
  };
  return measurement;
}

const compared = (a: Batch, b: Batch, against: BatchLimits = limits) =>
  compareBatches([a, b], against).comparisons[0];
const difference = (a: Batch, b: Batch, quantity: string, against: BatchLimits = limits) =>
  compared(a, b, against).differences.find((one) => one.quantity === quantity)!;

describe("a batch 2 K above the accepted one", () => {
  const a = batchOf("Alder N", [sweepOf(accepted, "a.csv", { seed: 1 })]);
  const b = batchOf("Alder N, second mix", [sweepOf(warmer, "b.csv", { seed: 2 })]);

  it("differs in Tg by that, and is held to the limit it is given", () => {
    const at = (limit: number) =>
      difference(a, b, "glass transition", { ...limits, glassTransitionDifference_K: limit });
    // One run each: the peaks are known to some 0.6 K, so a difference of 2 K needs this much room to be equivalent.
    const found = at(3.5);
    expect(found.low!).toBeLessThan(2);
    expect(found.high!).toBeGreaterThan(2);
    expect(found).toMatchObject({
      frequency_Hz: 10,
      deformation: "tension",
      direction: "heating",
      unit: "°C",
    });
    expect(found.batchValue - found.acceptedValue).toBeCloseTo(found.result, 12);
    expect(found.statement).toBe("equivalent");
    expect(at(0.5).statement).toBe("different");
    expect(at(2).statement).toBe("not decided");
    expect(difference(a, b, "glass transition", noLimits).statement).toBe("no limit stated");
    expect(found.acceptedPaths).toEqual(["a.csv"]);
    expect(found.batchPaths).toEqual(["b.csv"]);
  });

  it("is said in plain words with state, interval and limit", () => {
    const roomy = { ...limits, glassTransitionDifference_K: 3.5 };
    expect(difference(a, b, "glass transition", roomy).sentence).toMatch(
      /^Tg \(tan δ peak at 10 Hz, tension, heating\): −\d+\.\d °C in Alder N, second mix against −\d+\.\d °C in Alder N; difference \+\d\.\d K \(95 % interval \+\d\.\d to \+\d\.\d K\)\. Equivalent: all of the interval lies inside ±3\.5 K\.$/,
    );
    expect(difference(a, b, "tan delta at 60 °C").sentence).toMatch(
      /^tan δ at 60 °C \(at 10 Hz, tension, heating\)/,
    );
    expect(compared(a, b).basis).toContain("two one-sided tests at 2.5 % each");
    expect(compared(a, b).basis).toContain("not how specimens, days and operators differ");
  });

  it("has a ratio of the modulus at −25 °C, without a limit", () => {
    const ratio = difference(a, b, "storage modulus at −25 °C");
    expect(ratio.comparison).toBe("ratio");
    expect(ratio.result).toBeCloseTo(ratio.batchValue / ratio.acceptedValue, 12);
    expect(ratio.result).toBeGreaterThan(1);
    expect(ratio.low!).toBeLessThan(ratio.result);
    expect(ratio.statement).toBe("no limit stated");
  });

  it("is not called equivalent while a quantity with a limit is missing", () => {
    const again = batchOf("Alder N again", [sweepOf(accepted, "b.csv", { seed: 2 })]);
    const comparison = compared(a, again);
    expect(comparison.notCompared).toEqual([
      { quantity: "rebound", why: "rebound was not measured on both", limitStated: true },
    ]);
    expect(comparison.statement).toBe("not decided");
    expect(comparison.sentence).toContain("rebound could not be compared, though a limit is stated");
    const without = compared(a, again, { ...limits, reboundDifference: null });
    expect(without.statement).toBe("equivalent");
  });
});

describe("the intervals of a difference", () => {
  it("hold the truth about as often as they say, from one run each", () => {
    const truth_K = exactPeak_C(warmer, 10, "tan delta") - exactPeak_C(accepted, 10, "tan delta");
    const tanDeltaAt0 = (model: typeof accepted) => {
      const exact = sweepOf(model, "exact", { noise: 0, temperatures_C: [-1, 0, 1] });
      return exact.lossModulus_Pa[1] / exact.storageModulus_Pa[1];
    };
    const truth = tanDeltaAt0(warmer) - tanDeltaAt0(accepted);
    const runs = 60;
    let peaks = 0;
    let tanDeltas = 0;
    for (let seed = 1; seed <= runs; seed++) {
      const a = batchOf("a", [sweepOf(accepted, "a.csv", { seed, from_C: -70, to_C: 30 })]);
      const b = batchOf("b", [sweepOf(warmer, "b.csv", { seed: 1000 + seed, from_C: -70, to_C: 30 })]);
      const peak = difference(a, b, "glass transition");
      const tanDelta = difference(a, b, "tan delta at 0 °C");
      if (peak.low! <= truth_K && peak.high! >= truth_K) peaks++;
      if (tanDelta.low! <= truth && tanDelta.high! >= truth) tanDeltas++;
    }
    console.info(`covered of ${runs}: Tg ${peaks}, tan δ at 0 °C ${tanDeltas}`);
    expect(peaks).toBeGreaterThanOrEqual(0.87 * runs);
    expect(tanDeltas).toBeGreaterThanOrEqual(0.87 * runs);
  });

  it("come from the spread between runs where a batch has several", () => {
    const shifted = (file: string, by_K: number, seed: number) =>
      sweepOf(wedgeModel({ ...material, glassTemperature_C: material.glassTemperature_C + by_K }), file, {
        seed,
        noise: 1e-4,
      });
    const a = batchOf("a", [shifted("a1", -1, 1), shifted("a2", 0, 2), shifted("a3", 1, 3)]);
    const b = batchOf("b", [shifted("b1", -1, 4), shifted("b2", 0, 5), shifted("b3", 1, 6)]);
    const found = difference(a, b, "glass transition");
    expect(found).toMatchObject({ acceptedRuns: 3, batchRuns: 3 });
    // Two means of three with a standard deviation of 1 K: t(4) = 2.776 times √(2/3).
    expect((found.high! - found.low!) / 2 / (2.776 * Math.sqrt(2 / 3))).toBeCloseTo(1, 1);
    expect(compared(a, b).basis).toContain("spread between the runs");
  });
});

describe("what is never mixed", () => {
  const a = batchOf("a", [sweepOf()]);
  const why = (other: Batch) =>
    compared(a, other).notCompared.find(({ quantity }) => quantity === "glass transition")!.why;

  it("frequencies, deformation modes and directions", () => {
    const at1Hz = batchOf("b", [sweepOf(accepted, "b.csv", { frequencies_Hz: [1] })]);
    const inShear = batchOf("b", [{ ...sweepOf(accepted, "b.csv", { seed: 2 }), deformation: "shear" }]);
    const cooling = batchOf("b", [{ ...sweepOf(accepted, "b.csv", { seed: 2 }), direction: "cooling" }]);
    for (const other of [at1Hz, inShear, cooling]) {
      expect(compared(a, other).differences).toEqual([]);
      expect(why(other)).toContain("common frequency, deformation mode and direction");
      expect(compareBatches([a, other], limits).notices.map(({ code }) => code)).toEqual([
        "predict.batches-not-comparable",
      ]);
    }
    expect(why(at1Hz)).toContain("10 Hz in tension, heating against 1 Hz in tension, heating");
  });

  it("but of several frequencies the lowest common one serves Tg, and that nearest to 10 Hz the others", () => {
    const many = batchOf("a", [sweepOf(accepted, "a.csv", { frequencies_Hz: [0.5, 1, 10, 30] })]);
    const few = batchOf("b", [sweepOf(accepted, "b.csv", { frequencies_Hz: [1, 10.2, 100], seed: 2 })]);
    expect(difference(many, few, "glass transition").frequency_Hz).toBe(1);
    expect(difference(many, few, "tan delta at 0 °C").frequency_Hz).toBe(10);
  });

  it("nor rebound by different methods or at different temperatures", () => {
    const pendulum = batchOf("a", [reboundOf("a.csv", [[23, [0.5, 0.51, 0.5]]])]);
    const dropped = batchOf("b", [reboundOf("b.csv", [[23, [0.5, 0.51, 0.5]]], "ASTM D2632")]);
    const colder = batchOf("b", [reboundOf("b.csv", [[0, [0.5, 0.51, 0.5]]])]);
    const reason = (other: Batch) =>
      compared(pendulum, other).notCompared.find(({ quantity }) => quantity === "rebound")!.why;
    expect(reason(dropped)).toContain("different methods");
    expect(reason(colder)).toContain("within 1 K");
  });

  it("nor a peak that lies beyond the data", () => {
    const warmOnly = batchOf("b", [sweepOf(accepted, "b.csv", { from_C: 0 })]);
    expect(why(warmOnly)).toBe("no tan δ peak inside the data of b");
    expect(compared(a, warmOnly).differences.map(({ quantity }) => quantity)).toContain("tan delta at 60 °C");
  });
});

describe("rebound of two batches", () => {
  const fractions = (middle: number) => [middle - 0.1, middle - 0.005, middle, middle + 0.005];

  it("is compared at the common temperature nearest to 23 °C, in percentage points", () => {
    const a = batchOf("a", [
      reboundOf("a.csv", [
        [0, fractions(0.3)],
        [23, fractions(0.5)],
      ]),
    ]);
    const b = batchOf("b", [
      reboundOf("b.csv", [
        [0.4, fractions(0.3)],
        [23.3, fractions(0.51)],
      ]),
    ]);
    const found = difference(a, b, "rebound");
    expect(found).toMatchObject({ temperature_C: 23, method: "ISO 4662 pendulum", statement: "equivalent" });
    expect(found.result).toBeCloseTo(0.01, 12);
    // Impacts scatter by 0.005 (four readings, 8 degrees of freedom); medians of three, so 1.16/√3 of that each;
    // Satterthwaite gives 16 degrees of freedom and t = 2.120.
    expect((found.high! - found.low!) / 2).toBeCloseTo(2.12 * 0.005 * 1.16 * Math.sqrt(2 / 3), 5);
    expect(found.sentence).toContain("difference +1.0 percentage points");
  });

  it("without repeated impacts has no interval and decides nothing", () => {
    const single = (name: string) => batchOf(name, [reboundOf(`${name}.csv`, [[23, [0.5]]])]);
    const found = difference(single("a"), single("b"), "rebound");
    expect(found).toMatchObject({ result: 0, low: null, high: null, statement: "not decided" });
    expect(found.sentence).toContain("single readings show no scatter");
  });
});

describe("runs of one compound", () => {
  it("are split by file, each with its own transitions", () => {
    const sweeps = [sweepOf(accepted, "b.csv", { seed: 2 }), sweepOf(accepted, "a.csv")];
    const batches = batchesByFile(
      sweeps,
      sweeps.flatMap((sweep) => glassTransitions(sweep).transitions),
    );
    expect(batches.map(({ name }) => name)).toEqual(["a.csv", "b.csv"]);
    expect(batches.map((batch) => batch.glassTransitions.map(({ path }) => path))).toEqual([
      ["a.csv"],
      ["b.csv"],
    ]);
    expect(compareBatches(batches, limits).comparisons[0]).toMatchObject({
      accepted: "a.csv",
      batch: "b.csv",
    });
  });

  it("are all held against the accepted one, and a copy is found out", () => {
    const batch = (name: string, seed: number) => batchOf(name, [sweepOf(accepted, `${name}.csv`, { seed })]);
    const { comparisons, notices } = compareBatches([batch("x", 1), batch("y", 2), batch("z", 1)], limits, 0);
    expect(comparisons.map(({ batch: name }) => name)).toEqual(["y", "z"]);
    expect(notices.map(({ code, message }) => [code, message.slice(0, 1)])).toEqual([
      ["predict.batches-identical", "z"],
    ]);
  });

  it("read isotherms across, at the frequency both have", () => {
    const isotherms = (model: typeof accepted, file: string, seed: number) =>
      [-40, -30, -10, -5, 0, 5, 10, 60].map((T, i) => ({
        ...sweepOf(model, file, { temperatures_C: [T], frequencies_Hz: [1, 3, 10, 30], seed: seed + i }),
        kind: "frequency sweep" as const,
        direction: null,
      }));
    const a = batchOf("a", isotherms(accepted, "a.csv", 1));
    const b = batchOf("b", isotherms(warmer, "b.csv", 50));
    const found = difference(a, b, "tan delta at 0 °C");
    expect(found).toMatchObject({ frequency_Hz: 10, temperature_C: 0, direction: null });
    expect(found.result).toBeGreaterThan(0);
    expect(found.low!).toBeLessThan(found.result);
  });

  it("are found among the files of a compound: those that share a state with another", () => {
    const sweeps = [
      { ...sweepOf(accepted, "a strain.csv"), kind: "strain sweep" as const },
      sweepOf(accepted, "b.csv", { seed: 2 }),
      sweepOf(accepted, "c at 1 Hz.csv", { frequencies_Hz: [1] }),
      sweepOf(accepted, "d.csv", { seed: 3 }),
    ];
    const transitions = sweeps.flatMap((sweep) => glassTransitions(sweep).transitions);
    expect(repeatedRuns(sweeps, transitions).map(({ name }) => name)).toEqual(["b.csv", "d.csv"]);
    expect(repeatedRuns(sweeps.slice(0, 3), transitions)).toEqual([]);
  });

  it("measured at unlike heating rates or strains get a caution", () => {
    const run = (name: string, seed: number, more: Partial<DynamicMeasurement>) =>
      batchOf(name, [{ ...sweepOf(accepted, `${name}.csv`, { seed }), ...more }]);
    const strains = (value: number) => new Float64Array(90).fill(value);
    const codes = (one: Partial<DynamicMeasurement>, other: Partial<DynamicMeasurement>) =>
      compareBatches([run("a", 1, one), run("b", 2, other)], limits).notices.map(({ message }) => message);
    expect(codes({ heatingRate_K_min: 1 }, { heatingRate_K_min: 3 })).toEqual([
      expect.stringContaining("heating rate was 3.00 K/min for b and 1.00 K/min for a"),
    ]);
    expect(codes({ strainAmplitude: strains(0.001) }, { strainAmplitude: strains(0.01) })).toEqual([
      expect.stringContaining("strain amplitude was 1.00 % for b and 0.10 % for a"),
    ]);
    expect(codes({ heatingRate_K_min: 2 }, { heatingRate_K_min: 3 })).toEqual([]);
    expect(codes({ heatingRate_K_min: 2 }, {})).toEqual([]);
  });
});
