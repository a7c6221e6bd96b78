import { expect, it } from "vitest";
import type { Measurement } from "../../src/io/measurement.js";
import { groupCompounds } from "../../src/study/inputs/group-compounds.js";
import { resolveStudy, type Study } from "../../src/study/study-file/study.js";
import { parseStudyFile } from "../../src/study/study-file/study-file.js";
import { makeSweep, wedgeMaterials, wedgeModel } from "../make/wedge-material.js";

const sweep = makeSweep(wedgeModel(wedgeMaterials["natural-rubber-like"]), { temperatures_C: [1, 2, 3] });
const of = (sample: string | null): Measurement => ({ ...sweep, sample, deformation: "unstated" });
const study = (text: string): Study => {
  const file = parseStudyFile(text);
  if (!file.ok) throw new Error(file.problem.message);
  return resolveStudy(file.value, new Map());
};
const names = (readings: { path: string; measurements: Measurement[] }[], text = "") =>
  groupCompounds(
    readings.map((one) => ({ ...one, properties: [] })),
    study(text),
  ).map(({ name, measurements }) => [name, measurements.length]);

it("without a study: the sample's own name, else the file's", () => {
  const readings = [
    { path: "x/run 7.csv", measurements: [of(null)] },
    { path: "a.csv", measurements: [of("Birch 60")] },
    { path: "b.csv", measurements: [of("Birch 60")] },
  ];
  expect(names(readings)).toEqual([
    ["Birch 60", 2],
    ["run 7", 1],
  ]);
});

it("a glob sends a file to its compound, whatever the sample is called in it", () => {
  const text = 'compounds:\n  - { name: Alder N, files: ["ald*.CSV"] }\n';
  expect(names([{ path: "sub/alder 3.csv", measurements: [of("A-N/3")] }], text)).toEqual([["Alder N", 1]]);
});

it("a table of many samples goes by the samples' names, aliases among them, in the study's order", () => {
  const text =
    'compounds:\n  - { name: Rowan W, samples: ["RW-1"] }\n  - { name: Birch 60, files: ["rebound.csv"] }\n';
  const readings = [{ path: "rebound.csv", measurements: [of("birch  60"), of("RW-1"), of("Larch")] }];
  expect(names(readings, text)).toEqual([
    ["Rowan W", 1],
    ["Birch 60", 2],
  ]);
});

it("the study's deformation fills in where the file does not say, and only there", () => {
  const text = "compounds:\n  - { name: Birch 60, deformation: shear }\n";
  const measurements = [of("Birch 60"), { ...sweep, sample: "Birch 60", deformation: "tension" as const }];
  const [group] = groupCompounds([{ path: "a.csv", measurements, properties: [] }], study(text));
  expect(group.measurements.map((m) => (m.kind === "rebound" ? null : m.deformation))).toEqual([
    "shear",
    "tension",
  ]);
});
