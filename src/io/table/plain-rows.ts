import { shown } from "../../words/quoted.js";
import { textOfUtf8 } from "../bytes/decode-text.js";
import { namesStatistic } from "../vocabulary/terms/qualifiers.js";
import { overRangeValue, scaledMantissa } from "./lines/number-format.js";
import { integerDigits, PlainCells } from "./lines/plain-cells.js";
import type { TableReader } from "./table-reader.js";

const quote = 34;
const carriageReturn = 13;
const zero = 48;

/**
 * Parses rows of plain numbers where they stand in the bytes of a text, without making strings. A row in which
 * any cell is something else is left to the careful way.
 */
export class PlainRows {
  private readonly cells: PlainCells;
  /** True where the last row is plain numbers in the columns that are read, and holds no number beside them. */
  isNumbersOnly = false;
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
    lineEnd: number,
    mark: number,
  ) {
    this.cells = new PlainCells(utf8, lineEnd, mark, reader.parser);
  }

  /**
   * Parses the row that starts at a place into the reader's block.
   * @returns where the next line starts, or −1 where the row is not plain
   */
  read(start: number): number {
    return this.cells.mark === 0 ? this.readAligned(start) : this.readMarked(start);
  }

  private readMarked(start: number): number {
    const { reader, cells, utf8 } = this;
    const { mark, decimal, lineEnd } = cells;
    const { slotOf, slots, sampleColumn } = reader.layout!;
    const width = slotOf.length;
    const block = reader.rowBlock;
    const row = block.room();
    const { data, precision } = block;
    this.isNumbersOnly = true;
    let filled = 0;
    let hasRemark = false;
    let hasOddCell = false;
    let pendingName: string | null = null;
    for (let position = 0, at = start; ; position++, at++) {
      const slot = position < width ? slotOf[position] : -1;
      if (slot >= 0) {
        filled++;
        const { power } = slots[slot];
        // Nearly all numbers: a sign, a few digits, a decimal mark.
        const isNegative = utf8[at] === 45;
        const first = isNegative ? at + 1 : at;
        let stop = first;
        let mantissa = 0;
        for (let digit = utf8[stop] - zero; digit >>> 0 <= 9; digit = utf8[++stop] - zero) {
          mantissa = (Math.imul(mantissa, 10) + digit) | 0;
        }
        let digits = stop - first;
        let decimals = 0;
        if (utf8[stop] === decimal && decimal !== mark) {
          const point = stop++;
          for (let digit = utf8[stop] - zero; digit >>> 0 <= 9; digit = utf8[++stop] - zero) {
            mantissa = (Math.imul(mantissa, 10) + digit) | 0;
          }
          decimals = stop - point - 1;
          digits += decimals;
        }
        const isEnd =
          utf8[stop] === mark ||
          utf8[stop] === lineEnd ||
          (utf8[stop] === carriageReturn && utf8[stop + 1] === lineEnd);
        if (isEnd && digits >= 1 && digits <= integerDigits) {
          const value = scaledMantissa(mantissa, power - decimals);
          if (!(value < overRangeValue)) return -1;
          data[slot][row] = isNegative ? -value : value;
          if (decimals > 0 && decimals >= precision[slot]) reader.notePrecision(slot, 1 + decimals);
          at = stop;
        } else {
          if (!cells.number(at, power)) return -1;
          if (cells.isOdd) this.isNumbersOnly = false;
          data[slot][row] = cells.value;
          if (cells.precision > 1) reader.notePrecision(slot, cells.precision);
          at = cells.stop;
        }
      } else {
        const isQuoted = utf8[at] === quote;
        const from = isQuoted ? at + 1 : at;
        at = isQuoted ? cells.closingQuote(from) : cells.cellEnd(from);
        if (at < 0) return -1;
        const stop = isQuoted ? at + 1 : at;
        if (isQuoted && !cells.isCellEnd(stop)) return -1;
        if (from < at && !isAsciiWord(utf8[from])) this.isNumbersOnly = false;
        if (position === sampleColumn) {
          // Taken with its row; the careful way takes the name of a row that is left out.
          pendingName = this.sampleOf(from, at);
          if (this.isStatisticName) return -1;
        } else if (position >= width) {
          if (from < at) return -1;
        } else if (isWord(utf8[from])) {
          if (!this.isRemark(from, at)) return -1;
          hasRemark = true;
        } else if (from < at && !startsNumber(utf8[from])) hasOddCell = true;
        at = stop;
      }
      if (utf8[at] === mark) continue;
      if (filled < slots.length) return -1;
      if (hasRemark) {
        // Beside words all else must be as it should; and the careful way, which took them before, keeps this too.
        if (hasOddCell || position + 1 < width) return -1;
        for (let slot = 0; slot < filled; slot++) reader.notePrecision(slot, 1);
      }
      if (pendingName !== null) reader.takeSample(pendingName, this.written);
      return cells.afterLine(at);
    }
  }

  private readAligned(start: number): number {
    const { reader, cells, utf8 } = this;
    const { slotOf, slots } = reader.layout!;
    const block = reader.rowBlock;
    const row = block.room();
    const { data } = block;
    this.isNumbersOnly = true;
    let filled = 0;
    let at = cells.afterBlanks(start);
    let position = 0;
    for (; !cells.isLineEnd(at); position++, at = cells.afterBlanks(at)) {
      if (position >= slotOf.length) return -1;
      const slot = slotOf[position];
      if (slot >= 0) {
        if (!cells.number(at, slots[slot].power)) return -1;
        if (cells.isOdd) this.isNumbersOnly = false;
        data[slot][row] = cells.value;
        if (cells.precision > 1) reader.notePrecision(slot, cells.precision);
        filled++;
        at = cells.stop;
      } else if (isWord(utf8[at])) return -1;
      else {
        this.isNumbersOnly = false;
        at = cells.cellEnd(at);
      }
    }
    return filled === slots.length && position === slotOf.length ? cells.afterLine(at) : -1;
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
