/** What a cell of a plain line says about the marks inside numbers. */
const blankCell = 0;
/** Digits alone. */
const wholeNumber = 1;
/** Digits alone, and so few that a mark between thousands would not stand among them. */
export const bareNumber = 2;
export const decimalComma = 3;
export const decimalPoint = 4;
/** "1,234": a decimal or a thousand. */
export const eitherComma = 5;
export const eitherPoint = 6;

const mostCells = 64;
/** Longer cells are no numbers; see `looksNumeric`. */
const longestNumber = 39;

const blank = 32;
const tab = 9;

/**
 * A line whose cells are all blank or plain numbers: digits with at most a sign, one mark and an exponent. Looked
 * at in the bytes, because that is what nearly all lines of an export are.
 */
export class PlainLine {
  cells = 0;
  numbers = 0;
  readonly kinds = new Uint8Array(mostCells);
  private readonly starts = new Int32Array(mostCells);
  private readonly lengths = new Uint8Array(mostCells);

  /**
   * Takes a line; false where it is not that plain. A byte that is no part of a cell must stand at `end`.
   * @param mark what parts the cells; 0 for runs of blanks
   */
  take(utf8: Uint8Array, start: number, end: number, mark: number): boolean {
    this.cells = 0;
    this.numbers = 0;
    for (let at = start; ; at++) {
      while (utf8[at] === blank || (mark === 0 && utf8[at] === tab)) at++;
      if (mark === 0 && at === end) return true;
      if (this.cells === mostCells) return false;
      at = this.takeCell(utf8, at, mark);
      if (at < 0) return false;
      while (mark !== 0 && utf8[at] === blank) at++;
      if (at === end) return true;
      if (mark === 0 ? utf8[at] !== blank && utf8[at] !== tab : utf8[at] !== mark) return false;
    }
  }

  /** A cell of the line as it is written. */
  textOf(utf8: Uint8Array, cell: number): string {
    const start = this.starts[cell];
    return String.fromCharCode(...utf8.subarray(start, start + this.lengths[cell]));
  }

  /** @returns where the cell ends, or −1 where it is neither blank nor a plain number */
  private takeCell(utf8: Uint8Array, start: number, mark: number): number {
    let at = start;
    if (utf8[at] === 43 || utf8[at] === 45) at++;
    const whole = at;
    while (isDigit(utf8[at])) at++;
    const head = at - whole;
    let decimals = 0;
    let numberMark = 0;
    if ((utf8[at] === 44 || utf8[at] === 46) && utf8[at] !== mark) {
      numberMark = utf8[at++];
      const first = at;
      while (isDigit(utf8[at])) at++;
      decimals = at - first;
    }
    if (head + decimals === 0) {
      if (at > start) return -1;
      this.kinds[this.cells++] = blankCell;
      return at;
    }
    const hasExponent = (utf8[at] & 0xde) === 68;
    if (hasExponent) {
      at++;
      if (utf8[at] === 43 || utf8[at] === 45) at++;
      if (!isDigit(utf8[at])) return -1;
      while (isDigit(utf8[at])) at++;
    }
    const length = at - start;
    if (length > longestNumber) return -1;
    const isEither = !hasExponent && head >= 1 && head <= 3 && decimals === 3 && utf8[whole] !== 48;
    let kind = wholeNumber;
    if (numberMark === 44) kind = isEither ? eitherComma : decimalComma;
    else if (numberMark === 46) kind = isEither ? eitherPoint : decimalPoint;
    else if (length <= 4 && !hasExponent) kind = bareNumber;
    this.kinds[this.cells] = kind;
    this.starts[this.cells] = start;
    this.lengths[this.cells] = length;
    this.cells++;
    this.numbers++;
    return at;
  }
}

/** Bytes that a cell which looks like a number may hold; all but the digits and the letters of an exponent are marks. */
const numeric = new Uint8Array(256).fill(1, 0x80);
for (const character of "0123456789.,+-eEdD '\"\r\f\v") numeric[character.charCodeAt(0)] = 1;

/** False where fewer than so many cells of a line can be numbers, by their bytes alone. */
export function mayHoldNumbers(
  utf8: Uint8Array,
  start: number,
  end: number,
  mark: number,
  fewest: number,
): boolean {
  let numbers = 0;
  let isNumeric = true;
  let hasDigit = false;
  for (let at = start; at <= end; at++) {
    const byte = utf8[at];
    // A mark between quotes parts nothing, and a blank may be one of several kinds.
    if (byte === 34 || (mark === 0 && byte === 0xc2)) return true;
    if (at === end || byte === mark || (mark === 0 && (byte === blank || byte === tab))) {
      if (isNumeric && hasDigit) numbers++;
      isNumeric = true;
      hasDigit = false;
    } else if (numeric[byte] === 0) isNumeric = false;
    else if (isDigit(byte)) hasDigit = true;
  }
  return numbers >= fewest;
}

function isDigit(byte: number): boolean {
  return byte >= 48 && byte <= 57;
}
