import picomatch from "picomatch";
import type { Measurement, PropertyMeasurement } from "../../io/measurement.js";
import type { Study, StudyCompound } from "../study-file/study.js";
import { byCodeUnit } from "./input-names.js";

export interface GroupedCompound {
  name: string;
  measurements: Measurement[];
  /** Hardness, abrasion and their like, as measured. */
  properties: PropertyMeasurement[];
}

/**
 * Which compound each measurement belongs to. A file that holds one sample goes where a glob of the study
 * sends it; a table of many samples goes by the samples' own names; what the study does not know keeps its
 * sample name, else its file name. Compounds stand in the study's order, then by name.
 */
export function groupCompounds(
  readings: { path: string; measurements: Measurement[]; properties: PropertyMeasurement[] }[],
  study: Study,
): GroupedCompound[] {
  const matchers = study.compounds.map((compound) =>
    compound.files.map((glob) => picomatch(glob, { nocase: true, basename: !glob.includes("/") })),
  );
  const groups = new Map<string, GroupedCompound>();
  const groupOf = (name: string) => {
    const known = groups.get(name) ?? { name, measurements: [], properties: [] };
    groups.set(name, known);
    return known;
  };
  for (const { path, measurements, properties } of readings) {
    const samples = new Set([...measurements, ...properties].map(({ sample }) => sample));
    const byGlob = study.compounds.find((_, i) => matchers[i].some((matches) => matches(path))) ?? null;
    const nameOf = (sample: string | null) => {
      const bySample = compoundOfSample(sample, study);
      const compound = samples.size <= 1 ? (byGlob ?? bySample) : (bySample ?? byGlob);
      return compound?.name ?? sample ?? nameOfFile(path);
    };
    for (const measurement of measurements) {
      const { name, measurements: own } = groupOf(nameOf(measurement.sample));
      const known = study.compounds.find((each) => each.name === name);
      own.push(withDeformation(measurement, known?.deformation ?? null));
    }
    for (const property of properties) groupOf(nameOf(property.sample)).properties.push(property);
  }
  const order = new Map(study.compounds.map((compound, i) => [compound.name, i]));
  return [...groups.values()].sort(
    (a, b) =>
      (order.get(a.name) ?? order.size) - (order.get(b.name) ?? order.size) || byCodeUnit(a.name, b.name),
  );
}

function compoundOfSample(sample: string | null, study: Study): StudyCompound | null {
  if (sample === null) return null;
  const wanted = foldName(sample);
  return (
    study.compounds.find((compound) =>
      [compound.name, ...compound.samples].some((name) => foldName(name) === wanted),
    ) ?? null
  );
}

function foldName(name: string): string {
  return name.normalize("NFKC").toLowerCase().replace(/\s+/g, " ").trim();
}

function nameOfFile(path: string): string {
  const file = path.slice(path.lastIndexOf("/") + 1);
  const dot = file.lastIndexOf(".");
  return dot > 0 ? file.slice(0, dot) : file;
}

function withDeformation(measurement: Measurement, stated: StudyCompound["deformation"]): Measurement {
  if (measurement.kind === "rebound" || measurement.deformation !== "unstated" || stated === null)
    return measurement;
  return { ...measurement, deformation: stated };
}
