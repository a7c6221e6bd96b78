import { problem } from "../../words/codes/codes.js";
import type { Problem } from "../../words/notice.js";
import { foldText } from "../vocabulary/fold-text.js";
import type { ColumnOverride } from "./header/column-override.js";
import { BlankSplitter } from "./lines/blank-splitter.js";
import type { Dialect } from "./lines/dialect.js";
import { charactersOf, type LineWalker, longestLine } from "./lines/records.js";
import { byteOf, type Delimiter, splitBlanks, splitRow, writtenCells } from "./lines/split-row.js";
import { isIgnored, type LineRanges, PlainRows } from "./plain-rows.js";
import { isKnownName } from "./read-statements.js";
import { holdsUnseen } from "./spellings.js";
import type { TableContents } from "./table-contents.js";
import { TableReader } from "./table-reader.js";

/** Lines that may stand before the first header. */
const longestPreamble = 10_000;

/**
 * Reads the lines of a text into blocks of numbers. Plain rows are parsed where they stand, without making
 * strings; every other line is split into cells and looked at in full.
 * @param walker before the first line of a text that ends with a line end
 */
export function readLines(
  walker: LineWalker,
  { delimiter, format }: Dialect,
  overrides: ColumnOverride[],
  ignoreRows: LineRanges = [],
): TableContents | Problem {
  const reader = new TableReader(format, overrides);
  const { utf8 } = walker;
  const blanks = delimiter === "blanks" ? new BlankSplitter() : null;
  const mark = byteOf(delimiter);
  const plain = new PlainRows(reader, utf8, mark);
  for (;;) {
    if (maySkipWords(reader, delimiter)) plain.read(walker, ignoreRows);
    if (!walker.advance()) break;
    if (isIgnored(ignoreRows, walker.line)) {
      reader.skip(walker.line, walker.text(), "ignored by the study");
      continue;
    }
    if (walker.isLongerThan(longestLine)) {
      const characters = charactersOf(utf8, walker.start, walker.end);
      return problem(
        "io.line-too-long",
        `Line ${walker.line} is ${characters} characters long; no row of a table is longer than ${longestLine}. ` +
          `Export with one row per line.`,
        walker.line,
      );
    }
    const { line } = walker;
    // A file that has not come to a header by now is a log or a letter.
    if (line > longestPreamble && !reader.isHeaderMet) break;
    walker.joinQuoted(delimiter);
    const record = walker.text();
    if (record.trim() === "") {
      reader.blankLine();
      blanks?.forget();
      continue;
    }
    const cells = blanks === null ? splitRow(record, delimiter) : blanks.split(record, line, reader);
    if (cells === null) continue;
    const written = holdsUnseen(record, delimiter) ? writtenCells(record, delimiter) : null;
    reader.row(cells, line, statementCells(record, cells, delimiter), written);
  }
  return reader.finish();
}

/** Whether the rows under the layout at hand may be parsed without a look at their words. */
function maySkipWords({ layout, hasTitle }: TableReader, delimiter: Delimiter): boolean {
  if (layout === null || hasTitle || layout.methodColumn !== null || layout.labelColumns.length > 0)
    return false;
  return delimiter !== "blanks" || layout.sampleColumn === null;
}

/** How a line of words parts where it does not part as the table's rows do. */
function statementCells(record: string, cells: string[], delimiter: Delimiter): string[] | undefined {
  if (delimiter === "blanks") return splitBlanks(record, 2);
  // In "Frequency: 12,5 Hz" of a file with commas between cells, the comma parts nothing; in "Sample:,Birch 60" it does.
  if (
    delimiter === "," &&
    cells.length > 1 &&
    /[:=：](?=.*[^\s:=：])/.test(cells[0]) &&
    !record.startsWith('"')
  ) {
    return [record.replace(/[,\s]+$/, "")];
  }
  // "Frequency (Hz),1" over a table parted by semicolons: the lines above one need not be parted as it is.
  if (cells.length === 1) {
    const [, name, value] = /^([^\d,;\t:=]{1,60})[,;\t]([^,;\t]+)[,;\t]*$/.exec(record) ?? [];
    if (name !== undefined && isKnownName(foldText(name).trim())) return [name.trim(), value.trim()];
  }
  return undefined;
}
