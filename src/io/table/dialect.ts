import { commaFormat, isGroupMark, type NumberFormat, pointFormat } from "./number-format.js";
import {
  bareNumber,
  decimalComma,
  decimalPoint,
  eitherComma,
  eitherPoint,
  mayHoldNumbers,
  PlainLine,
} from "./plain-line.js";
import { LineWalker } from "./records.js";
import { type Delimiter, splitBlanks, splitRow } from "./split-row.js";

/** How a text parts its cells and writes its numbers. */
export interface Dialect {
  delimiter: Delimiter;
  format: NumberFormat;
  /** A doubt that the numbers leave open, with an example; null where they settle it. */
  doubt: { example: string; taken: string } | null;
}

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

/** Lines that are looked at before reading, and numbers of one convention alone that are enough to begin with. */
const firstLines = 100;
const enoughMarks = 25;
/** Rows of numbers that settle the delimiter. */
const enoughRows = 30;
/** Marks that part cells wherever they stand in rows of numbers. */
const strongMarks = 3;
const candidates: Delimiter[] = ["\t", ";", "|", ",", "blanks"];

/** What the first lines of a text say of its dialect. */
export interface LikelyDialect extends Dialect {
  /** What `settledDialect` goes on from, and the last line it is of; null where the dialect is settled. */
  evidence: MarkEvidence | null;
  lastLine: number;
}

/**
 * Delimiter and number format from the first lines that look like rows of numbers; `settledDialect` holds them
 * against later ones. `decimalMark` is one that the user states; `everything` looks at the whole text.
 * @param utf8 a text that ends with a line end
 */
export function dialectOf(
  utf8: Uint8Array,
  options: { decimalMark?: "." | ","; everything?: boolean; headerScore?: (cells: string[]) => number } = {},
): LikelyDialect {
  const delimiter = delimiterOf(utf8, options.headerScore ?? (() => 0));
  if (options.decimalMark) {
    const format = options.decimalMark === "," ? commaFormat : pointFormat;
    return { delimiter, format, doubt: null, evidence: null, lastLine: 0 };
  }
  if (options.everything) {
    return { delimiter, ...formatOf(wholeEvidence(utf8, delimiter)), evidence: null, lastLine: 0 };
  }
  const evidence = emptyEvidence();
  const walker = new LineWalker(utf8);
  while (walker.line < firstLines && tellingMarks(evidence) < enoughMarks && walker.advance()) {
    weighLine(walker, delimiter, evidence);
  }
  return { delimiter, ...formatOf(evidence), evidence, lastLine: walker.line };
}

/**
 * The dialect by what the sampled lines further down say too; what they leave open the whole text may settle.
 * Rows that were read as plain numbers under one convention, and hold nothing else, cannot speak against it.
 * @param walker one that has read the text's lines under the likely dialect, and kept samples
 */
export function settledDialect(
  likely: LikelyDialect,
  walker: LineWalker,
  samples: Map<number, number>,
): Dialect {
  const { delimiter, evidence, lastLine } = likely;
  if (evidence === null) return likely;
  const { utf8 } = walker;
  const lines = new LineWalker(utf8);
  if (tellingMarks(evidence) > 0) {
    // The reader may have stopped early.
    while (walker.advanceToSample());
    for (const [line, start] of samples) {
      if (line <= lastLine) continue;
      lines.goTo(start);
      weighLine(lines, delimiter, evidence);
    }
    return { delimiter, ...formatOf(evidence) };
  }
  const sampled = emptyEvidence();
  while (lines.advanceToSample()) weighLine(lines, delimiter, sampled);
  const format = formatOf(sampled);
  return { delimiter, ...(format.doubt === null ? format : formatOf(wholeEvidence(utf8, delimiter))) };
}

function isNumberLine(line: LineWalker, delimiter: Delimiter): boolean {
  const { utf8, start, end } = line;
  const mark = byteOf(delimiter);
  if (plain.take(utf8, start, end, mark)) return plain.numbers >= fewestNumbers;
  return (
    mayHoldNumbers(utf8, start, end, mark, fewestNumbers) && isNumberRow(splitRow(line.text(), delimiter))
  );
}

/** How many numbers only one convention explains. */
function tellingMarks({ decimalComma, decimalPoint, thousandsComma, thousandsPoint }: MarkEvidence): number {
  return decimalComma + decimalPoint + thousandsComma + thousandsPoint;
}

function wholeEvidence(utf8: Uint8Array, delimiter: Delimiter): MarkEvidence {
  const evidence = emptyEvidence();
  const walker = new LineWalker(utf8);
  while (walker.advance()) weighLine(walker, delimiter, evidence);
  return evidence;
}

/** Taken anew for every line. */
const plain = new PlainLine();

/** Adds what the line at hand says about the marks. */
function weighLine(line: LineWalker, delimiter: Delimiter, evidence: MarkEvidence): void {
  if (line.isLongerThan(longestSampled)) return;
  const { utf8, start, end } = line;
  const mark = byteOf(delimiter);
  if (plain.take(utf8, start, end, mark)) {
    if (plain.numbers >= fewestNumbers) weighPlain(utf8, evidence);
    return;
  }
  if (!mayHoldNumbers(utf8, start, end, mark, fewestNumbers)) return;
  const cells = splitRow(line.text(), delimiter);
  if (!isNumberRow(cells)) return;
  for (let column = 0; column < cells.length; column++) weigh(cells[column], column, evidence);
}

/** 0 for blanks. */
function byteOf(delimiter: Delimiter): number {
  return delimiter === "blanks" ? 0 : delimiter.charCodeAt(0);
}

/** The format of the numbers that a workbook holds as text. */
export function formatOfRows(rows: readonly (readonly unknown[])[]): NumberFormat {
  const evidence = emptyEvidence();
  for (const cells of rows) {
    for (let column = 0; column < cells.length; column++) {
      const cell = cells[column];
      if (typeof cell === "string" && cell.length < 40) weigh(cell, column, evidence);
    }
  }
  return formatOf(evidence).format;
}

/** A longer line is no row to learn from. */
const longestSampled = 20_000;

function sampleLines(utf8: Uint8Array): string[] {
  const walker = new LineWalker(utf8);
  const lines: string[] = [];
  while (walker.advanceToSample()) {
    if (walker.end > walker.start && !walker.isLongerThan(longestSampled)) lines.push(walker.text());
  }
  return lines;
}

function delimiterOf(utf8: Uint8Array, headerScore: (cells: string[]) => number): Delimiter {
  const good = candidates.map(() => 0);
  let most = 0;
  const walker = new LineWalker(utf8);
  while (most < enoughRows && walker.advanceToSample()) {
    if (walker.isLongerThan(longestSampled)) continue;
    const marks = marksIn(utf8, walker.start, walker.end);
    for (let i = 0; i < candidates.length; i++) {
      const delimiter = candidates[i];
      if ((marks & (1 << i)) === 0) continue;
      if (!isNumberLine(walker, delimiter)) continue;
      most = Math.max(most, ++good[i]);
      // What a tab or a semicolon parts into numbers needs no other reading.
      if (i < strongMarks) break;
    }
  }
  if (most === 0) return commonestMark(sampleLines(utf8));
  const likely = candidates.filter((_, i) => good[i] >= 0.5 * most);
  // Tabs and blanks split alike where no cell is empty: the tab is the mark then.
  const [first] = likely;
  if (likely.length === 1 || first === "\t" || first === ";" || first === "|") return first;
  const lines = sampleLines(utf8).slice(0, 80);
  const scores = likely.map((delimiter) =>
    Math.max(0, ...lines.map((line) => bestScore(line, delimiter, headerScore))),
  );
  return likely[scores.indexOf(Math.max(...scores))];
}

/** For each byte the candidates that it may stand for, a bit each. */
const candidatesOf = new Uint8Array(256);
candidates.forEach((delimiter, i) => {
  // A no-break space begins with 0xC2.
  const bytes = delimiter === "blanks" ? [32, 9, 0xc2] : [byteOf(delimiter)];
  for (const byte of bytes) candidatesOf[byte] |= 1 << i;
});

/** The candidates that may part a line; for all others it is a single cell. */
function marksIn(utf8: Uint8Array, start: number, end: number): number {
  let marks = 0;
  for (let at = start; at < end; at++) marks |= candidatesOf[utf8[at]];
  return marks;
}

function bestScore(line: string, delimiter: Delimiter, headerScore: (cells: string[]) => number): number {
  const score = headerScore(splitRow(line, delimiter));
  return delimiter === "blanks" ? Math.max(score, headerScore(splitBlanks(line, 2))) : score;
}

/** A table with a header and no rows still has a mark. */
function commonestMark(lines: string[]): Delimiter {
  let best: Delimiter = "blanks";
  let most = 0;
  for (const mark of ["\t", ";", ","] as const) {
    let count = 0;
    for (const line of lines) count += line.includes(mark) ? line.split(mark).length - 1 : 0;
    if (count > most) {
      most = count;
      best = mark;
    }
  }
  return best;
}

const fewestNumbers = 2;

/** At least two numbers, and at least two fifths of the cells that are not blank. */
export function isNumberRow(cells: string[]): boolean {
  let numbers = 0;
  let filled = 0;
  for (const cell of cells) {
    if (cell === "") continue;
    filled++;
    if (looksNumeric(cell)) numbers++;
  }
  return numbers >= fewestNumbers && numbers >= 0.4 * filled;
}

/** Digits with at most signs, marks and an exponent: a number in some convention. */
export function looksNumeric(cell: string): boolean {
  if (cell.length >= 40) return false;
  let digits = 0;
  for (let i = 0; i < cell.length; i++) {
    const code = cell.charCodeAt(i);
    if (code >= 48 && code <= 57) digits++;
    else if (code === 69 || code === 101) {
      if (digits === 0) return false;
    } else if (isGroupMark(code)) {
      // "1 234" is one number, "1 23" are two.
      if (digits === 0 || !isDigit(cell, i + 1) || !isDigit(cell, i + 2) || !isDigit(cell, i + 3))
        return false;
    } else if (code !== 46 && code !== 44 && code !== 45 && code !== 43 && code !== 0x2212) return false;
  }
  return digits > 0;
}

function isDigit(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  return code >= 48 && code <= 57;
}

function emptyEvidence(): MarkEvidence {
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
function weigh(cell: string, column: number, evidence: MarkEvidence): void {
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
    else if (code === 69 || code === 101) exponent = true;
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
function formatOf(evidence: MarkEvidence): Pick<Dialect, "format" | "doubt"> {
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
