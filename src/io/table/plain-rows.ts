import { shown } from "../../words/quoted.js";
import { textOfUtf8 } from "../bytes/decode-text.js";
import { namesStatistic } from "../vocabulary/terms/qualifiers.js";
import { overRangeValue, scaledMantissa } from "./lines/number-format.js";
import { integerDigits, PlainCells } from "./lines/plain-cells.js";
import { type LineWalker, lineFeed, longestLine } from "./lines/records.js";
import type { TableReader } from "./table-reader.js";

const quote = 34;
const carriageReturn = 13;
const zero = 48;

/** Lines that the study says to pass over. */
export type LineRanges = [first: number, last: number][];

/** Whether the study says to pass a line over. */
export function isIgnored(ranges: LineRanges, line: number): boolean {
  return ranges.some(([first, last]) => line >= first && line <= last);
}

/**
 * Parses rows of plain numbers where they stand in the bytes of a text, without making strings. A row in which
 * any cell is something else is left to the careful way.
 */
export class PlainRows {
  private readonly cells: PlainCells;
  /** Bytes of the last sample's cell, and its name. */
  private sampleStart = 0;
  private sampleEnd = 0;
  private sample = "";
  /** As the file writes it, where the cell is another than the row above has. */
  private written: string | null = null;
  private isStatisticName = false;
  /** Bytes of the last word beside the numbers. */
  private remarkStart = 0;
  private remarkEnd = 0;

  /**
   * @param utf8 a text that ends with a line end
   * @param mark what parts the cells; 0 for runs of blanks
   */
  constructor(
    private readonly reader: TableReader,
    private readonly utf8: Uint8Array,
    mark: number,
  ) {
    this.cells = new PlainCells(utf8, mark, reader.parser);
  }

  /**
   * Parses rows from the walker's next line on into the reader's block, up to the first that is not plain, that the
   * study says to pass over, or that is longer than any row.
   */
  read(walker: LineWalker, ignoreRows: LineRanges): void {
    if (this.cells.mark === 0) this.readAligned(walker, ignoreRows);
    else this.readMarked(walker, ignoreRows);
  }

  private readMarked(walker: LineWalker, ignoreRows: LineRanges): void {
    const { reader, cells, utf8 } = this;
    const { mark, decimal } = cells;
    const { slotOf, slots, sampleColumn } = reader.layout!;
    const powers = Int32Array.from(slots, ({ power }) => power);
    const width = slotOf.length;
    const block = reader.rowBlock;
    while (this.mayGoOn(walker, ignoreRows)) {
      const row = block.room();
      const { data, precision } = block;
      let isNumbersOnly = true;
      let filled = 0;
      let hasRemark = false;
      let hasOddCell = false;
      let pendingName: string | null = null;
      let position = 0;
      let at = walker.next;
      for (; ; position++, at++) {
        const slot = position < width ? slotOf[position] : -1;
        if (slot >= 0) {
          filled++;
          // Nearly all numbers: a sign, a few digits, a decimal mark.
          const isNegative = utf8[at] === 45;
          const first = isNegative ? at + 1 : at;
          let stop = first;
          let mantissa = 0;
          let digit = utf8[stop] - zero;
          while (digit >>> 0 <= 9) {
            mantissa = (Math.imul(mantissa, 10) + digit) | 0;
            digit = utf8[++stop] - zero;
          }
          let digits = stop - first;
          let decimals = 0;
          if (digit + zero === decimal && decimal !== mark) {
            const point = stop++;
            digit = utf8[stop] - zero;
            while (digit >>> 0 <= 9) {
              mantissa = (Math.imul(mantissa, 10) + digit) | 0;
              digit = utf8[++stop] - zero;
            }
            decimals = stop - point - 1;
            digits += decimals;
          }
          const end = digit + zero;
          const isEnd =
            end === mark || end === lineFeed || (end === carriageReturn && utf8[stop + 1] === lineFeed);
          if (isEnd && digits >= 1 && digits <= integerDigits) {
            const value = scaledMantissa(mantissa, powers[slot] - decimals);
            if (!(value < overRangeValue)) return;
            data[slot][row] = isNegative ? -value : value;
            if (decimals >= precision[slot] && decimals > 0) reader.notePrecision(slot, 1 + decimals);
            at = stop;
          } else {
            if (!cells.number(at, powers[slot])) return;
            if (cells.isOdd) isNumbersOnly = false;
            data[slot][row] = cells.value;
            if (cells.precision > 1) reader.notePrecision(slot, cells.precision);
            at = cells.stop;
          }
        } else {
          const isQuoted = utf8[at] === quote;
          const from = isQuoted ? at + 1 : at;
          at = isQuoted ? cells.closingQuote(from) : cells.cellEnd(from);
          if (at < 0) return;
          const stop = isQuoted ? at + 1 : at;
          if (isQuoted && !cells.isCellEnd(stop)) return;
          if (from < at && !isAsciiWord(utf8[from])) isNumbersOnly = false;
          if (position === sampleColumn) {
            // Taken with its row; the careful way takes the name of a row that is left out.
            pendingName = this.sampleOf(from, at);
            if (this.isStatisticName) return;
          } else if (position >= width) {
            if (from < at) return;
          } else if (isWord(utf8[from])) {
            if (!this.isRemark(from, at)) return;
            hasRemark = true;
          } else if (from < at && !startsNumber(utf8[from])) hasOddCell = true;
          at = stop;
        }
        if (utf8[at] !== mark) break;
      }
      if (filled < powers.length) return;
      if (hasRemark) {
        // Beside words all else must be as it should; and the careful way, which took them before, keeps this too.
        if (hasOddCell || position + 1 < width) return;
        for (let slot = 0; slot < filled; slot++) reader.notePrecision(slot, 1);
      }
      const next = cells.afterLine(at);
      if (next - walker.next > longestLine) return;
      if (pendingName !== null) reader.takeSample(pendingName, this.written);
      walker.pass(next, isNumbersOnly);
      reader.add(walker.line);
    }
  }

  private mayGoOn(walker: LineWalker, ignoreRows: LineRanges): boolean {
    if (walker.next >= this.utf8.length) return false;
    return ignoreRows.length === 0 || !isIgnored(ignoreRows, walker.line + 1);
  }

  private readAligned(walker: LineWalker, ignoreRows: LineRanges): void {
    const { reader, cells, utf8 } = this;
    const { slotOf, slots } = reader.layout!;
    const block = reader.rowBlock;
    while (this.mayGoOn(walker, ignoreRows)) {
      const row = block.room();
      const { data } = block;
      let isNumbersOnly = true;
      let filled = 0;
      let at = cells.afterBlanks(walker.next);
      let position = 0;
      for (; !cells.isLineEnd(at); position++, at = cells.afterBlanks(at)) {
        if (position >= slotOf.length) return;
        const slot = slotOf[position];
        if (slot >= 0) {
          if (!cells.number(at, slots[slot].power)) return;
          if (cells.isOdd) isNumbersOnly = false;
          data[slot][row] = cells.value;
          if (cells.precision > 1) reader.notePrecision(slot, cells.precision);
          filled++;
          at = cells.stop;
        } else if (isWord(utf8[at])) return;
        else {
          isNumbersOnly = false;
          at = cells.cellEnd(at);
        }
      }
      if (filled !== slots.length || position !== slotOf.length) return;
      const next = cells.afterLine(at);
      if (next - walker.next > longestLine) return;
      walker.pass(next, isNumbersOnly);
      reader.add(walker.line);
    }
  }

  /** The same string as before where the cell is the same. */
  private sampleOf(start: number, end: number): string {
    this.written = null;
    if (!this.cells.isSame(start, end, this.sampleStart, this.sampleEnd)) {
      this.written = textOfUtf8(this.utf8, start, end);
      this.sample = shown(this.written);
      this.isStatisticName = namesStatistic(this.sample, true, this.reader.samples);
      this.sampleStart = start;
      this.sampleEnd = end;
    }
    return this.sample;
  }

  /** Whether a cell that is not read holds a word of no consequence, such as "ok"; most are that of the row above. */
  private isRemark(start: number, end: number): boolean {
    if (this.cells.isSame(start, end, this.remarkStart, this.remarkEnd)) return true;
    const cell = textOfUtf8(this.utf8, start, end);
    if (/\s\s/.test(cell) || namesStatistic(cell.trim())) return false;
    this.remarkStart = start;
    this.remarkEnd = end;
    return true;
  }
}

/** Digit, sign or mark. */
function startsNumber(byte: number): boolean {
  return (byte >= zero && byte <= 57) || (byte >= 43 && byte <= 46);
}

/** A letter at the start of an unread cell: a footer's "mean" or a remark. */
function isWord(byte: number): boolean {
  // The bytes from 0xC3 on begin the characters from U+00C0 on.
  return isAsciiWord(byte) || byte >= 0xc3;
}

/** No number begins so. */
function isAsciiWord(byte: number): boolean {
  return byte >= 65 && byte <= 122;
}
