import type { Problem } from "../problem.js";
import { problem } from "../problem-codes.js";
import { BlankSplitter } from "./blank-splitter.js";
import type { ColumnOverride } from "./column-override.js";
import type { Dialect } from "./dialect.js";
import { LineWalker, longestLine } from "./records.js";
import { type Delimiter, splitBlanks, splitRow } from "./split-row.js";
import { overRangeValue, TableReader } from "./table-reader.js";
import type { TableReading } from "./table-reading.js";

/** Lines that may stand before the first header. */
const longestPreamble = 20_000;

/**
 * Reads the lines of a text into blocks of numbers. Plain rows are parsed where they stand, without making
 * strings; every other line is split into cells and looked at in full.
 */
export function readLines(
  text: string,
  { delimiter, format }: Dialect,
  overrides: ColumnOverride[],
): TableReading | Problem {
  const reader = new TableReader(format, overrides);
  const walker = new LineWalker(text);
  const mark = delimiter === "blanks" ? 0 : delimiter.charCodeAt(0);
  const blanks = delimiter === "blanks" ? new BlankSplitter() : null;
  while (walker.advance()) {
    const { start, end } = walker;
    if (end - start > longestLine) {
      return problem(
        "io.line-too-long",
        `Line ${walker.line} is ${end - start} characters long; no row of a table is longer than ${longestLine}. ` +
          `Export with one row per line.`,
        walker.line,
      );
    }
    const { layout } = reader;
    const hasWords = layout !== null && (layout.methodColumn !== null || layout.labelColumns.length > 0);
    if (layout !== null && !hasWords && (mark !== 0 || layout.sampleColumn === null)) {
      const plain =
        mark === 0 ? plainBlankRow(reader, text, start, end) : plainRow(reader, text, start, end, mark);
      if (plain) {
        reader.add(walker.line);
        continue;
      }
    }
    const { line } = walker;
    // A file that has not come to a header by now is a log or a letter.
    if (line > longestPreamble && !reader.isHeaderMet) break;
    walker.joinQuoted(delimiter);
    const record = text.slice(start, walker.end);
    if (record.trim() === "") {
      reader.blankLine();
      blanks?.forget();
      continue;
    }
    const cells = blanks === null ? splitRow(record, delimiter) : blanks.split(record, line, reader);
    if (cells === null) continue;
    reader.row(cells, line, statementCells(record, cells, delimiter));
  }
  return reader.finish();
}

/** How a line of words parts where it does not part as the table's rows do. */
function statementCells(record: string, cells: string[], delimiter: Delimiter): string[] | undefined {
  if (delimiter === "blanks") return splitBlanks(record, 2);
  // In "Frequency: 12,5 Hz" of a file with commas between cells, the comma parts nothing.
  if (delimiter === "," && cells.length > 1 && /[:=：]/.test(cells[0]) && !record.startsWith('"')) {
    return [record.replace(/[,\s]+$/, "")];
  }
  return undefined;
}

/** Parses a row of plain numbers into the reader's values; false where any cell is something else. */
function plainRow(reader: TableReader, text: string, start: number, end: number, mark: number): boolean {
  const { slotOf, slots, sampleColumn } = reader.layout!;
  const { parser, values } = reader;
  let filled = 0;
  let position = 0;
  let at = start;
  while (at <= end) {
    let stop = at;
    let from = at;
    let to: number;
    if (text.charCodeAt(at) === 34) {
      from = at + 1;
      to = from;
      while (to < end && text.charCodeAt(to) !== 34) to++;
      if (to === end) return false;
      stop = to + 1;
      if (stop < end && text.charCodeAt(stop) !== mark) return false;
    } else {
      while (stop < end && text.charCodeAt(stop) !== mark) stop++;
      to = stop;
    }
    const slot = position < slotOf.length ? slotOf[position] : -1;
    if (slot >= 0) {
      const value = parser.parse(text, from, to, slots[slot].power);
      // NaN fails this too; so does what instruments write for "over range".
      if (!(Math.abs(value) < overRangeValue)) return false;
      values[slot] = value;
      if (parser.precision > 1) reader.notePrecision(slot, parser.precision);
      filled++;
    } else if (position === sampleColumn) {
      reader.takeSample(text, from, to);
    } else if (position >= slotOf.length) {
      if (from < to) return false;
    } else if (isWord(text.charCodeAt(from))) return false;
    position++;
    at = stop + 1;
  }
  return filled === slots.length;
}

/** A letter at the start of an unread cell: a footer's "mean" or a remark, for the careful way. */
function isWord(code: number): boolean {
  return (code >= 65 && code <= 122) || code > 0xbf;
}

function plainBlankRow(reader: TableReader, text: string, start: number, end: number): boolean {
  const { slotOf, slots } = reader.layout!;
  const { parser, values } = reader;
  let filled = 0;
  let position = 0;
  let at = start;
  while (at < end) {
    while (at < end && isBlankCode(text.charCodeAt(at))) at++;
    if (at === end) break;
    let stop = at;
    while (stop < end && !isBlankCode(text.charCodeAt(stop))) stop++;
    if (position >= slotOf.length) return false;
    const slot = slotOf[position];
    if (slot >= 0) {
      const value = parser.parse(text, at, stop, slots[slot].power);
      if (!(Math.abs(value) < overRangeValue)) return false;
      values[slot] = value;
      if (parser.precision > 1) reader.notePrecision(slot, parser.precision);
      filled++;
    } else if (isWord(text.charCodeAt(at))) return false;
    position++;
    at = stop;
  }
  return filled === slots.length && position === slotOf.length;
}

function isBlankCode(code: number): boolean {
  return code === 32 || code === 9 || code === 0xa0;
}
