import { problem } from "../words/codes/codes.js";
import type { Outcome, Problem } from "../words/notice.js";
import { quoted } from "../words/quoted.js";
import { textOfUtf8 } from "./bytes/decode-text.js";
import { documentIn } from "./bytes/recognise-bytes.js";
import { measurementsOf } from "./measure/measurements-of.js";
import type { FileContent } from "./measurement.js";
import type { ReadOptions } from "./read-options.js";
import { fileInStudy, withFileName } from "./study-example.js";
import { type ColumnOverride, readOverrides } from "./table/header/column-override.js";
import { headerScore } from "./table/header/read-header-row.js";
import { type Dialect, dialectOf, marksOfRows, settledDialect } from "./table/lines/dialect.js";
import { charactersOf, LineWalker, withLineFeeds } from "./table/lines/records.js";
import { delimiterNames, splitRow } from "./table/lines/split-row.js";
import { isIgnored } from "./table/plain-rows.js";
import { readLines } from "./table/read-lines.js";
import type { TableContents } from "./table/table-contents.js";
import { TableReader } from "./table/table-reader.js";
import { tableTrouble } from "./table/table-trouble.js";
import type { CellRow } from "./table/transposed.js";
import { turnedTable } from "./table/turned.js";

/**
 * Reads the text of an export: delimited in any usual way, with any preamble, in sections or not. Never
 * throws for what is in the text; a text that cannot be used gives a problem with its place.
 * @param fileName for messages and provenance
 * @example readText("T/°C;f/Hz;E'/MPa;tan δ\n-20;10;120;0,8\n-10;10;45;0,9\n0;10;20;0,5", "birch.csv").value.measurements[0].lossModulus_Pa // [96000000, 40500000, 10000000]
 */
export function readText(text: string, fileName: string, options: ReadOptions = {}): Outcome<FileContent> {
  return readUtf8(new TextEncoder().encode(text), fileName, options);
}

/** The same from the text's bytes: nearly all of them are numbers, for which no string has to be made. */
export function readUtf8(utf8: Uint8Array, fileName: string, options: ReadOptions): Outcome<FileContent> {
  if (isBlankText(utf8)) {
    return failed(
      problem("io.empty-file", "The file is empty: it holds nothing but blank lines. Export it again."),
    );
  }
  return named(readKnownText(utf8, fileName, options), fileName);
}

/** With the file's own name in the examples of its messages. */
function named(outcome: Outcome<FileContent>, fileName: string): Outcome<FileContent> {
  if (!outcome.ok) return { ok: false, problem: withFileName(outcome.problem, fileName) };
  const notices = outcome.value.notices.map((notice) => withFileName(notice, fileName));
  return { ok: true, value: { ...outcome.value, notices } };
}

function readKnownText(utf8: Uint8Array, fileName: string, options: ReadOptions): Outcome<FileContent> {
  const document = documentIn(textOfUtf8(utf8, 0, Math.min(utf8.length, headBytes)));
  if (document !== null) return failed(document);
  const ended = withLineFeeds(utf8);
  const outcome = readTable(ended, fileName, options, false);
  // The first lines may have left the decimal mark open; a contradiction further down settles it.
  if (outcome === "look at everything") {
    const second = readTable(ended, fileName, options, true);
    if (second !== "look at everything") return second;
  }
  return outcome as Outcome<FileContent>;
}

function readTable(
  utf8: Uint8Array,
  fileName: string,
  options: ReadOptions,
  everything: boolean,
): Outcome<FileContent> | "look at everything" {
  const overrides = readOverrides(options.columns ?? {});
  if (!Array.isArray(overrides)) return failed(overrides);
  const likely = dialectOf(utf8, { decimalMark: options.decimalMark, everything, headerScore });
  const samples = new Map<number, number>();
  const walker = new LineWalker(utf8, samples);
  let lines = readLines(walker, likely, overrides, options.ignoreRows);
  let dialect = settledDialect(likely, walker, samples);
  if (dialect.format !== likely.format)
    lines = readLines(new LineWalker(utf8), dialect, overrides, options.ignoreRows);
  if ("code" in lines) return failed(lines);
  if (lines.conflict !== null) {
    if (!everything && options.decimalMark === undefined) return "look at everything";
    const { line, column, cell } = lines.conflict;
    const mark = dialect.format.decimal === 44 ? "comma" : "point";
    return failed(
      problem(
        "io.decimal-marks-differ",
        `${quoted(cell)} does not fit the decimal ${mark} of the other numbers; expected one decimal mark in the whole ` +
          `file. Export with one mark, or state the right one in study.yaml: ${fileInStudy("decimalMark", mark === "comma" ? "." : ",")}`,
        line,
        column,
      ),
    );
  }
  const trouble = tableTrouble(lines);
  if (trouble !== null) {
    const turned = readTurned(utf8, dialect, overrides, options);
    if (turned === null) return failed(trouble);
    turned.lines.spellings.addAll(lines.spellings);
    lines = turned.lines;
    dialect = turned.dialect;
  }
  const outcome = measurementsOf([{ reading: lines, sheet: null }], {
    fileName,
    spellings: lines.spellings,
    options,
    overrides,
    encoding: "UTF-8",
    delimiter: delimiterNames[dialect.delimiter],
    decimalMark: dialect.format.decimal === 44 ? "," : ".",
    doubt: dialect.doubt,
  });
  lines.blocks.at(-1)?.release();
  return outcome;
}

/** What a text gives whose quantities stand in rows, or one value to a row; null where they do not. */
function readTurned(
  utf8: Uint8Array,
  dialect: Dialect,
  overrides: ColumnOverride[],
  { ignoreRows = [], decimalMark }: ReadOptions,
): { lines: TableContents; dialect: Dialect } | null {
  const { delimiter } = dialect;
  if (delimiter === "blanks" || utf8.length > mostTransposed) return null;
  const rows: CellRow[] = [];
  const walker = new LineWalker(utf8);
  while (walker.advance()) {
    walker.joinQuoted(delimiter);
    if (isIgnored(ignoreRows, walker.line)) continue;
    rows.push({ line: walker.line, cells: splitRow(walker.text(), delimiter) });
  }
  // Of one number to a row the lines told little; the cells tell more.
  const own =
    decimalMark === undefined ? { delimiter, ...marksOfRows(rows.map(({ cells }) => cells)) } : dialect;
  const lines = turnedTable(rows, (turned) => {
    const reader = new TableReader(own.format, overrides);
    for (const { line, cells } of turned) reader.row(cells, line);
    return reader.finish();
  });
  return lines === null ? null : { lines, dialect: own };
}

function failed(found: Problem): Outcome<FileContent> {
  return { ok: false, problem: found };
}

/** Enough for what a document that is no table says of itself. */
const headBytes = 1000;
/** A table turned on its side is short. */
const mostTransposed = 5_000_000;
const mostBlanks = 1_000_000;

function isBlankText(utf8: Uint8Array): boolean {
  let at = 0;
  while (at < utf8.length && isAsciiBlank(utf8[at])) at++;
  if (at < utf8.length && utf8[at] < 0x80) return false;
  if (charactersOf(utf8, 0, utf8.length) >= mostBlanks) return false;
  return at === utf8.length || textOfUtf8(utf8, at, utf8.length).trim() === "";
}

function isAsciiBlank(byte: number): boolean {
  return byte === 32 || (byte >= 9 && byte <= 13);
}
