import { fewestNumbers, isNumberRow } from "./looks-numeric.js";
import { longestSampled } from "./mark-evidence.js";
import { mayHoldNumbers, PlainLine } from "./plain-line.js";
import { LineWalker } from "./records.js";
import { byteOf, type Delimiter, splitBlanks, splitRow } from "./split-row.js";

/** Rows of numbers that settle the delimiter. */
const enoughRows = 30;
/** Marks that part cells wherever they stand in rows of numbers. */
const strongMarks = 3;
const candidates: Delimiter[] = ["\t", ";", "|", ",", "blanks"];

/** Taken anew for every line. */
const plain = new PlainLine();

function sampleLines(utf8: Uint8Array): string[] {
  const walker = new LineWalker(utf8);
  const lines: string[] = [];
  while (walker.advanceToSample()) {
    if (walker.end > walker.start && !walker.isLongerThan(longestSampled)) lines.push(walker.text());
  }
  return lines;
}

/** The mark that parts most of the sampled lines into rows of numbers. */
export function delimiterOf(utf8: Uint8Array, headerScore: (cells: string[]) => number): Delimiter {
  const good = candidates.map(() => 0);
  let most = 0;
  /** The candidate that parted the last row of numbers. */
  let last = strongMarks;
  const walker = new LineWalker(utf8);
  while (most < enoughRows && walker.advanceToSample()) {
    if (walker.isLongerThan(longestSampled)) continue;
    // What a tab or a semicolon parts into plain numbers holds no other mark, and needs no look for one.
    if (last < strongMarks && isPlainRow(walker, candidates[last])) {
      most = Math.max(most, ++good[last]);
      continue;
    }
    const marks = marksIn(utf8, walker.start, walker.end);
    if ((marks & digits) === 0) continue;
    for (let i = 0; i < candidates.length; i++) {
      const delimiter = candidates[i];
      if ((marks & (1 << i)) === 0) continue;
      if (!isNumberLine(walker, delimiter)) continue;
      most = Math.max(most, ++good[i]);
      last = i;
      // What a tab or a semicolon parts into numbers needs no other reading.
      if (i < strongMarks) break;
    }
  }
  if (most === 0) return headedMark(sampleLines(utf8), headerScore);
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

/** For each byte the candidates that it may stand for, a bit each, and one for the digits. */
const candidatesOf = new Uint8Array(256);
const digits = 1 << candidates.length;
candidatesOf.fill(digits, 48, 58);
candidates.forEach((delimiter, i) => {
  // A no-break space begins with 0xC2.
  const bytes = delimiter === "blanks" ? [32, 9, 0xc2] : [byteOf(delimiter)];
  for (const byte of bytes) candidatesOf[byte] |= 1 << i;
});

/** The candidates that may part a line, for all others it is a single cell; and whether it holds a digit. */
function marksIn(utf8: Uint8Array, start: number, end: number): number {
  let marks = 0;
  for (let at = start; at < end; at++) marks |= candidatesOf[utf8[at]];
  return marks;
}

function bestScore(line: string, delimiter: Delimiter, headerScore: (cells: string[]) => number): number {
  const score = headerScore(splitRow(line, delimiter));
  return delimiter === "blanks" ? Math.max(score, headerScore(splitBlanks(line, 2))) : score;
}

/** Rows of one number say little: the mark that parts a line into known headers, else the commonest. */
function headedMark(lines: string[], headerScore: (cells: string[]) => number): Delimiter {
  const marks = ["\t", ";", "|", ","] as const;
  const scores = marks.map((mark) =>
    Math.max(
      0,
      ...lines.slice(0, 80).map((line) => (line.includes(mark) ? bestScore(line, mark, headerScore) : 0)),
    ),
  );
  const best = Math.max(...scores);
  return best >= 2 ? marks[scores.indexOf(best)] : commonestMark(lines);
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

/** Whether a candidate other than blanks parts a line into plain numbers alone. */
function isPlainRow({ utf8, start, end }: LineWalker, delimiter: Delimiter): boolean {
  return plain.take(utf8, start, end, byteOf(delimiter)) && plain.numbers >= fewestNumbers;
}

function isNumberLine(line: LineWalker, delimiter: Delimiter): boolean {
  const { utf8, start, end } = line;
  const mark = byteOf(delimiter);
  if (plain.take(utf8, start, end, mark)) return plain.numbers >= fewestNumbers;
  return (
    mayHoldNumbers(utf8, start, end, mark, fewestNumbers) && isNumberRow(splitRow(line.text(), delimiter))
  );
}
