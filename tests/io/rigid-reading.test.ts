import { describe, expect, it } from "vitest";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { readText } from "../../src/io/read-text.js";

/** What an instrument of this rigid reading shows of a modulus: two springs in series, M R/(M + R), in complex numbers. */
function shown(storage: number, loss: number, rigid: number): { storage: number; loss: number } {
  const below = (storage + rigid) ** 2 + loss ** 2;
  return {
    storage: (rigid * (storage * (storage + rigid) + loss * loss)) / below,
    loss: (rigid * rigid * loss) / below,
  };
}

const rigid_MPa = 2500;
/** °C, MPa: a glass, its transition, a rubber. */
const specimen = [
  [-60, 2400, 60],
  [-50, 1900, 190],
  [-40, 600, 240],
  [-30, 90, 70],
  [-20, 12, 9],
  [0, 3, 0.6],
];

function exported(rows: number[][]): string {
  return [
    "Temperature (°C),Frequency (Hz),E' (MPa),E'' (MPa)",
    ...rows.map(([t, storage, loss]) => [t, 1, storage.toPrecision(15), loss.toPrecision(15)].join(",")),
  ].join("\n");
}

function readBehind(rows: number[][], options = {}) {
  const read = rows.map(([t, storage, loss]) => {
    const seen = shown(storage, loss, rigid_MPa);
    return [t, seen.storage, seen.loss];
  });
  return readText(exported(read), "sweep.csv", { deformation: "tension", ...options });
}

describe("the give of the instrument, stated by what a rigid bar reads", () => {
  it("is taken off: the specimen's own moduli come back to the digits of the export", () => {
    const outcome = readBehind(specimen, { rigidReading_MPa: rigid_MPa });
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const [sweep] = outcome.value.measurements as DynamicMeasurement[];
    for (const [i, [, storage, loss]] of specimen.entries()) {
      expect(sweep.storageModulus_Pa[i] / (storage * 1e6)).toBeCloseTo(1, 12);
      expect(sweep.lossModulus_Pa[i] / (loss * 1e6)).toBeCloseTo(1, 12);
    }
    const said = outcome.value.notices.find(({ code }) => code === "io.give-taken-off");
    // Of springs in series the softer one's share of the deflection: M/(M + R) = 2400/4900.
    expect(said?.message).toContain("rigid bar reads 2.50 GPa");
    expect(said?.message).toContain("up to 49 % of a row's deflection");
  });

  it("is left in, by more than a third of a glass, where nothing is stated", () => {
    const outcome = readBehind(specimen);
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const [sweep] = outcome.value.measurements as DynamicMeasurement[];
    expect(sweep.storageModulus_Pa[0] / 2400e6).toBeCloseTo(2500 / 4900, 2);
    expect(outcome.value.notices.map(({ code }) => code)).not.toContain("io.give-taken-off");
  });

  it("leaves out rows that are more the instrument's than the specimen's, by line and share", () => {
    const outcome = readBehind([[-70, 10_000, 100], ...specimen], { rigidReading_MPa: rigid_MPa });
    if (!outcome.ok) throw new Error(outcome.problem.message);
    expect(outcome.value.skipped).toHaveLength(1);
    // 10000/12500 of the deflection.
    expect(outcome.value.skipped[0]).toMatchObject({ line: 2 });
    expect(outcome.value.skipped[0].why).toContain("80 % of the deflection is the instrument's");
    expect((outcome.value.measurements[0] as DynamicMeasurement).temperature_C).toHaveLength(specimen.length);
  });

  it("cannot be less than what a specimen reads: an error with the line, both numbers and what to do", () => {
    const outcome = readText(exported(specimen), "sweep.csv", {
      deformation: "tension",
      rigidReading_MPa: 2000,
    });
    expect(outcome.ok).toBe(false);
    if (outcome.ok) return;
    expect(outcome.problem).toMatchObject({ code: "io.beyond-rigid-reading", line: 2 });
    expect(outcome.problem.message).toMatch(/2\.40 GPa; expected less than 2\.00 GPa.*Measure the bar/);
  });
});
