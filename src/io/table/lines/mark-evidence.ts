import { fewestNumbers, isNumberRow, looksNumeric } from "./looks-numeric.js";
import { commaFormat, type NumberFormat, pointFormat } from "./number-format.js";
import {
  bareNumber,
  decimalComma,
  decimalPoint,
  eitherComma,
  eitherPoint,
  mayHoldNumbers,
  PlainLine,
} from "./plain-line.js";
import { numberWritten } from "./plainly-written.js";
import type { LineWalker } from "./records.js";
import { byteOf, type Delimiter, splitRow } from "./split-row.js";

/** What the marks inside the numbers of a file say. */
export interface MarkEvidence {
  decimalComma: number;
  decimalPoint: number;
  thousandsComma: number;
  thousandsPoint: number;
  /** "1,234": a decimal or a thousand. */
  eitherComma: number;
  eitherPoint: number;
  /** Columns (by position) that hold such numbers, and those that hold bare numbers below 1000. */
  eitherColumns: Set<number>;
  bareColumns: Set<number>;
  example: string;
}

/** What the marks tell: how numbers are written, and a doubt that is left. */
export interface NumberMarks {
  format: NumberFormat;
  /** A doubt that the numbers leave open, with an example; null where they settle it. */
  doubt: { example: string; taken: string } | null;
}

/** A longer line is no row to learn from. */
export const longestSampled = 20_000;

/** How many numbers only one convention explains. */
export function tellingMarks({
  decimalComma,
  decimalPoint,
  thousandsComma,
  thousandsPoint,
}: MarkEvidence): number {
  return decimalComma + decimalPoint + thousandsComma + thousandsPoint;
}

/** Taken anew for every line. */
const plain = new PlainLine();

/** Adds what the line at hand says about the marks. */
export function weighLine(
  line: LineWalker,
  delimiter: Delimiter,
  evidence: MarkEvidence,
  fewest = fewestNumbers,
): void {
  if (line.isLongerThan(longestSampled)) return;
  const { utf8, start, end } = line;
  const mark = byteOf(delimiter);
  if (plain.take(utf8, start, end, mark)) {
    if (plain.numbers >= fewest) weighPlain(utf8, evidence);
    return;
  }
  // Where single numbers count, so do those with a unit in their cell.
  const isSparse = fewest < fewestNumbers;
  if (!isSparse && !mayHoldNumbers(utf8, start, end, mark, fewest)) return;
  const cells = splitRow(line.text(), delimiter);
  if (!isSparse && !isNumberRow(cells)) return;
  for (let column = 0; column < cells.length; column++) {
    const cell = cells[column];
    weigh(isSparse ? (numberWritten(cell) ?? cell) : cell, column, evidence);
  }
}

/** No evidence yet for either decimal mark. */
export function emptyEvidence(): MarkEvidence {
  return {
    decimalComma: 0,
    decimalPoint: 0,
    thousandsComma: 0,
    thousandsPoint: 0,
    eitherComma: 0,
    eitherPoint: 0,
    eitherColumns: new Set(),
    bareColumns: new Set(),
    example: "",
  };
}

/** Adds what the cells of a plain line say about the marks. */
function weighPlain(utf8: Uint8Array, evidence: MarkEvidence): void {
  for (let column = 0; column < plain.cells; column++) {
    switch (plain.kinds[column]) {
      case bareNumber:
        evidence.bareColumns.add(column);
        break;
      case decimalComma:
        evidence.decimalComma++;
        break;
      case decimalPoint:
        evidence.decimalPoint++;
        break;
      case eitherComma:
        evidence.eitherComma++;
        evidence.eitherColumns.add(column);
        evidence.example ||= plain.textOf(utf8, column);
        break;
      case eitherPoint:
        evidence.eitherPoint++;
        evidence.eitherColumns.add(column);
        evidence.example ||= plain.textOf(utf8, column);
        break;
      default:
        break;
    }
  }
}

/** Adds what one cell says about the marks. */
export function weigh(cell: string, column: number, evidence: MarkEvidence): void {
  if (!looksNumeric(cell)) return;
  let commas = 0;
  let points = 0;
  let last = 0;
  let exponent = false;
  let parted = false;
  for (let i = 0; i < cell.length; i++) {
    const code = cell.charCodeAt(i);
    if (code === 44) commas++;
    else if (code === 46) points++;
    else if (code === 69 || code === 101 || code === 68 || code === 100) exponent = true;
    else if (code !== 43 && code !== 45 && code !== 0x2212 && (code < 48 || code > 57)) parted = true;
    if (code === 44 || code === 46) last = code;
  }
  if (commas === 0 && points === 0) {
    if (cell.length <= 4 && !exponent && !parted) evidence.bareColumns.add(column);
    return;
  }
  if (commas > 0 && points > 0) {
    // "1.234,5" and "1,234.5": the last mark is the decimal one.
    if (last === 44 && commas === 1) evidence.decimalComma++;
    else if (last === 46 && points === 1) evidence.decimalPoint++;
    return;
  }
  const isComma = commas > 0;
  if (commas + points > 1) {
    if (!areThousands(cell, last)) return;
    if (isComma) evidence.thousandsComma++;
    else evidence.thousandsPoint++;
    return;
  }
  if (exponent || parted || !isEither(cell, last)) {
    if (isComma) evidence.decimalComma++;
    else evidence.decimalPoint++;
    return;
  }
  if (isComma) evidence.eitherComma++;
  else evidence.eitherPoint++;
  evidence.eitherColumns.add(column);
  evidence.example ||= cell;
}

/** "1,234": one to three digits that do not start with a zero, the mark, just three digits. */
function isEither(cell: string, mark: number): boolean {
  const start = cell.charCodeAt(0) < 48 || cell.charCodeAt(0) > 57 ? 1 : 0;
  const at = cell.indexOf(String.fromCharCode(mark));
  const head = at - start;
  return head >= 1 && head <= 3 && cell.charCodeAt(start) !== 48 && cell.length - at === 4;
}

/** "1,234,567" */
function areThousands(cell: string, mark: number): boolean {
  const groups = cell.split(String.fromCharCode(mark));
  const head = groups[0].replace(/[^0-9]/g, "");
  return head.length >= 1 && head.length <= 3 && groups.slice(1).every((group) => group.length === 3);
}

/**
 * The whole file decides, not the cell. Numbers that only one convention explains settle it. Where all are
 * like "1,234", a column that also holds bare numbers below a thousand parts thousands (a fixed count of
 * decimals would have given those their decimals too); else the mark is the decimal mark, and that is said.
 */
export function formatOf(evidence: MarkEvidence): NumberMarks {
  const comma = evidence.decimalComma + evidence.thousandsPoint;
  const point = evidence.decimalPoint + evidence.thousandsComma;
  if (comma > 0 || point > 0) return { format: comma > point ? commaFormat : pointFormat, doubt: null };
  const { eitherComma, eitherPoint, eitherColumns, bareColumns, example } = evidence;
  if (eitherComma === 0) return { format: pointFormat, doubt: null };
  const mixed = [...eitherColumns].some((column) => bareColumns.has(column));
  if (mixed || eitherPoint > 0) {
    return {
      format: pointFormat,
      doubt: { example, taken: `${example.replace(",", "")}, the comma parting thousands` },
    };
  }
  return {
    format: commaFormat,
    doubt: { example, taken: `${example.replace(",", ".")}, the comma being the decimal mark` },
  };
}
