import type { Problem } from "../problem.js";
import { problem } from "../problem-codes.js";
import type { ColumnOverride } from "./column-override.js";
import type { Dialect } from "./dialect.js";
import { headerScore } from "./read-header-row.js";
import { LineWalker, longestLine } from "./records.js";
import { type Delimiter, spansOf, splitBlanks, splitRow } from "./split-row.js";
import { TableReader, type TableReading } from "./table-reader.js";

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
    if (layout !== null && layout.sampleColumn === null) {
      const plain =
        mark === 0 ? plainBlankRow(reader, text, start, end) : plainRow(reader, text, start, end, mark);
      if (plain) {
        reader.add(walker.line, null, null);
        continue;
      }
    }
    const { line } = walker;
    walker.joinQuoted(delimiter);
    const record = text.slice(start, walker.end);
    if (record.trim() === "") {
      reader.blankLine();
      continue;
    }
    const cells = blanks === null ? splitRow(record, delimiter as Delimiter) : blanks.split(record, reader);
    reader.row(cells, line, blanks === null ? undefined : splitBlanks(record, 2));
  }
  return reader.finish();
}

/** Parses a row of plain numbers into the reader's values; false where any cell is something else. */
function plainRow(reader: TableReader, text: string, start: number, end: number, mark: number): boolean {
  const { slotOf, slots } = reader.layout!;
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
      to = text.indexOf('"', from);
      if (to < 0 || to >= end) return false;
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
      if (!(Math.abs(value) < 1e30)) return false;
      values[slot] = value;
      if (parser.decimals > 0) reader.noteDecimals(slot, parser.decimals);
      filled++;
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
      if (!(Math.abs(value) < 1e30)) return false;
      values[slot] = value;
      if (parser.decimals > 0) reader.noteDecimals(slot, parser.decimals);
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

/**
 * Splits lines of aligned blanks. A header may hold single blanks; a row of numbers may hold empty cells, which
 * only the place in the line tells apart.
 */
class BlankSplitter {
  /** Where the columns of the last full row ended: numbers are aligned to the right. */
  private spans: [start: number, end: number][] = [];

  split(record: string, reader: TableReader): string[] {
    const width = reader.layout?.columns.length ?? 0;
    const spans = spansOf(record);
    if (reader.layout !== null) {
      if (spans.length === width) {
        this.spans = spans;
        return spans.map(([start, end]) => record.slice(start, end));
      }
      if (spans.length < width && this.spans.length === width) {
        const placed = this.placed(record, spans);
        if (placed !== null) return placed;
      }
    }
    const wide = splitBlanks(record, 2);
    const narrow = splitBlanks(record, 1);
    if (wide.length === narrow.length) return wide;
    const scores = [headerScore(wide), headerScore(narrow)];
    return scores[0] >= scores[1] && wide.length > 1 ? wide : narrow;
  }

  /** Cells put under the columns of the last full row; null where one fits none or two fit the same. */
  private placed(record: string, spans: [number, number][]): string[] | null {
    const cells = this.spans.map(() => "");
    for (const [start, end] of spans) {
      let best = -1;
      let most = 0;
      this.spans.forEach(([left, right], i) => {
        const shared = Math.min(end, right) - Math.max(start, left);
        if (shared > most) {
          most = shared;
          best = i;
        }
      });
      if (best < 0 || cells[best] !== "") return null;
      cells[best] = record.slice(start, end);
    }
    return cells;
  }
}
