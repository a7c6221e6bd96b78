import { exp10 } from "../../../numeric/elementary/exponential.js";

/** How a file writes numbers. A mark is a character code, 0 where there is none. */
export interface NumberFormat {
  decimal: 44 | 46;
  /** The other of comma and point, where the file parts thousands with it. Blanks and apostrophes always may. */
  thousands: 0 | 44 | 46;
}

export const pointFormat: NumberFormat = { decimal: 46, thousands: 44 };
export const commaFormat: NumberFormat = { decimal: 44, thousands: 46 };

/** Those that are exact in a double. */
const powers = Float64Array.from({ length: 23 }, (_, i) => Number(`1e${i}`));

/**
 * Parses numbers of one format without making strings. Results are correctly rounded: 15 digits and a power
 * of ten up to 22 are exact in a double, everything else goes through Number().
 */
export class NumberParser {
  /** How finely the last number was printed; see `stepOf`. */
  precision = 0;

  constructor(readonly format: NumberFormat) {}

  /**
   * The number that fills a span of a text, times 10^power; NaN where it is none. Thousands marks must part
   * groups of exactly three. Blanks around the number are allowed.
   */
  parse(text: string, start: number, end: number, power: number): number {
    let at = start;
    let stop = end;
    while (at < stop && isBlank(text.charCodeAt(at))) at++;
    while (stop > at && isBlank(text.charCodeAt(stop - 1))) stop--;
    if (at === stop) return Number.NaN;
    const first = at;
    let negative = false;
    const sign = text.charCodeAt(at);
    if (sign === 45 || sign === 0x2212 || sign === 0x2013) {
      negative = true;
      at++;
    } else if (sign === 43) at++;
    const { decimal, thousands } = this.format;
    let mantissa = 0;
    let digits = 0;
    let significant = 0;
    let decimals = -1;
    let group = -1;
    let marks = 0;
    let exponent = 0;
    for (; at < stop; at++) {
      const code = text.charCodeAt(at);
      const digit = code - 48;
      if (digit >= 0 && digit <= 9) {
        digits++;
        if (significant > 0 || digit > 0) significant++;
        if (significant <= 15) mantissa = mantissa * 10 + digit;
        if (decimals >= 0) decimals++;
        else if (group >= 0) group++;
        continue;
      }
      if (code === decimal) {
        if (decimals >= 0 || (group >= 0 && group !== 3)) return Number.NaN;
        decimals = 0;
        continue;
      }
      if (code === thousands || isGroupMark(code)) {
        // A group of one to three digits before the first mark, of three after it, none after the decimal mark.
        if (decimals >= 0 || digits === 0 || (group >= 0 ? group !== 3 : digits > 3)) return Number.NaN;
        // "0,123" is no thousand.
        if (group < 0 && mantissa === 0) return Number.NaN;
        if (marks !== 0 && marks !== code) return Number.NaN;
        marks = code;
        group = 0;
        continue;
      }
      if (code === 69 || code === 101 || code === 68 || code === 100) {
        exponent = exponentOf(text, at + 1, stop);
        if (Number.isNaN(exponent)) return Number.NaN;
        break;
      }
      return Number.NaN;
    }
    if (digits === 0 || (group >= 0 && group !== 3)) return Number.NaN;
    this.precision = precisionOf(exponent, Math.max(0, decimals), significant);
    if (significant > 15) return this.long(text, first, stop, power);
    const value = scaledMantissa(mantissa, exponent + power - Math.max(0, decimals));
    return negative ? -value : value;
  }

  /** More digits than a double holds exactly: cleaned of marks and left to the engine. */
  private long(text: string, start: number, stop: number, power: number): number {
    let clean = "";
    let exponent = 0;
    for (let at = start; at < stop; at++) {
      const code = text.charCodeAt(at);
      if (code >= 48 && code <= 57) clean += text[at];
      else if (code === this.format.decimal) clean += ".";
      else if (code === 45 || code === 0x2212 || code === 0x2013) clean += "-";
      else if (code === 69 || code === 101 || code === 68 || code === 100) {
        exponent = exponentOf(text, at + 1, stop);
        break;
      }
    }
    return Number(`${clean}e${exponent + power}`);
  }
}

/** mantissa · 10^scale, correctly rounded; the mantissa is a whole number of at most 15 digits. */
export function scaledMantissa(mantissa: number, scale: number): number {
  if (scale === 0) return mantissa;
  if (scale > 0 && scale <= 22) return mantissa * powers[scale];
  if (scale < 0 && scale >= -22) return mantissa / powers[-scale];
  return Number(`${mantissa}e${scale}`);
}

/** Codes from here on count the significant digits of a number with an exponent. */
const exponentCode = 128;

/** How finely a number is printed; see `stepOf`. */
export function precisionOf(exponent: number, decimals: number, significant: number): number {
  return exponent === 0 ? 1 + decimals : exponentCode + Math.min(significant, 30);
}

/**
 * Half a unit of the last printed digit of a value, from the code that the parser gave it: 1 + d for d decimals,
 * 128 + n for n significant digits before an exponent, 0 where it is not known (numbers in workbooks).
 */
export function stepOf(precision: number, value: number): number {
  if (precision === 0) return 0;
  if (precision < exponentCode) return 0.5 * exp10(1 - precision);
  return 0.5 * exp10(1 - (precision - exponentCode)) * Math.abs(value);
}

function exponentOf(text: string, start: number, stop: number): number {
  let at = start;
  let negative = false;
  const sign = text.charCodeAt(at);
  if (sign === 45 || sign === 43 || sign === 0x2212) {
    negative = sign !== 43;
    at++;
  }
  if (at === stop || stop - at > 4) return Number.NaN;
  let value = 0;
  for (; at < stop; at++) {
    const digit = text.charCodeAt(at) - 48;
    if (!(digit >= 0 && digit <= 9)) return Number.NaN;
    value = value * 10 + digit;
  }
  return negative ? -value : value;
}

/** Blank, no-break, figure, thin and narrow blanks; straight and curly apostrophe. */
export function isGroupMark(code: number): boolean {
  return (
    code === 32 ||
    code === 39 ||
    code === 0xa0 ||
    code === 0x2009 ||
    code === 0x202f ||
    code === 0x2019 ||
    code === 0x2007 ||
    code === 0x2008
  );
}

/** Whether a character code is a blank of any width. */
function isBlank(code: number): boolean {
  return (
    code === 32 ||
    code === 9 ||
    code === 0xa0 ||
    code === 0x3000 ||
    (code >= 0x2000 && code <= 0x200b) ||
    code === 0x202f ||
    code === 0xfeff
  );
}

/** Instruments write 9.9E37 and the like for "over range" and "no value". */
export const overRangeValue = 1e30;
