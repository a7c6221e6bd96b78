import { pushTo } from "../../numeric/push-to.js";
import type { Notice, Problem } from "../../words/notice.js";
import type { Measurement, PropertyMeasurement, ReboundMeasurement, StatedLine } from "../measurement.js";
import { hasProperty, propertyMeasurements } from "../properties/property-measurements.js";
import type { ReadOptions } from "../read-options.js";
import type { SkippedList } from "../table/skipped-list.js";
import type { TableContents } from "../table/table-contents.js";
import { dynamicMeasurements } from "./dynamic/dynamic.js";
import { joinedPivots } from "./joined-pivots.js";
import type { Series } from "./pool.js";
import { checkRebound, type JudgedRows } from "./rebound/impossible-rebound.js";
import { hasRebound, reboundMeasurements } from "./rebound/rebound.js";
import { Rejection } from "./rejection.js";
import { hasModulus, seriesOf } from "./series.js";
import { statedLines } from "./stated-lines.js";
import type { Told } from "./told.js";
import { disagreementNotices } from "./units/disagreements.js";
import { checkModuli } from "./units/impossible-moduli.js";
import { type ChosenUnits, chooseUnits } from "./units/si-columns.js";

/** One table of a file, or one sheet of a workbook. */
export interface Source {
  reading: TableContents;
  sheet: string | null;
  /** Sample's name where the sheet itself states none. */
  fallbackSample?: string | null;
}

/** What one source gives. */
export interface Found {
  measurements: Measurement[];
  properties: PropertyMeasurement[];
  stated: StatedLine[];
  notices: Notice[];
  skipped: SkippedList;
  problems: Problem[];
}

/** The measurements of one table of a file or one sheet of a workbook; a problem ends the source, not the file. */
export function fromSource(source: Source, fileName: string, options: ReadOptions): Found {
  const { reading } = source;
  const told: Told = {
    notices: [...reading.notices],
    skipped: reading.skipped,
    disagreements: new Map(),
    lastFacts: reading.facts,
    said: reading.said,
    names: [
      ...(source.sheet === null ? [] : [{ name: source.sheet, what: "the sheet's name" }]),
      { name: fileName.slice(fileName.lastIndexOf("/") + 1), what: "the file's name" },
    ],
    statedOnce: isStatedOnce(reading),
  };
  const problems = [...reading.problems];
  let measurements: Measurement[] = [];
  const properties: PropertyMeasurement[] = [];
  try {
    measurements = measured(source, fileName, options, told, properties);
  } catch (error) {
    if (!(error instanceof Rejection)) throw error;
    problems.unshift(error.problem);
  }
  const notices = [...told.notices, ...disagreementNotices(told.disagreements)];
  return {
    measurements,
    properties,
    stated: statedLines(reading.said, source.sheet),
    notices,
    skipped: told.skipped,
    problems,
  };
}

function isStatedOnce({ blocks }: TableContents): boolean {
  if (blocks.length <= 1) return true;
  const lines = blocks.map(({ facts }) => `${facts.frequency?.line} ${facts.temperature?.line}`);
  return new Set(lines).size <= 1;
}

function measured(
  source: Source,
  fileName: string,
  options: ReadOptions,
  told: Told,
  properties: PropertyMeasurement[],
): Measurement[] {
  const { reading, sheet, fallbackSample = null } = source;
  const blocks = joinedPivots(reading.blocks.filter(({ rows }) => rows > 0));
  const chosen: ChosenUnits = chooseUnits(blocks, told.notices);
  checkModuli(blocks, chosen);
  const found: Measurement[] = [];
  const all: Series[] = [];
  const judged: JudgedRows = new Map();
  for (const block of blocks) {
    const { groups } = block.layout;
    if (groups.some(hasRebound)) {
      const own = reboundMeasurements(block, sheet, fileName, options, chosen, told, fallbackSample, judged);
      for (const each of own) found.push(each);
    }
    if (groups.some(hasProperty)) {
      const place = { sheet, fileName, fallbackSample };
      for (const each of propertyMeasurements(block, place, options, chosen, told.notices))
        properties.push(each);
    }
    if (!groups.some(hasModulus)) continue;
    for (const each of seriesOf(block, sheet, options, chosen, told, fallbackSample)) all.push(each);
  }
  checkRebound(judged, told);
  for (const members of ofOneSpecimen(all)) {
    for (const each of dynamicMeasurements(members, fileName, chosen, told.notices)) found.push(each);
  }
  return joinRebound(found).sort((a, b) => a.provenance.firstLine - b.provenance.firstLine);
}

/** The series that belong together: those of one sample, deformation and run. */
function ofOneSpecimen(series: Series[]): Iterable<Series[]> {
  if (series.length < 2) return [series].filter((members) => members.length > 0);
  const groups = new Map<string, Series[]>();
  for (const each of series) {
    pushTo(groups, JSON.stringify([each.sample, each.deformation, each.run]), each);
  }
  return groups.values();
}

/** Rebound blocks of one sample and method, parted by blank lines or titles, are one measurement. */
function joinRebound(measurements: Measurement[]): Measurement[] {
  const joined: Measurement[] = [];
  const first = new Map<string, ReboundMeasurement>();
  for (const each of measurements) {
    const key = each.kind === "rebound" ? JSON.stringify([each.sample, each.method]) : "";
    const before = first.get(key);
    if (each.kind === "rebound" && before !== undefined) {
      for (const reading of each.readings) before.readings.push(reading);
      before.provenance.lastLine = Math.max(before.provenance.lastLine, each.provenance.lastLine);
      continue;
    }
    joined.push(each);
    if (each.kind === "rebound") first.set(key, each);
  }
  return joined;
}
