import { describe, expect, it } from "vitest";
import { log10ShiftFactor } from "../../src/fit/spectrum/shift-law.js";
import { isothermsOf } from "../../src/fit/superposition/isotherms/isotherms.js";
import { lawShift } from "../../src/fit/superposition/law/law-fit.js";
import { areaShift, risingCurve, startingShifts } from "../../src/fit/superposition/shift/area-shift.js";
import { activeSetQuadratic } from "../../src/numeric/non-negative/active-set.js";
import { nnls } from "../../src/numeric/non-negative/nnls.js";
import { nonNegativeQuadratic } from "../../src/numeric/non-negative/nonnegative-quadratic.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";
import {
  broadPolymer,
  isothermSweep,
  lawAtGlass,
  measurement,
  sweepFrequencies_Hz,
  temperaturesAbove,
} from "./synthetic-data.js";

const { law, truth } = broadPolymer;

describe("closed-form shifts", () => {
  it("two straight lines: the shift is their distance", () => {
    const first = { x: Float64Array.of(0, 1, 2), y: Float64Array.of(0, 1, 2) };
    const second = { x: Float64Array.of(1.3, 2.3, 3.3), y: Float64Array.of(0, 1, 2) };
    const { shift, overlap } = areaShift(first, second);
    expect(shift).toBeCloseTo(-1.3, 12);
    expect(overlap).toBe(2);
  });

  it("no shared ordinates: no shift, and the gap", () => {
    const low = { x: Float64Array.of(0, 1), y: Float64Array.of(0, 1) };
    const high = { x: Float64Array.of(0, 1), y: Float64Array.of(1.5, 2) };
    expect(areaShift(low, high)).toEqual({ shift: null, overlap: -0.5 });
  });

  it("a falling stretch is pooled", () => {
    const { x, y } = risingCurve([0, 1, 2, 3], [1, 3, 2, 4]);
    expect([...x]).toEqual([0, 1.5, 3]);
    expect([...y]).toEqual([1, 2.5, 4]);
  });

  it("chained over isotherms without noise they follow the law where the modulus moves", () => {
    const temperatures = temperaturesAbove(law.glassTemperature_C);
    const set = isothermsOf([isothermSweep(temperatures, sweepFrequencies_Hz, truth)], "shear");
    const { log10aT, group } = startingShifts(set);
    expect(new Set(group).size).toBe(1);
    for (let k = 2; k < 13; k++) {
      const expected =
        log10ShiftFactor(lawAtGlass(law), temperatures[k]) -
        log10ShiftFactor(lawAtGlass(law), temperatures[1]);
      expect(log10aT[k] - log10aT[1]).toBeCloseTo(expected, 2);
    }
  });
});

describe("isotherms", () => {
  it("temperatures that drift within a step stay one isotherm, each point keeping its own", () => {
    const points = [0, 5, 10].flatMap((t) =>
      sweepFrequencies_Hz.map((frequency_Hz, i) => ({ temperature_C: t + 0.03 * i, frequency_Hz })),
    );
    const set = isothermsOf([measurement("frequency sweep", points, truth)], "shear");
    expect(set.isotherms.map((isotherm) => isotherm.end - isotherm.first)).toEqual([16, 16, 16]);
    expect(set.isotherms[1].temperature_C).toBeCloseTo(5 + 0.03 * 7.5, 9);
    expect(Math.max(...set.temperature_C)).toBeCloseTo(10.45, 9);
  });

  it("a dense ramp is averaged in cells of a kelvin and cut into steps of two", () => {
    const points: { temperature_C: number; frequency_Hz: number }[] = [];
    for (let t = -60; t <= 0; t += 0.1) {
      for (const [i, f] of [1, 10, 100].entries())
        points.push({ temperature_C: t + 0.03 * i, frequency_Hz: f });
    }
    const set = isothermsOf([measurement("temperature sweep", points, truth)], "shear");
    expect(set.frequency_Hz.length).toBeLessThan(3 * 62);
    expect(set.frequency_Hz.length).toBeGreaterThan(3 * 55);
    expect(set.isotherms.length).toBeGreaterThan(25);
    expect(set.isotherms.length).toBeLessThanOrEqual(40);
    for (let i = 0; i < set.frequency_Hz.length; i++) {
      const [storage] = truth(set.temperature_C[i], set.frequency_Hz[i]);
      expect(Math.abs(set.storageModulus_Pa[i] / storage - 1)).toBeLessThan(0.01);
    }
  });

  it("a ramp at one frequency has no isotherm", () => {
    const points = Array.from({ length: 50 }, (_, i) => ({ temperature_C: -60 + i, frequency_Hz: 10 }));
    expect(isothermsOf([measurement("temperature sweep", points, truth)], "shear").isotherms).toEqual([]);
  });

  it("repeated temperatures in another file are another run", () => {
    const sweep = (file: string) => isothermSweep([0, 5, 10], sweepFrequencies_Hz, truth, { file });
    const set = isothermsOf([sweep("a.csv"), sweep("b.csv")], "shear");
    expect(set.runs.map((run) => run.paths)).toEqual([["a.csv"], ["b.csv"]]);
    expect(set.isotherms.map((isotherm) => isotherm.run)).toEqual([0, 0, 0, 1, 1, 1]);
  });
});

describe("law in fitted coordinates", () => {
  it.each([
    ["wlf", [0.17, 0.012], null],
    ["wlf", [0.17, 0.012], -20],
    ["arrhenius", [9], null],
  ] as const)("%s %j: derivatives agree with differences", (kind, parameters, border_C) => {
    const shape = { kind, reference_C: 0, border_C };
    const gradient = new Float64Array(2);
    for (const t of [-50, -21, -19, 10, 60]) {
      lawShift(shape, parameters, t, gradient);
      for (const [j, value] of parameters.entries()) {
        const h = 1e-6 * value;
        const moved = (d: number) => parameters.map((p, k) => (k === j ? p + d : p));
        const slope = (lawShift(shape, moved(h), t) - lawShift(shape, moved(-h), t)) / (2 * h);
        expect(gradient[j] / slope).toBeCloseTo(1, 6);
      }
    }
  });

  it("with a border it is the program's own law", () => {
    const shape = { kind: "wlf" as const, reference_C: 0, border_C: -20 };
    const same = {
      kind: "wlf" as const,
      referenceTemperature_C: 0,
      c1: 0.17 / 0.012,
      c2_K: 1 / 0.012,
      tangentBelow_C: -20,
    };
    for (const t of [-80, -20, 5, 40]) {
      expect(lawShift(shape, [0.17, 0.012], t)).toBeCloseTo(log10ShiftFactor(same, t), 10);
    }
  });
});

describe("non-negative solvers", () => {
  it("hold the conditions of Karush, Kuhn and Tucker", () => {
    const random = seededRandom(4);
    for (const [rows, columns] of [
      [20, 30],
      [50, 20],
      [5, 5],
    ]) {
      const values = Float64Array.from({ length: rows * columns }, () => random.normal());
      const rhs = Float64Array.from({ length: rows }, () => random.normal());
      const { solution, residuals } = nnls({ rows, columns, values }, rhs);
      for (let j = 0; j < columns; j++) {
        let slope = 0;
        for (let i = 0; i < rows; i++) slope += values[j * rows + i] * residuals[i];
        expect(solution[j]).toBeGreaterThanOrEqual(0);
        if (solution[j] > 0) expect(Math.abs(slope)).toBeLessThan(1e-9);
        else expect(slope).toBeLessThan(1e-9);
      }
    }
  });

  it("the quadratic form gives the same as the rows", () => {
    const random = seededRandom(6);
    const [rows, columns] = [60, 25];
    const values = Float64Array.from({ length: rows * columns }, () => random.normal());
    const rhs = Float64Array.from({ length: rows }, () => random.normal());
    const gram = new Float64Array(columns * columns);
    const linear = new Float64Array(columns);
    for (let a = 0; a < columns; a++) {
      for (let i = 0; i < rows; i++) linear[a] += values[a * rows + i] * rhs[i];
      for (let b = 0; b < columns; b++) {
        for (let i = 0; i < rows; i++) gram[a * columns + b] += values[a * rows + i] * values[b * rows + i];
      }
    }
    const { solution, passive } = nnls({ rows, columns, values }, rhs);
    const quadratic = nonNegativeQuadratic(gram, linear, null);
    expect(quadratic.converged).toBe(true);
    for (let j = 0; j < columns; j++) expect(quadratic.solution[j]).toBeCloseTo(solution[j], 9);
    const norm = Math.sqrt(rhs.reduce((sum, value) => sum + value * value, 0));
    // From nothing, from its own answer, and from a start that has to give most of it up.
    for (const start of [[], passive, Array.from({ length: columns }, (_, j) => j)]) {
      const active = activeSetQuadratic(gram, linear, norm, start);
      for (let j = 0; j < columns; j++) expect(active.solution[j]).toBeCloseTo(solution[j], 9);
      expect([...active.passive].sort()).toEqual([...passive].sort());
      // The factor that comes with it is that of the passive set.
      for (const [a, i] of active.passive.entries()) {
        for (const [b, k] of active.passive.slice(0, a + 1).entries()) {
          let product = 0;
          for (let c = 0; c <= b; c++)
            product += active.factor[a * columns + c] * active.factor[b * columns + c];
          expect(product).toBeCloseTo(gram[i * columns + k], 9);
        }
      }
    }
    // Not positive: said, not hidden.
    expect(nonNegativeQuadratic(Float64Array.of(1, 2, 2, 1), Float64Array.of(1, 1), null).converged).toBe(
      false,
    );
  });

  it("columns that repeat or vanish do no harm, sizes that do not fit are refused", () => {
    const values = Float64Array.of(1, 1, 0, 1, 1, 0, 0, 0, 0);
    const { solution } = nnls({ rows: 3, columns: 3, values }, Float64Array.of(2, 2, 5));
    expect(solution[0] + solution[1]).toBeCloseTo(2, 12);
    expect(solution[2]).toBe(0);
    expect(() => nnls({ rows: 3, columns: 3, values }, Float64Array.of(1))).toThrow(/3 × 3/);
  });
});
