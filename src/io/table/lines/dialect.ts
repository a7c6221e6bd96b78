import { delimiterOf } from "./delimiter-of.js";
import {
  emptyEvidence,
  formatOf,
  type MarkEvidence,
  type NumberMarks,
  tellingMarks,
  weigh,
  weighLine,
} from "./mark-evidence.js";
import { commaFormat, type NumberFormat, pointFormat } from "./number-format.js";
import { LineWalker } from "./records.js";
import type { Delimiter } from "./split-row.js";

/** How a text parts its cells and writes its numbers. */
export interface Dialect extends NumberMarks {
  delimiter: Delimiter;
}

/** Lines that are looked at before reading, and numbers of one convention alone that are enough to begin with. */
const firstLines = 100;
const enoughMarks = 25;

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
  if (tellingMarks(evidence) > 0) {
    // The reader may have stopped early.
    while (walker.advanceToSample());
    const lines = new LineWalker(utf8);
    for (const [line, start] of samples) {
      if (line <= lastLine) continue;
      lines.goTo(start);
      weighLine(lines, delimiter, evidence);
    }
    const settled = formatOf(evidence);
    // The rows that are left out would only have spoken for it.
    if (settled.format === likely.format) return { delimiter, ...settled };
  }
  const lines = new LineWalker(utf8);
  const sampled = emptyEvidence();
  while (lines.advanceToSample()) weighLine(lines, delimiter, sampled);
  const format = formatOf(sampled);
  return { delimiter, ...(format.doubt === null ? format : formatOf(wholeEvidence(utf8, delimiter))) };
}

function wholeEvidence(utf8: Uint8Array, delimiter: Delimiter): MarkEvidence {
  const evidence = emptyEvidence();
  const walker = new LineWalker(utf8);
  while (walker.advance()) weighLine(walker, delimiter, evidence);
  return tellingMarks(evidence) > 0 ? evidence : sparseEvidence(utf8, delimiter, evidence);
}

/** What single numbers say, one to a line: a list of compounds with a rebound each. */
function sparseEvidence(utf8: Uint8Array, delimiter: Delimiter, evidence: MarkEvidence): MarkEvidence {
  const sparse = emptyEvidence();
  const walker = new LineWalker(utf8);
  while (walker.advance()) weighLine(walker, delimiter, sparse, 1);
  return tellingMarks(sparse) > 0 || tellingMarks(evidence) === 0 ? sparse : evidence;
}

/** The format of the numbers that a workbook holds as text. */
export function formatOfRows(rows: readonly (readonly unknown[])[]): NumberFormat {
  return marksOfRows(rows).format;
}

/** How the cells of rows write their numbers, and what of that is in doubt. */
export function marksOfRows(rows: readonly (readonly unknown[])[]): NumberMarks {
  const evidence = emptyEvidence();
  for (const cells of rows) {
    for (let column = 0; column < cells.length; column++) {
      const cell = cells[column];
      if (typeof cell === "string" && cell.length < 40) weigh(cell, column, evidence);
    }
  }
  return formatOf(evidence);
}
