import { describe, expect, it } from "vitest";
import type { DynamicMeasurement, ReboundMeasurement } from "../../src/io/measurement.js";
import { readBytes } from "../../src/io/read-bytes.js";
import { compoundModel } from "../../src/study/demo/compound-model.js";
import {
  alderN,
  alderNSecondBatch,
  birch48,
  birch60,
  birch66,
  birchGum,
  type DemoCompound,
  hazelT,
  juniper55,
  lindenPU,
  mapleDuo,
  rowanW,
  spruceH,
} from "../../src/study/demo/compounds.js";
import { demoFolder } from "../../src/study/demo/demo-folder.js";
import { exactRebound } from "../../src/study/demo/rebound-table.js";

const files = new Map(demoFolder().map(({ path, bytes }) => [path, bytes]));

async function measurementsOf(path: string) {
  const outcome = await readBytes(files.get(path)!, path);
  if (!outcome.ok) throw new Error(`${path}: ${JSON.stringify(outcome.problem)}`);
  return outcome.value.measurements;
}

async function dynamicOf(path: string): Promise<DynamicMeasurement[]> {
  const measurements = await measurementsOf(path);
  return measurements.map((measurement) => {
    if (measurement.kind === "rebound") throw new Error(`${path} was read as a rebound table`);
    return measurement;
  });
}

/** [file, compound, sample as read, deformation as read, points by kind] */
const sweeps: [string, DemoCompound, string | null, string, Record<string, number>][] = [
  ["Birch 60 Temperaturdurchläufe.csv", birch60, "Birch 60", "shear", { "temperature sweep": 364 }],
  ["Birch 60 Frequenzdurchläufe.txt", birch60, "Birch 60", "shear", { "frequency sweep": 272 }],
  ["Rowan W winter.txt", rowanW, "Rowan W", "tension", { "temperature sweep": 364 }],
  ["rowan w frequency sweeps (psi).csv", rowanW, "Rowan W", "tension", { "frequency sweep": 272 }],
  ["alder_n_tension.csv", alderN, "Alder N", "tension", { "temperature sweep": 364 }],
  ["Alder N balayages isothermes.csv", alderN, "Alder N", "tension", { "frequency sweep": 195 }],
  [
    "Alder N seconda mescola.csv",
    alderNSecondBatch,
    "Alder N batch 2",
    "tension",
    { "temperature sweep": 284 },
  ],
  ["Spruce H.dat", spruceH, "Spruce H", "tension", { "temperature sweep": 361 }],
  ["Spruce H isotherms.csv", spruceH, null, "unstated", { "frequency sweep": 208 }],
  ["Linden PU.xlsx", lindenPU, "Linden PU", "tension", { "temperature sweep": 364, "frequency sweep": 208 }],
  ["Maple Duo sweep.csv", mapleDuo, "Maple Duo", "shear", { "temperature sweep": 364 }],
  ["Maple Duo isotherms.txt", mapleDuo, "Maple Duo", "shear", { "frequency sweep": 325 }],
  ["Juniper 55 barrido.txt", juniper55, "Juniper 55", "tension", { "temperature sweep": 71 }],
  ["Filler series Birch gum.csv", birchGum, "Birch gum", "shear", { "temperature sweep": 244 }],
  ["Filler series Birch 48.csv", birch48, "Birch 48", "shear", { "temperature sweep": 244 }],
  ["Filler series Birch 66.csv", birch66, "Birch 66", "shear", { "temperature sweep": 244 }],
  ["Hazel T to the warm end.csv", hazelT, "Hazel T", "tension", { "temperature sweep": 204 }],
];

describe("reading the demo folder", () => {
  it.each(sweeps)("%s", async (path, compound, sample, deformation, kinds) => {
    const measurements = await dynamicOf(path);
    const points: Record<string, number> = {};
    const model = compoundModel(compound);
    let sum = 0;
    let count = 0;
    for (const measurement of measurements) {
      points[measurement.kind] = (points[measurement.kind] ?? 0) + measurement.temperature_C.length;
      expect(measurement.sample).toBe(sample);
      expect(measurement.deformation).toBe(deformation);
      for (let i = 0; i < measurement.temperature_C.length; i++) {
        const exact = model.complexModulus(measurement.temperature_C[i], measurement.frequency_Hz[i]);
        sum += (measurement.storageModulus_Pa[i] / exact.storageModulus_Pa - 1) ** 2;
        sum += (measurement.lossModulus_Pa[i] / exact.lossModulus_Pa - 1) ** 2;
        count += 2;
      }
    }
    expect(points).toEqual(kinds);
    // The scatter that went in is 1 %: a wrong unit, frequency or temperature would show at once.
    expect(Math.sqrt(sum / count)).toBeGreaterThan(0.008);
    expect(Math.sqrt(sum / count)).toBeLessThan(0.012);
  });

  it("reads the strain sweep with its strains as fractions", async () => {
    const [sweep, ...others] = await dynamicOf("Birch 60 strain sweep.csv");
    expect(others).toHaveLength(0);
    expect(sweep.kind).toBe("strain sweep");
    expect(sweep.strainAmplitude![0]).toBeCloseTo(1e-4, 7);
    expect(sweep.strainAmplitude![29]).toBeCloseTo(0.25, 4);
    // The share that the strain takes away in the end is 55 %; at 25 % strain nearly all of it is gone.
    const left = sweep.storageModulus_Pa[29] / sweep.storageModulus_Pa[0];
    expect(left).toBeGreaterThan(0.42);
    expect(left).toBeLessThan(0.52);
  });

  it("reads six impacts per compound and temperature from the rebound table", async () => {
    const measurements = (await measurementsOf("Rückprall ISO 4662.csv")) as ReboundMeasurement[];
    const compounds = [birch60, rowanW, alderN, spruceH, lindenPU, mapleDuo];
    expect(measurements.map(({ sample }) => sample)).toEqual(compounds.map(({ name }) => name));
    for (const [i, { kind, method, readings }] of measurements.entries()) {
      expect(kind).toBe("rebound");
      expect(method).toMatch(/ISO 4662/);
      expect(readings.map(({ temperature_C }) => temperature_C)).toEqual([-20, -10, 0, 10, 23, 40, 60]);
      for (const { temperature_C, fractions } of readings) {
        expect(fractions).toHaveLength(6);
        const exact = exactRebound(compounds[i], temperature_C);
        for (const fraction of fractions.slice(3)) expect(Math.abs(fraction - exact)).toBeLessThan(0.015);
      }
    }
  });

  it.each(["Maple Duo export abgebrochen.csv", "Linden PU Kopie.xlsx"])(
    "refuses %s with a reason",
    async (path) => {
      const outcome = await readBytes(files.get(path)!, path);
      expect(outcome.ok).toBe(false);
      if (!outcome.ok) expect(outcome.problem.message.length).toBeGreaterThan(30);
    },
  );
});
