import { measurementsOf } from "./measure/measurements-of.js";
import type { Reading } from "./measurement.js";
import type { Outcome, Problem } from "./problem.js";
import { problem, quoted } from "./problem-codes.js";
import type { ReadOptions } from "./read-options.js";
import { readOverrides } from "./table/column-override.js";
import { dialectOf } from "./table/dialect.js";
import { headerScore } from "./table/read-header-row.js";
import { readLines } from "./table/read-lines.js";
import { delimiterNames } from "./table/split-row.js";
import { tableTrouble } from "./table/table-trouble.js";

/**
 * Reads the text of an export: delimited in any usual way, with any preamble, in sections or not. Never
 * throws for what is in the text; a text that cannot be used gives a problem with its place.
 * @param fileName for messages and provenance
 * @example readText("T/°C;f/Hz;E'/MPa;tan δ\n-20;10;120;0,8\n-10;10;45;0,9\n0;10;20;0,5", "birch.csv").value.measurements[0].lossModulus_Pa // [96000000, 40500000, 10000000]
 */
export function readText(text: string, fileName: string, options: ReadOptions = {}): Outcome<Reading> {
  const outcome = readTable(text, fileName, options, false);
  // The first lines may have left the decimal mark open; a contradiction further down settles it.
  if (outcome === "look at everything") {
    const second = readTable(text, fileName, options, true);
    if (second !== "look at everything") return second;
  }
  return outcome as Outcome<Reading>;
}

function readTable(
  text: string,
  fileName: string,
  options: ReadOptions,
  everything: boolean,
): Outcome<Reading> | "look at everything" {
  if (isBlankText(text)) {
    return failed(
      problem("io.empty-file", "The file is empty: it holds nothing but blank lines. Export it again."),
    );
  }
  const overrides = readOverrides(options.columns ?? {});
  if (!Array.isArray(overrides)) return failed(overrides);
  const dialect = dialectOf(text, { decimalMark: options.decimalMark, everything, headerScore });
  const lines = readLines(text, dialect, overrides);
  if ("code" in lines) return failed(lines);
  if (lines.conflict !== null) {
    if (!everything && options.decimalMark === undefined) return "look at everything";
    const { line, column, cell } = lines.conflict;
    const mark = dialect.format.decimal === 44 ? "comma" : "point";
    return failed(
      problem(
        "io.decimal-marks-differ",
        `${quoted(cell)} does not fit the decimal ${mark} of the other numbers; expected one decimal mark in the whole ` +
          `file. Export with one mark, or state decimalMark.`,
        line,
        column,
      ),
    );
  }
  const trouble = tableTrouble(lines, text);
  if (trouble !== null) return failed(trouble);
  return measurementsOf([{ reading: lines, sheet: null }], {
    fileName,
    options,
    overrides,
    encoding: "UTF-8",
    delimiter: delimiterNames[dialect.delimiter],
    decimalMark: dialect.format.decimal === 44 ? "," : ".",
    doubt: dialect.doubt,
  });
}

function failed(found: Problem): Outcome<Reading> {
  return { ok: false, problem: found };
}

function isBlankText(text: string): boolean {
  return text.length === 0 || (text.length < 1_000_000 && text.trim() === "");
}
