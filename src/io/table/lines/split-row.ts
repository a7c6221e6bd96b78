import Papa from "papaparse";

/** What parts the cells of a line: one character, or runs of blanks. */
export type Delimiter = "," | ";" | "\t" | "|" | "blanks";

/** In plain words, for people. */
export const delimiterNames: Record<Delimiter, string> = {
  ",": "comma",
  ";": "semicolon",
  "\t": "tab",
  "|": "vertical bar",
  blanks: "aligned blanks",
};

/** The byte of a delimiter; 0 for blanks. */
export function byteOf(delimiter: Delimiter): number {
  return delimiter === "blanks" ? 0 : delimiter.charCodeAt(0);
}

/** Cells of one record, trimmed. A quote counts as one only at the start of a cell: E" is a loss modulus. */
export function splitRow(record: string, delimiter: Delimiter): string[] {
  if (delimiter === "blanks") return splitBlanks(record, 1);
  if (!hasQuotedCell(record, delimiter)) return record.split(delimiter).map((cell) => cell.trim());
  const { data } = Papa.parse<string[]>(record, { delimiter, newline: "\n", skipEmptyLines: false });
  const cells = data[0] ?? [];
  return cells.map((cell) => cell.replace(/\s+/g, " ").trim());
}

/** The same cells as they are written, for a record that holds what is not seen. */
export function writtenCells(record: string, delimiter: Delimiter): string[] {
  if (delimiter === "blanks") return [record];
  if (!hasQuotedCell(record, delimiter)) return record.split(delimiter);
  return Papa.parse<string[]>(record, { delimiter, newline: "\n", skipEmptyLines: false }).data[0] ?? [];
}

function hasQuotedCell(record: string, delimiter: string): boolean {
  for (let at = record.indexOf('"'); at >= 0; at = record.indexOf('"', at + 1)) {
    if (at === 0 || record[at - 1] === delimiter || record[at - 1] === " ") return true;
  }
  return false;
}

/** Cells parted by at least so many blanks, or by a tab. */
export function splitBlanks(record: string, least: 1 | 2): string[] {
  const text = record.trim();
  if (text === "") return [];
  return text.split(least === 1 ? /[ \t\u00a0]+/ : /\t+| {2,}|\u00a0{2,}/).map((cell) => cell.trim());
}

/** Start and end of each run of non-blank characters. */
export function spansOf(record: string): [start: number, end: number][] {
  const spans: [number, number][] = [];
  let start = -1;
  for (let i = 0; i <= record.length; i++) {
    const code = i < record.length ? record.charCodeAt(i) : 32;
    const blank = code === 32 || code === 9 || code === 0xa0;
    if (!blank && start < 0) start = i;
    else if (blank && start >= 0) {
      spans.push([start, i]);
      start = -1;
    }
  }
  return spans;
}
