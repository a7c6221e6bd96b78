import { describe, expect, it } from "vitest";
import { glassTransitions } from "../../src/fit/glass/glass-transition.js";
import { complexModulus } from "../../src/fit/spectrum/relaxation-model.js";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";
import { densePeak_C, havriliakNegami, measure } from "../make/havriliak-negami.js";
import { wedgeMaterials, wedgeModel } from "../make/wedge-material.js";

const truth_C = {
  tan: densePeak_C(havriliakNegami, 10, "tan delta"),
  loss: densePeak_C(havriliakNegami, 10, "loss modulus"),
};

/** A clean sweep with some rows multiplied, as a slip, a knock or a lost digit would. */
function spoiled(at_C: number, storage: number, loss: number, rows = 1): DynamicMeasurement {
  const sweep = measure(havriliakNegami, { from_C: -80, to_C: 60, seed: 4 });
  const first = sweep.temperature_C.findIndex((t) => t >= at_C);
  for (let i = first; i < first + rows; i++) {
    sweep.storageModulus_Pa[i] *= storage;
    sweep.lossModulus_Pa[i] *= loss;
  }
  return sweep;
}

describe("a stray row does not move the glass transition", () => {
  const clean = glassTransitions(spoiled(0, 1, 1)).transitions[0];

  it.each([
    ["both moduli a tenth on the plateau", 20, 0.1, 0.1, "both moduli", 0.1],
    ["loss too high on the warm flank", -8, 1, 1.5, "loss modulus", 1.5],
    ["loss doubled at the loss peak", -26, 1, 2, "loss modulus", 2],
    ["storage halved past the peak", -10, 0.5, 1, "storage modulus", 0.5],
    ["storage thrice in the glass", -70, 3, 1, "storage modulus", 3],
  ])("%s", (_, at_C, storage, loss, quantity, ratio) => {
    const sweep = spoiled(at_C, storage, loss);
    const { transitions, notices } = glassTransitions(sweep);
    const { tanDeltaPeak, lossModulusPeak, storageModulusOnset, furtherPeaks } = transitions[0];
    expect(Math.abs(tanDeltaPeak!.temperature_C! - clean.tanDeltaPeak!.temperature_C!)).toBeLessThan(0.4);
    expect(Math.abs(lossModulusPeak!.temperature_C! - clean.lossModulusPeak!.temperature_C!)).toBeLessThan(
      0.3,
    );
    expect(
      Math.abs(storageModulusOnset!.temperature_C - clean.storageModulusOnset!.temperature_C),
    ).toBeLessThan(0.5);
    expect(furtherPeaks).toEqual([]);
    const notice = notices.find(({ code }) => code === "fit.spike-left-out")!;
    const row = sweep.temperature_C.findIndex((t) => t >= at_C);
    expect(notice.message).toContain(`line ${sweep.provenance.firstLine + row} at`);
    expect(notice.message).toContain(`${quantity}, `);
    const [, times] = notice.message.match(/, ([\d.]+) times/)!;
    expect(Math.abs(Number(times) / ratio - 1)).toBeLessThan(0.06);
  });

  it("that stands a twentieth of a kelvin beside a right one, and not the rows whose neighbours the two are", () => {
    const sweep = spoiled(20, 1, 1);
    const at = sweep.temperature_C.findIndex((t) => t >= 20);
    const insert = (column: Float64Array, value: number) =>
      Float64Array.of(...column.subarray(0, at + 1), value, ...column.subarray(at + 1));
    const beside: DynamicMeasurement = {
      ...sweep,
      temperature_C: insert(sweep.temperature_C, sweep.temperature_C[at] + 0.05),
      frequency_Hz: insert(sweep.frequency_Hz, sweep.frequency_Hz[at]),
      storageModulus_Pa: insert(sweep.storageModulus_Pa, 0.1 * sweep.storageModulus_Pa[at]),
      lossModulus_Pa: insert(sweep.lossModulus_Pa, 0.1 * sweep.lossModulus_Pa[at]),
    };
    const { transitions, notices } = glassTransitions(beside);
    expect(transitions[0].tanDeltaPeak!.temperature_C).toBeCloseTo(clean.tanDeltaPeak!.temperature_C!, 1);
    const said = notices.filter(({ code }) => code === "fit.spike-left-out").map(({ message }) => message);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/both moduli, 0\.1 times the neighbours' value\. Look/);
  });

  it("two rows in a row", () => {
    const { transitions, notices } = glassTransitions(spoiled(10, 0.3, 0.3, 2));
    expect(Math.abs(transitions[0].tanDeltaPeak!.temperature_C! - truth_C.tan)).toBeLessThan(1);
    expect(notices.filter(({ code }) => code === "fit.spike-left-out")).toHaveLength(1);
    expect(
      notices.find(({ code }) => code === "fit.spike-left-out")!.message.split("both moduli"),
    ).toHaveLength(3);
  });

  it("is named without a line where the file's rows cannot be counted", () => {
    const sweep = spoiled(20, 0.1, 0.1);
    sweep.provenance.lastLine += 7;
    const { notices } = glassTransitions(sweep);
    expect(notices.find(({ code }) => code === "fit.spike-left-out")!.message).toContain("the row at");
  });
});

describe("no row of an undisturbed sweep is taken for stray", () => {
  const model = wedgeModel(wedgeMaterials["natural-rubber-like"]);
  const steep = (t: number, f: number) => complexModulus(model, t, f);

  it.each([0.5, 1, 2, 3, 5, 6, 8, 10])("in %d K steps", (step_K) => {
    for (const modulus of [havriliakNegami, steep]) {
      for (const noise of [0, 0.001, 0.01, 0.05]) {
        for (let seed = 1; seed <= 10; seed++) {
          const { notices } = glassTransitions(measure(modulus, { step_K, noise, seed }), {
            draws: 2,
            seed: 1,
          });
          expect(notices.filter(({ code }) => code === "fit.spike-left-out")).toEqual([]);
        }
      }
    }
  });
});

describe("the onset of the fall of M′ lies on the cold side of the M″ peak (ASTM E1640)", () => {
  it("in noisy sweeps, or it is not given", () => {
    let given = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const sweep = measure(havriliakNegami, { noise: 0.05, seed });
      const { storageModulusOnset, lossModulusPeak } = glassTransitions(sweep).transitions[0];
      if (storageModulusOnset === null || !lossModulusPeak?.bracketed) continue;
      given++;
      expect(storageModulusOnset.temperature_C).toBeLessThan(lossModulusPeak.temperature_C!);
    }
    expect(given).toBeGreaterThan(50);
  });

  it("is not taken from a second fall far above the transition", () => {
    const sweep = measure(havriliakNegami, { to_C: 60, seed: 3 });
    // The specimen slips out of its clamps: a fall steeper than the glass transition's.
    for (let i = 0; i < sweep.temperature_C.length; i++) {
      if (sweep.temperature_C[i] < 30) continue;
      sweep.storageModulus_Pa[i] /= 1000;
      sweep.lossModulus_Pa[i] /= 1000;
    }
    const { storageModulusOnset } = glassTransitions(sweep).transitions[0];
    expect(storageModulusOnset!.temperature_C).toBeLessThan(truth_C.loss);
    expect(storageModulusOnset!.temperature_C).toBeGreaterThan(truth_C.loss - 10);
  });

  it("is missing, with a notice, where the sweep starts in the fall", () => {
    const { transitions, notices } = glassTransitions(measure(havriliakNegami, { from_C: -36, seed: 2 }));
    expect(transitions[0].storageModulusOnset).toBeNull();
    expect(notices.map(({ code }) => code)).toContain("fit.no-onset");
  });
});

it("ripples of a noisy plateau are no second phase", () => {
  let further = 0;
  for (let seed = 1; seed <= 100; seed++) {
    const sweep = measure(havriliakNegami, { noise: 0.005, seed });
    const random = seededRandom(seed + 500);
    for (let i = 0; i < sweep.temperature_C.length; i++) {
      if (sweep.temperature_C[i] > 0) sweep.lossModulus_Pa[i] *= Math.exp(0.1 * random.normal());
    }
    if (glassTransitions(sweep, { draws: 20, seed: 1 }).transitions[0].furtherPeaks.length > 0) further++;
  }
  // Seven standard deviations of the local noise, itself known to a third: a few of a hundred.
  expect(further).toBeLessThanOrEqual(6);
});
