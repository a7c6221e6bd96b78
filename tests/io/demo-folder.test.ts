import { describe, expect, it } from "vitest";
import type { DynamicMeasurement, Measurement, ReboundMeasurement } from "../../src/io/measurement.js";
import { readBytes } from "../../src/io/read-bytes.js";
import { demoFolder } from "../../src/study/demo/demo-folder.js";

/** The invented files of the demo folder: their layouts and grids are stated in src/study/demo. */
const files = new Map(demoFolder().map(({ path, bytes }) => [path, bytes]));

async function measurementsOf(path: string): Promise<Measurement[]> {
  const outcome = await readBytes(files.get(path)!, path);
  if (!outcome.ok) throw new Error(`${path}: ${JSON.stringify(outcome.problem)}`);
  return outcome.value.measurements;
}

/** Lines that begin with a number and hold no mark for a lost reading, counted without the reader. */
function rowsOfNumbers(path: string): number {
  const text = new TextDecoder("latin1").decode(files.get(path)).replaceAll("\0", "");
  return text.split(/\r?\n/).filter((line) => /^["\s]*-?\d/.test(line) && !/---|>>>/.test(line)).length;
}

type Row = [path: string, kind: string, sample: string | null, deformation: string, rate: number | null];

const sweeps: Row[] = [
  ["Birch 60 Temperaturdurchläufe.csv", "temperature sweep", "Birch 60", "shear", 1],
  ["Birch 60 Frequenzdurchläufe.txt", "frequency sweep", "Birch 60", "shear", null],
  ["Birch 60 strain sweep.csv", "strain sweep", "Birch 60", "shear", null],
  ["Rowan W winter.txt", "temperature sweep", "Rowan W", "tension", 1.5],
  ["rowan w frequency sweeps (psi).csv", "frequency sweep", "Rowan W", "tension", null],
  ["alder_n_tension.csv", "temperature sweep", "Alder N", "tension", 1],
  ["Alder N balayages isothermes.csv", "frequency sweep", "Alder N", "tension", null],
  ["Alder N seconda mescola.csv", "temperature sweep", "Alder N batch 2", "tension", 2],
  ["Spruce H.dat", "temperature sweep", "Spruce H", "tension", 1],
  ["Spruce H isotherms.csv", "frequency sweep", null, "unstated", null],
  ["Maple Duo sweep.csv", "temperature sweep", "Maple Duo", "shear", null],
  ["Maple Duo isotherms.txt", "frequency sweep", "Maple Duo", "shear", null],
  ["Filler series Birch gum.csv", "temperature sweep", "Birch gum", "shear", null],
  ["Filler series Birch 48.csv", "temperature sweep", "Birch 48", "shear", null],
  ["Filler series Birch 66.csv", "temperature sweep", "Birch 66", "shear", null],
  ["Hazel T to the warm end.csv", "temperature sweep", "Hazel T", "tension", null],
];

describe("the demo folder", () => {
  it.each(sweeps)("%s: %s", async (path, kind, sample, deformation, rate) => {
    const [one, ...others] = (await measurementsOf(path)) as DynamicMeasurement[];
    expect(others).toEqual([]);
    expect(one).toMatchObject({ kind, sample, deformation, heatingRate_K_min: rate });
    expect(one.direction).toBe(kind === "temperature sweep" ? "heating" : null);
    expect(one.temperature_C.length).toBe(rowsOfNumbers(path));
    expect(
      [...one.storageModulus_Pa, ...one.lossModulus_Pa].every((value) => value > 1e3 && value < 1e10),
    ).toBe(true);
  });

  it("one frequency in the preamble, the rate from the times", async () => {
    const [one] = (await measurementsOf("Juniper 55 barrido.txt")) as DynamicMeasurement[];
    expect(one).toMatchObject({
      kind: "temperature sweep",
      sample: "Juniper 55",
      deformation: "tension",
      direction: "heating",
    });
    expect(new Set(one.frequency_Hz)).toEqual(new Set([10]));
    expect(one.heatingRate_K_min).toBeCloseTo(2, 3);
  });

  it("a workbook of notes, a sweep and isotherms", async () => {
    const found = (await measurementsOf("Linden PU.xlsx")) as DynamicMeasurement[];
    expect(
      found.map(({ kind, sample, deformation, provenance, temperature_C }) => [
        kind,
        sample,
        deformation,
        provenance.sheet,
        temperature_C.length > 100,
      ]),
    ).toEqual([
      ["temperature sweep", "Linden PU", "tension", "Temperature sweep", true],
      ["frequency sweep", "Linden PU", "tension", "Isotherms", true],
    ]);
    expect(found[0].heatingRate_K_min).toBe(2);
  });

  it("the rebound table: seven temperatures of six impacts for six compounds", async () => {
    const found = (await measurementsOf("Rückprall ISO 4662.csv")) as ReboundMeasurement[];
    expect(found.map(({ sample }) => sample)).toEqual([
      "Birch 60",
      "Rowan W",
      "Alder N",
      "Spruce H",
      "Linden PU",
      "Maple Duo",
    ]);
    for (const { method, readings } of found) {
      expect(method).toMatch(/ISO 4662/);
      expect(readings.map(({ temperature_C }) => temperature_C)).toEqual([-20, -10, 0, 10, 23, 40, 60]);
      expect(readings.every(({ fractions }) => fractions.length === 6)).toBe(true);
    }
  });

  it.each([
    ["Maple Duo export abgebrochen.csv", "io.no-rows"],
    ["Linden PU Kopie.xlsx", "io.damaged-workbook"],
    ["README.txt", "io.no-known-column"],
  ])("%s is refused", async (path, code) => {
    expect(await readBytes(files.get(path)!, path)).toMatchObject({ ok: false, problem: { code } });
  });

  it("the same modulus in psi and °F as in the file's own digits", async () => {
    const [one] = (await measurementsOf("rowan w frequency sweeps (psi).csv")) as DynamicMeasurement[];
    const [, , , , first] = new TextDecoder()
      .decode(files.get("rowan w frequency sweeps (psi).csv"))
      .split("\r\n");
    const [fahrenheit, , psi] = first
      .slice(1, -1)
      .split('","')
      .map((cell) => Number(cell.replace(",", "")));
    expect(one.temperature_C[0]).toBeCloseTo((fahrenheit - 32) / 1.8, 9);
    // NIST Special Publication 811, B.8: 1 psi = 6.894 757 E+03 Pa.
    expect(one.storageModulus_Pa[0] / (psi * 6894.757)).toBeCloseTo(1, 7);
  });
});
