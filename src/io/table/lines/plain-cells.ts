import { textOfUtf8 } from "../../bytes/decode-text.js";
import { type NumberParser, overRangeValue, precisionOf, scaledMantissa } from "./number-format.js";
import { lineFeed } from "./records.js";

const blank = 32;
const tab = 9;
const quote = 34;
const carriageReturn = 13;
const zero = 48;

/** Digits that fit into an integer of 32 bits, and into a double. */
export const integerDigits = 9;
const exactDigits = 15;

/** Finds and parses the cells of a row where they stand in the bytes of a text. */
export class PlainCells {
  readonly decimal: number;
  /** Of the last number: its value, where its cell ends, and how finely it was printed. */
  value = 0;
  stop = 0;
  precision = 0;
  /** Whether the last number was spelled in a way that may be another number by other marks. */
  isOdd = false;

  /**
   * @param utf8 a text that ends with a line end
   * @param mark what parts the cells; 0 for runs of blanks
   */
  constructor(
    readonly utf8: Uint8Array,
    readonly mark: number,
    private readonly parser: NumberParser,
  ) {
    this.decimal = parser.format.decimal;
  }

  /** Parses the number of a cell; false where it holds none. What is not plain in it is left to the parser. */
  number(start: number, power: number): boolean {
    this.isOdd = false;
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
    if (digits === 0 || digits > exactDigits) return this.oddNumber(start, isQuoted, power);
    const exact = digits > integerDigits ? this.wholeNumber(first, at) : mantissa;
    let exponent = 0;
    let significant = 0;
    if (isExponentMark(utf8[at])) {
      significant = this.significantDigits(first, at);
      const sign = utf8[++at];
      if (sign === 45 || sign === 43) at++;
      const from = at;
      while (utf8[at] >= zero && utf8[at] <= 57) exponent = 10 * exponent + (utf8[at++] - zero);
      if (at === from || at - from > 4) return this.oddNumber(start, isQuoted, power);
      if (sign === 45) exponent = -exponent;
    }
    while (utf8[at] === blank && mark !== 0) at++;
    if (isQuoted && utf8[at++] !== quote) return this.oddNumber(start, isQuoted, power);
    if (!this.isCellEnd(at)) return this.oddNumber(start, isQuoted, power);
    const value = scaledMantissa(exact, exponent + power - decimals);
    this.value = isNegative ? -value : value;
    this.precision = precisionOf(exponent, decimals, significant);
    this.stop = at;
    return value < overRangeValue;
  }

  private oddNumber(start: number, isQuoted: boolean, power: number): boolean {
    this.isOdd = true;
    const from = isQuoted ? start + 1 : start;
    const to = isQuoted ? this.closingQuote(from) : this.cellEnd(from);
    if (to < 0) return false;
    this.stop = isQuoted ? to + 1 : to;
    if (isQuoted && !this.isCellEnd(this.stop)) return false;
    const { parser } = this;
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

  /** Whether two spans hold the same bytes. */
  isSame(start: number, end: number, otherStart: number, otherEnd: number): boolean {
    const { utf8 } = this;
    if (end - start !== otherEnd - otherStart) return false;
    for (let i = 0; i < end - start; i++) if (utf8[start + i] !== utf8[otherStart + i]) return false;
    return true;
  }

  /** @returns the place of the quote, −1 where there is none in the line */
  closingQuote(from: number): number {
    const { utf8 } = this;
    let at = from;
    while (utf8[at] !== quote) if (utf8[at++] === lineFeed) return -1;
    return at;
  }

  cellEnd(from: number): number {
    let at = from;
    while (!this.isCellEnd(at)) at++;
    return at;
  }

  isCellEnd(at: number): boolean {
    const byte = this.utf8[at];
    if (this.mark !== 0 ? byte === this.mark : this.isBlank(at)) return true;
    return this.isLineEnd(at);
  }

  isLineEnd(at: number): boolean {
    const { utf8 } = this;
    return utf8[at] === lineFeed || (utf8[at] === carriageReturn && utf8[at + 1] === lineFeed);
  }

  /** Blank, tab or no-break blank. */
  private isBlank(at: number): boolean {
    const { utf8 } = this;
    return utf8[at] === blank || utf8[at] === tab || (utf8[at] === 0xc2 && utf8[at + 1] === 0xa0);
  }

  afterBlanks(start: number): number {
    let at = start;
    while (this.isBlank(at)) at += this.utf8[at] === 0xc2 ? 2 : 1;
    return at;
  }

  afterLine(at: number): number {
    return this.utf8[at] === lineFeed ? at + 1 : at + 2;
  }
}

function isExponentMark(byte: number): boolean {
  return byte === 69 || byte === 101 || byte === 68 || byte === 100;
}
