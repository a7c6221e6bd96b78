import { textOfUtf8 } from "../decode-text.js";
import { shown } from "../problem-codes.js";
import { namesStatistic } from "./data-cell.js";
import { type NumberFormat, precisionOf, scaledMantissa } from "./number-format.js";
import { overRangeValue, type TableReader } from "./table-reader.js";

const blank = 32;
const tab = 9;
const quote = 34;
const carriageReturn = 13;
const zero = 48;

/** Digits that fit into an integer of 32 bits, and into a double. */
const integerDigits = 9;
const exactDigits = 15;

/**
 * Parses rows of plain numbers where they stand in the bytes of a text, without making strings. A row in which
 * any cell is something else is left to the careful way.
 */
export class PlainRows {
  private readonly decimal: number;
  /** Of the last number: its value, where its cell ends, and how finely it was printed. */
  private value = 0;
  private stop = 0;
  private precision = 0;
  /** True where the last row is plain numbers in the columns that are read, and holds no number beside them. */
  isNumbersOnly = false;
  /** Bytes of the last sample's cell, and its name. */
  private sampleStart = 0;
  private sampleEnd = 0;
  private sample = "";
  /** Bytes of the last word beside the numbers. */
  private remarkStart = 0;
  private remarkEnd = 0;

  /**
   * @param utf8 a text that ends with a line end
   * @param mark what parts the cells; 0 for runs of blanks
   */
  constructor(
    private readonly utf8: Uint8Array,
    private readonly lineEnd: number,
    private readonly mark: number,
    { decimal }: NumberFormat,
  ) {
    this.decimal = decimal;
  }

  /**
   * Parses the row that starts at a place into the reader's values.
   * @returns where the next line starts, or −1 where the row is not plain
   */
  read(reader: TableReader, start: number): number {
    return this.mark === 0 ? this.readAligned(reader, start) : this.readMarked(reader, start);
  }

  private readMarked(reader: TableReader, start: number): number {
    const { utf8, mark, decimal, lineEnd } = this;
    const { slotOf, slots, sampleColumn } = reader.layout!;
    const width = slotOf.length;
    const { values } = reader;
    this.isNumbersOnly = true;
    let filled = 0;
    let hasRemark = false;
    let hasOddCell = false;
    let isNameless = false;
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
        if (digits >= 1 && digits <= integerDigits && (utf8[stop] === mark || utf8[stop] === lineEnd)) {
          const value = scaledMantissa(mantissa, power - decimals);
          if (!(value < overRangeValue)) return -1;
          values[slot] = isNegative ? -value : value;
          if (decimals > 0) reader.notePrecision(slot, 1 + decimals);
          at = stop;
        } else {
          if (!this.number(reader, at, power)) return -1;
          values[slot] = this.value;
          if (this.precision > 1) reader.notePrecision(slot, this.precision);
          at = this.stop;
        }
      } else {
        const isQuoted = utf8[at] === quote;
        const from = isQuoted ? at + 1 : at;
        at = isQuoted ? this.closingQuote(from) : this.cellEnd(from);
        if (at < 0) return -1;
        const stop = isQuoted ? at + 1 : at;
        if (isQuoted && !this.isCellEnd(stop)) return -1;
        if (from < at && !isAsciiWord(utf8[from])) this.isNumbersOnly = false;
        if (position === sampleColumn) {
          // A name holds for the rows below even where its own row is left out.
          const name = this.sampleOf(from, at);
          if (name === "") isNameless = true;
          else reader.takeSample(name);
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
      if (isNameless) reader.takeSample("");
      return this.afterLine(at);
    }
  }

  private readAligned(reader: TableReader, start: number): number {
    const { utf8 } = this;
    const { slotOf, slots } = reader.layout!;
    const { values } = reader;
    this.isNumbersOnly = true;
    let filled = 0;
    let at = this.afterBlanks(start);
    let position = 0;
    for (; !this.isLineEnd(at); position++, at = this.afterBlanks(at)) {
      if (position >= slotOf.length) return -1;
      const slot = slotOf[position];
      if (slot >= 0) {
        if (!this.number(reader, at, slots[slot].power)) return -1;
        values[slot] = this.value;
        if (this.precision > 1) reader.notePrecision(slot, this.precision);
        filled++;
        at = this.stop;
      } else if (isWord(utf8[at])) return -1;
      else {
        this.isNumbersOnly = false;
        at = this.cellEnd(at);
      }
    }
    return filled === slots.length && position === slotOf.length ? this.afterLine(at) : -1;
  }

  /** Parses the number of a cell; false where it holds none. What is not plain in it is left to the reader's parser. */
  private number(reader: TableReader, start: number, power: number): boolean {
    const { utf8, mark, decimal } = this;
    let at = start;
    const isQuoted = utf8[at] === quote && mark !== 0;
    if (isQuoted) at++;
    while (utf8[at] === blank) at++;
    const isNegative = utf8[at] === 45;
    if (isNegative || utf8[at] === 43) at++;
    const first = at;
    let mantissa = 0;
    for (let digit = utf8[at] - zero; digit >= 0 && digit <= 9; digit = utf8[++at] - zero) {
      mantissa = (Math.imul(mantissa, 10) + digit) | 0;
    }
    let digits = at - first;
    let decimals = 0;
    if (utf8[at] === decimal && (isQuoted || decimal !== mark)) {
      const point = at++;
      for (let digit = utf8[at] - zero; digit >= 0 && digit <= 9; digit = utf8[++at] - zero) {
        mantissa = (Math.imul(mantissa, 10) + digit) | 0;
      }
      decimals = at - point - 1;
      digits += decimals;
    }
    if (digits === 0 || digits > exactDigits) return this.oddNumber(reader, start, isQuoted, power);
    const exact = digits > integerDigits ? this.wholeNumber(first, at) : mantissa;
    let exponent = 0;
    let significant = 0;
    if (isExponentMark(utf8[at])) {
      significant = this.significantDigits(first, at);
      const sign = utf8[++at];
      if (sign === 45 || sign === 43) at++;
      const from = at;
      while (utf8[at] >= zero && utf8[at] <= 57) exponent = 10 * exponent + (utf8[at++] - zero);
      if (at === from || at - from > 4) return this.oddNumber(reader, start, isQuoted, power);
      if (sign === 45) exponent = -exponent;
    }
    while (utf8[at] === blank && mark !== 0) at++;
    if (isQuoted && utf8[at++] !== quote) return this.oddNumber(reader, start, isQuoted, power);
    if (!this.isCellEnd(at)) return this.oddNumber(reader, start, isQuoted, power);
    const value = scaledMantissa(exact, exponent + power - decimals);
    this.value = isNegative ? -value : value;
    this.precision = precisionOf(exponent, decimals, significant);
    this.stop = at;
    return value < overRangeValue;
  }

  private oddNumber(reader: TableReader, start: number, isQuoted: boolean, power: number): boolean {
    this.isNumbersOnly = false;
    const from = isQuoted ? start + 1 : start;
    const to = isQuoted ? this.closingQuote(from) : this.cellEnd(from);
    if (to < 0) return false;
    this.stop = isQuoted ? to + 1 : to;
    if (isQuoted && !this.isCellEnd(this.stop)) return false;
    const { parser } = reader;
    const cell = textOfUtf8(this.utf8, from, to);
    this.value = parser.parse(cell, 0, cell.length, power);
    this.precision = parser.precision;
    // NaN fails this too; so does what instruments write for "over range".
    return Math.abs(this.value) < overRangeValue;
  }

  /** The digits of a span as one number, where they are too many for an integer. */
  private wholeNumber(start: number, end: number): number {
    let whole = 0;
    for (let at = start; at < end; at++) {
      const digit = this.utf8[at] - zero;
      if (digit >= 0 && digit <= 9) whole = whole * 10 + digit;
    }
    return whole;
  }

  private significantDigits(start: number, end: number): number {
    let significant = 0;
    for (let at = start; at < end; at++) {
      const digit = this.utf8[at] - zero;
      if (digit >= 0 && digit <= 9 && (significant > 0 || digit > 0)) significant++;
    }
    return significant;
  }

  /** The same string as before where the cell is the same. */
  private sampleOf(start: number, end: number): string {
    if (!this.isSame(start, end, this.sampleStart, this.sampleEnd)) {
      this.sample = shown(textOfUtf8(this.utf8, start, end));
      this.sampleStart = start;
      this.sampleEnd = end;
    }
    return this.sample;
  }

  /** Whether a cell that is not read holds a word of no consequence, such as "ok"; most are that of the row above. */
  private isRemark(start: number, end: number): boolean {
    if (this.isSame(start, end, this.remarkStart, this.remarkEnd)) return true;
    const cell = textOfUtf8(this.utf8, start, end);
    if (/\s\s/.test(cell) || namesStatistic(cell.trim())) return false;
    this.remarkStart = start;
    this.remarkEnd = end;
    return true;
  }

  private isSame(start: number, end: number, otherStart: number, otherEnd: number): boolean {
    const { utf8 } = this;
    if (end - start !== otherEnd - otherStart) return false;
    for (let i = 0; i < end - start; i++) if (utf8[start + i] !== utf8[otherStart + i]) return false;
    return true;
  }

  private closingQuote(from: number): number {
    const { utf8, lineEnd } = this;
    let at = from;
    while (utf8[at] !== quote) if (utf8[at++] === lineEnd) return -1;
    return at;
  }

  private cellEnd(from: number): number {
    let at = from;
    while (!this.isCellEnd(at)) at++;
    return at;
  }

  private isCellEnd(at: number): boolean {
    const byte = this.utf8[at];
    if (this.mark !== 0 ? byte === this.mark : this.isBlank(at)) return true;
    return this.isLineEnd(at);
  }

  private isLineEnd(at: number): boolean {
    const { utf8, lineEnd } = this;
    return utf8[at] === lineEnd || (utf8[at] === carriageReturn && utf8[at + 1] === lineEnd);
  }

  /** Blank, tab or no-break blank. */
  private isBlank(at: number): boolean {
    const { utf8 } = this;
    return utf8[at] === blank || utf8[at] === tab || (utf8[at] === 0xc2 && utf8[at + 1] === 0xa0);
  }

  private afterBlanks(start: number): number {
    let at = start;
    while (this.isBlank(at)) at += this.utf8[at] === 0xc2 ? 2 : 1;
    return at;
  }

  private afterLine(at: number): number {
    return this.utf8[at] === this.lineEnd ? at + 1 : at + 2;
  }
}

function isExponentMark(byte: number): boolean {
  return byte === 69 || byte === 101 || byte === 68 || byte === 100;
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
