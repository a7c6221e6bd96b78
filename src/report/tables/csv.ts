import Papa from "papaparse";

export type Cell = string | number | boolean | null | undefined;

export interface Table {
  /** File name under tables/, such as "spectrum.csv". */
  name: string;
  header: string[];
  rows: Cell[][];
}

/**
 * A table as CSV (RFC 4180) that a spreadsheet opens as it stands: UTF-8 with a byte order mark, commas,
 * decimal points. A text that a spreadsheet would take for a formula gets a leading apostrophe, and so does one that
 * begins with an apostrophe, so that two texts never become one; a number never needs one. A missing value is an empty cell.
 */
export function csvText(table: Table): string {
  const rows = [table.header, ...table.rows].map((row) => row.map(cellText));
  return `\uFEFF${Papa.unparse(rows, { newline: "\r\n" })}\r\n`;
}

function cellText(cell: Cell): string {
  if (cell === null || cell === undefined) return "";
  if (typeof cell === "number") return Number.isFinite(cell) ? String(cell) : "";
  if (typeof cell === "boolean") return cell ? "yes" : "no";
  // Leading blanks are skipped by some spreadsheets before they look for a formula.
  const startsFormula = /^'|^\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|^[\t\r\n]/.test(cell);
  return startsFormula ? `'${cell}` : cell;
}
