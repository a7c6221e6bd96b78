import { notice, problem } from "../../words/codes/codes.js";
import type { Notice, Outcome, Problem } from "../../words/notice.js";
import { quoted, shown } from "../../words/quoted.js";
import type { FileContent, Measurement, PropertyMeasurement, Skipped, StatedLine } from "../measurement.js";
import type { ReadOptions } from "../read-options.js";
import { fileInStudy } from "../study-example.js";
import type { ColumnOverride } from "../table/header/column-override.js";
import { SkippedList } from "../table/skipped-list.js";
import type { Spellings } from "../table/spellings.js";
import { fromSource, type Source } from "./from-source.js";

export interface Context {
  fileName: string;
  /** How the names in the file are written. */
  spellings: Spellings;
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
export function measurementsOf(sources: Source[], context: Context): Outcome<FileContent> {
  const { fileName, options, doubt } = context;
  const notices: Notice[] = [...(context.notices ?? [])];
  const left = new SkippedList();
  let measurements: Measurement[] = [];
  let properties: PropertyMeasurement[] = [];
  const stated: StatedLine[] = [];
  const problems: Problem[] = [];
  if (doubt !== null) {
    notices.push(
      notice(
        "io.decimal-mark-assumed",
        `Every number with a mark is like ${quoted(doubt.example)}, which can be read in two ways; it was taken for ${doubt.taken}. ` +
          `If that is wrong, state the mark in study.yaml: ${fileInStudy("decimalMark", context.decimalMark === "," ? "." : ",")}`,
      ),
    );
  }
  const said = new Set<string>();
  for (const source of sources) {
    const found = fromSource(source, fileName, options);
    const named = (text: string) => (source.sheet === null ? text : `Sheet ${quoted(source.sheet)}: ${text}`);
    for (const each of found.notices) {
      const message = named(each.message);
      if (said.has(message)) continue;
      said.add(message);
      notices.push({ ...each, message });
    }
    left.addAll(found.skipped);
    measurements = measurements.concat(found.measurements);
    properties = properties.concat(found.properties);
    for (const each of found.stated) stated.push(each);
    for (const trouble of found.problems) problems.push({ ...trouble, message: named(trouble.message) });
  }
  const unmatched = unmatchedOverride(sources, context.overrides);
  if (unmatched !== null) problems.unshift(unmatched);
  const isLong = (each: Measurement) => each.kind === "rebound" || each.temperature_C.length >= fewestPoints;
  const kept = measurements.filter(isLong);
  const [first] = problems;
  // A table that cannot be read makes a text a rejected file; a workbook keeps its other sheets.
  const isEmpty = kept.length === 0 && properties.length === 0;
  if (first !== undefined && (isEmpty || sources[0].sheet === null)) return { ok: false, problem: first };
  if (isEmpty) return { ok: false, problem: nothing(measurements, left.list()) };
  for (const trouble of problems) notices.push(notice("io.sheet-not-read", trouble.message));
  for (const { kind, provenance } of measurements.filter((each) => !isLong(each))) {
    left.add(provenance.firstLine, `${kind} of one row`, "a single point is no sweep");
  }
  const skipped = left.list();
  return {
    ok: true,
    value: {
      measurements: kept.map((each) => withSpellings(each, context.spellings)),
      properties: properties.map((each) => withSpellings(each, context.spellings)),
      stated,
      notices: [...notices, ...summaries(kept, left.count, skipped, fileName)],
      skipped,
      encoding: context.encoding,
      delimiter: context.delimiter,
      decimalMark: context.decimalMark,
    },
  };
}

function withSpellings<Measured extends { sample: string | null }>(measured: Measured, spellings: Spellings) {
  const found = measured.sample === null ? [] : spellings.of(measured.sample);
  return found.length === 0 ? measured : { ...measured, spellings: found };
}

/** An override that names no column of the file is a slip of the pen, and the file is not what the study thinks. */
function unmatchedOverride(sources: Source[], overrides: ColumnOverride[]): Problem | null {
  if (overrides.length === 0) return null;
  const layouts = sources.flatMap(({ reading }) => reading.blocks.map(({ layout }) => layout));
  if (layouts.length === 0) return null;
  const names = layouts.flatMap(({ columns }) => columns.map(({ reading }) => reading.text));
  const widths = layouts.reduce((widest, { columns }) => Math.max(widest, columns.length), 0);
  for (const { key } of overrides) {
    const wanted = shown(key);
    if (names.some((name) => shown(name) === wanted)) continue;
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

function summaries(
  measurements: Measurement[],
  count: number,
  skipped: Skipped[],
  fileName: string,
): Notice[] {
  const notices: Notice[] = [];
  if (skipped.length > 0) {
    const [first] = skipped;
    notices.push(
      notice(
        "io.rows-left-out",
        `${count} ${count === 1 ? "line was" : "lines were"} left out (the first is line ${first.line}: ${first.why}).`,
      ),
    );
  }
  const kinds = new Set(measurements.map(({ kind }) => kind));
  if (kinds.size > 1) {
    notices.push(
      notice(
        "io.file-was-split",
        `${fileName} holds ${[...kinds].map((kind) => `a ${kind}`).join(" and ")}; they were taken apart.`,
      ),
    );
  }
  if (measurements.some((each) => each.kind !== "rebound" && each.deformation === "unstated")) {
    notices.push(
      notice(
        "io.deformation-unstated",
        "The file does not say whether the specimen was in tension, bending or compression.",
      ),
    );
  }
  return notices;
}
