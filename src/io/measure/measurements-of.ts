import type { DynamicMeasurement, Measurement, Reading, Skipped } from "../measurement.js";
import type { Notice, Outcome, Problem } from "../problem.js";
import { notice, problem, quoted } from "../problem-codes.js";
import type { ReadOptions } from "../read-options.js";
import type { ColumnOverride } from "../table/column-override.js";
import type { TableReading } from "../table/table-reader.js";
import { dynamicMeasurements } from "./dynamic.js";
import { pushTo } from "./push-to.js";
import { hasRebound, reboundMeasurements } from "./rebound.js";
import { Rejection } from "./rejection.js";
import { hasModulus, type Series, seriesOf, type Told } from "./series.js";
import { type ChosenUnits, chooseUnits } from "./si-columns.js";

/** One table of a file, or one sheet of a workbook. */
export interface Source {
  reading: TableReading;
  sheet: string | null;
  /** Sample's name where the sheet itself states none. */
  fallbackSample?: string | null;
}

export interface Context {
  fileName: string;
  options: ReadOptions;
  overrides: ColumnOverride[];
  encoding: string;
  delimiter: string;
  decimalMark: "." | "," | null;
  doubt: { example: string; taken: string } | null;
  notices?: Notice[];
}

/** Sweeps need at least so many points to be one. */
const fewestPoints = 2;

/** Turns the blocks of numbers of a file into measurements, in the order of the file. */
export function measurementsOf(sources: Source[], context: Context): Outcome<Reading> {
  const { fileName, doubt } = context;
  const notices: Notice[] = [...(context.notices ?? [])];
  const skipped: Skipped[] = [];
  const measurements: Measurement[] = [];
  const problems: Problem[] = [];
  if (doubt !== null) {
    notices.push(
      notice(
        "caution",
        "io.decimal-mark-assumed",
        `Every number with a mark is like ${quoted(doubt.example)}, which can be read in two ways; it was taken for ${doubt.taken}. ` +
          "State decimalMark if that is wrong.",
      ),
    );
  }
  for (const source of sources) {
    const own: Told = {
      notices: [],
      skipped: [...source.reading.skipped],
      statedOnce: isStatedOnce(source.reading),
    };
    const found = fromSource(source, context, own);
    for (const each of [...source.reading.notices, ...own.notices]) {
      const message = source.sheet === null ? each.message : `Sheet ${quoted(source.sheet)}: ${each.message}`;
      if (!notices.some((other) => other.message === message)) notices.push({ ...each, message });
    }
    skipped.push(...own.skipped.sort((a, b) => a.line - b.line));
    if (Array.isArray(found)) measurements.push(...found);
    else problems.push(source.sheet === null ? found : inSheet(found, source.sheet));
    for (const trouble of source.reading.problems) {
      problems.push(source.sheet === null ? trouble : inSheet(trouble, source.sheet));
    }
  }
  const unmatched = unmatchedOverride(sources, context.overrides);
  if (unmatched !== null) problems.unshift(unmatched);
  const kept = measurements.filter(
    (each) => each.kind === "rebound" || each.temperature_C.length >= fewestPoints,
  );
  const [first] = problems;
  // A table that cannot be read makes a text a rejected file; a workbook keeps its other sheets.
  if (first !== undefined && (kept.length === 0 || sources[0].sheet === null))
    return { ok: false, problem: first };
  if (kept.length === 0) return { ok: false, problem: nothing(measurements, skipped) };
  for (const trouble of problems) notices.push(notice("error", "io.sheet-not-read", trouble.message));
  for (const each of measurements) {
    if (!kept.includes(each)) skipped.push(tooShort(each as DynamicMeasurement));
  }
  return {
    ok: true,
    value: {
      measurements: kept,
      notices: [...notices, ...summaries(kept, skipped, fileName)],
      skipped,
      encoding: context.encoding,
      delimiter: context.delimiter,
      decimalMark: context.decimalMark,
    },
  };
}

function isStatedOnce({ blocks }: TableReading): boolean {
  const lines = blocks.map(({ facts }) => `${facts.lines.frequency} ${facts.lines.temperature}`);
  return new Set(lines).size <= 1;
}

function inSheet(found: Problem, sheet: string): Problem {
  return { ...found, message: `Sheet ${quoted(sheet)}: ${found.message}` };
}

function fromSource(
  { reading, sheet, fallbackSample = null }: Source,
  context: Context,
  told: Told,
): Measurement[] | Problem {
  const { fileName, options } = context;
  const blocks = reading.blocks.filter(({ rows }) => rows > 0);
  const found: Measurement[] = [];
  try {
    const chosen: ChosenUnits = chooseUnits(blocks, told.notices);
    const series: Series[] = [];
    for (const block of blocks) {
      const { groups } = block.layout;
      if (groups.some(hasRebound)) {
        found.push(...reboundMeasurements(block, sheet, fileName, options, chosen, told, fallbackSample));
      }
      if (groups.some((group) => hasModulus(group) || !hasRebound(group))) {
        series.push(...seriesOf(block, sheet, options, chosen, told, fallbackSample));
      }
    }
    for (const members of grouped(series).values()) {
      found.push(...dynamicMeasurements(members, fileName, chosen, told.notices));
    }
  } catch (error) {
    if (error instanceof Rejection) return error.problem;
    throw error;
  }
  return joinRebound(found).sort((a, b) => a.provenance.firstLine - b.provenance.firstLine);
}

function grouped(series: Series[]): Map<string, Series[]> {
  const groups = new Map<string, Series[]>();
  for (const each of series) {
    const key = JSON.stringify([each.sample, each.deformation]);
    pushTo(groups, key, each);
  }
  return groups;
}

/** Rebound blocks of one sample and method, parted by blank lines or titles, are one measurement. */
function joinRebound(measurements: Measurement[]): Measurement[] {
  const joined: Measurement[] = [];
  for (const each of measurements) {
    const before =
      each.kind === "rebound"
        ? joined.find(
            (one) => one.kind === "rebound" && one.sample === each.sample && one.method === each.method,
          )
        : undefined;
    if (before?.kind === "rebound" && each.kind === "rebound") {
      before.readings.push(...each.readings);
      before.provenance.lastLine = Math.max(before.provenance.lastLine, each.provenance.lastLine);
    } else joined.push(each);
  }
  return joined;
}

/** An override that names no column of the file is a slip of the pen, and the file is not what the study thinks. */
function unmatchedOverride(sources: Source[], overrides: ColumnOverride[]): Problem | null {
  const layouts = sources.flatMap(({ reading }) => reading.blocks.map(({ layout }) => layout));
  if (layouts.length === 0) return null;
  const names = layouts.flatMap(({ columns }) => columns.map(({ reading }) => reading.text));
  const widths = Math.max(...layouts.map(({ columns }) => columns.length));
  for (const { key } of overrides) {
    const wanted = key.replace(/\s+/g, " ").trim();
    if (names.some((name) => name.replace(/\s+/g, " ").trim() === wanted)) continue;
    if (/^\d+$/.test(wanted) && Number(wanted) >= 1 && Number(wanted) <= widths) continue;
    const known = [...new Set(names)].filter((name) => name !== "").slice(0, 8);
    return problem(
      "io.bad-override",
      `The column override ${quoted(key)} names no column of this file; its columns are ${known.map((name) => quoted(name, 30)).join(", ")}. ` +
        "Write the header as it stands there, or the column's number.",
    );
  }
  return null;
}

function nothing(measurements: Measurement[], skipped: Skipped[]): Problem {
  const [short] = measurements;
  if (short !== undefined) {
    return problem(
      "io.too-few-points",
      `The table holds a single usable row (line ${short.provenance.firstLine}); expected at least ${fewestPoints} points of a sweep` +
        `${skipped.length > 0 ? `, and ${skipped.length} rows were left out (line ${skipped[0].line}: ${skipped[0].why})` : ""}. Export the whole test.`,
      short.provenance.firstLine,
    );
  }
  const [row] = skipped;
  return problem(
    "io.no-rows",
    `No row holds all the values it needs${row === undefined ? "" : ` (line ${row.line}: ${row.why})`}; expected at least ` +
      `${fewestPoints} complete rows. Export the test again.`,
    row?.line,
  );
}

function tooShort({ kind, provenance }: DynamicMeasurement): Skipped {
  return { line: provenance.firstLine, text: `${kind} of one row`, why: "a single point is no sweep" };
}

function summaries(measurements: Measurement[], skipped: Skipped[], fileName: string): Notice[] {
  const notices: Notice[] = [];
  if (skipped.length > 0) {
    const [first] = skipped;
    notices.push(
      notice(
        "info",
        "io.rows-left-out",
        `${skipped.length} ${skipped.length === 1 ? "line was" : "lines were"} left out (the first is line ${first.line}: ${first.why}).`,
      ),
    );
  }
  const kinds = new Set(measurements.map(({ kind }) => kind));
  if (kinds.size > 1) {
    notices.push(
      notice(
        "info",
        "io.file-was-split",
        `${fileName} holds ${[...kinds].map((kind) => `a ${kind}`).join(" and ")}; they were taken apart.`,
      ),
    );
  }
  if (measurements.some((each) => each.kind !== "rebound" && each.deformation === "unstated")) {
    notices.push(
      notice(
        "info",
        "io.deformation-unstated",
        "The file does not say whether the specimen was in tension, bending or compression.",
      ),
    );
  }
  return notices;
}
