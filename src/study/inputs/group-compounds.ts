import type { Measurement, PropertyMeasurement } from "../../io/measurement.js";
import { notice } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { quoted, shown } from "../../words/quoted.js";
import { spelledOut } from "../../words/spelled-out.js";
import { globMatcher } from "../study-file/glob.js";
import type { Study, StudyCompound } from "../study-file/study.js";
import { byCodeUnit } from "./input-names.js";

export interface GroupedCompound {
  name: string;
  measurements: Measurement[];
  /** Hardness, abrasion and their like, as measured. */
  properties: PropertyMeasurement[];
  /** Where the files write its name in several ways that are shown alike. */
  notices: Notice[];
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
  const matchers = study.compounds.map((compound) => compound.files.map(globMatcher));
  const groups = new Map<string, Group>();
  const groupOf = (name: string): Group => {
    const key = shown(name);
    const known = groups.get(key) ?? { name, measurements: [], properties: [], written: new Map() };
    groups.set(key, known);
    return known;
  };
  for (const { path, measurements, properties } of readings) {
    const samples = new Set([...measurements, ...properties].map(({ sample }) => sample));
    const byGlob = study.compounds.find((_, i) => matchers[i].some((matches) => matches(path))) ?? null;
    const fileName = nameOfFile(path);
    const groupFor = ({ sample, spellings }: Measurement | PropertyMeasurement) => {
      const bySample = compoundOfSample(sample, study);
      const compound = samples.size <= 1 ? (byGlob ?? bySample) : (bySample ?? byGlob);
      const group = groupOf(compound?.name ?? sample ?? shown(fileName));
      // Where a glob of the study says whose the file is, its own name for it decides nothing.
      if (compound === null || compound !== byGlob)
        noteSpellings(group, path, sample ?? fileName, spellings ?? []);
      return group;
    };
    for (const measurement of measurements) {
      const group = groupFor(measurement);
      const known = study.compounds.find((each) => each.name === group.name);
      group.measurements.push(withDeformation(measurement, known?.deformation ?? null));
    }
    for (const property of properties) groupFor(property).properties.push(property);
  }
  const order = new Map(study.compounds.map((compound, i) => [compound.name, i]));
  return [...groups.values()]
    .map(({ written, ...group }) => ({ ...group, notices: joinedNames(written) }))
    .sort(
      (a, b) =>
        (order.get(a.name) ?? order.size) - (order.get(b.name) ?? order.size) || byCodeUnit(a.name, b.name),
    );
}

interface Group extends Omit<GroupedCompound, "notices"> {
  /** The ways in which each name, as it is shown, is written, with the first file that writes it so. */
  written: Map<string, Map<string, string>>;
}

function noteSpellings({ written }: Group, path: string, name: string, spellings: string[]): void {
  const key = shown(name);
  const ways = written.get(key) ?? new Map<string, string>();
  written.set(key, ways);
  for (const way of spellings.length > 0 ? spellings : [name]) if (!ways.has(way)) ways.set(way, path);
}

/** One caution a name that was written in several ways which a reader cannot tell apart. */
function joinedNames(written: Group["written"]): Notice[] {
  return [...written].flatMap(([name, ways]) => {
    if (ways.size < 2) return [];
    const list = [...ways].slice(0, mostListed).map(([way, path]) => `"${spelledOut(way)}" in ${path}`);
    const more = ways.size > mostListed ? ` and ${ways.size - mostListed} more` : "";
    const message = `${quoted(name)} is written in ways that look alike and were taken for one compound: ${list.join(", ")}${more}. If they are two, give them names that differ visibly.`;
    return [{ ...notice("study.names-joined", message), path: [...ways.values()][1] }];
  });
}

const mostListed = 5;

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
  return shown(name.normalize("NFKC")).toLowerCase();
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
