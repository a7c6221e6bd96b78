import { headerScore } from "../header/read-header-row.js";
import type { TableReader } from "../table-reader.js";
import { markOf } from "./cell-mark.js";
import { isNumberRow, looksNumeric } from "./looks-numeric.js";
import { spansOf, splitBlanks } from "./split-row.js";

type Span = [start: number, end: number];

/** Header rows above a table of aligned blanks: "Storage" over "modulus" over "(MPa)", and one to spare. */
const mostHeaderLines = 4;

/**
 * Splits lines of aligned blanks. A header may hold single blanks or stand in several lines, and a row of
 * numbers may hold empty cells: only the places in the line tell what belongs where.
 */
export class BlankSplitter {
  /** Where the columns of the last full row stood. */
  private spans: Span[] = [];
  /** Lines of words right above. */
  private words: { record: string; line: number }[] = [];

  /** Cells of a line; null where it is a row of which the reader was told that it cannot be used. */
  split(record: string, line: number, reader: TableReader): string[] | null {
    const spans = spansOf(record);
    const narrow = spans.map(([start, end]) => record.slice(start, end));
    if (reader.layout !== null) {
      const width = reader.layout.columns.length;
      if (spans.length === width) {
        this.spans = spans;
        return narrow;
      }
      if (spans.length < width && isNumberRow(narrow) && narrow.every(isNumberOrMark)) {
        const cells = this.spans.length === width ? placed(record, spans, this.spans) : null;
        if (cells !== null) return cells;
        reader.skip(
          line,
          record,
          `the row has ${spans.length} cells, the header ${width}, and which is missing cannot be told`,
        );
        return null;
      }
    }
    if (isNumberRow(narrow)) {
      if (reader.layout === null) this.offerHeader(spans, reader);
      this.spans = spans;
      this.words = [];
      return narrow;
    }
    this.words = [...this.words.slice(1 - mostHeaderLines), { record, line }];
    const wide = splitBlanks(record, 2);
    if (wide.length === narrow.length || wide.length < 2) return narrow;
    return headerScore(wide) >= headerScore(narrow) ? wide : narrow;
  }

  /** A blank line parts what stands above it from the table. */
  forget(): void {
    this.words = [];
  }

  /** Reads the lines of words above the first row of numbers column by column, where that tells more. */
  private offerHeader(columns: Span[], reader: TableReader): void {
    let best: string[] | null = null;
    let most = reader.openHeaderScore(columns.length);
    for (let count = 1; count <= this.words.length; count++) {
      const cells = columns.map(() => "");
      for (const { record } of this.words.slice(-count)) {
        for (const [start, end] of spansOf(record)) {
          const column = nearest(columns, start, end);
          cells[column] = `${cells[column]} ${record.slice(start, end)}`.trim();
        }
      }
      const score = headerScore(cells);
      if (score > most) {
        most = score;
        best = cells;
      }
    }
    if (best !== null) reader.replaceHeader(best, this.words[this.words.length - 1].line);
  }
}

/** "10.0 Hz -20.0 °C" is a title, not a row with cells missing. */
function isNumberOrMark(cell: string): boolean {
  return looksNumeric(cell) || markOf(cell) !== "text";
}

/** Cells put under the columns of the last full row; null where one fits none or two fit the same. */
function placed(record: string, spans: Span[], columns: Span[]): string[] | null {
  const cells = columns.map(() => "");
  for (const [start, end] of spans) {
    let best = -1;
    let most = 0;
    columns.forEach(([left, right], i) => {
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

/** The column that a word stands over: most of it shared, else the nearest. */
function nearest(columns: Span[], start: number, end: number): number {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  columns.forEach(([left, right], i) => {
    const gap = Math.max(left - end, start - right);
    if (gap < least) {
      least = gap;
      best = i;
    }
  });
  return best;
}
