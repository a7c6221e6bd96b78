import Papa from "papaparse";
import { asText } from "./as-text.js";

export type Cell = string | number | boolean | null | undefined;

export interface Table {
  /** File name under tables/, such as "spectrum.csv". */
  name: string;
  header: string[];
  rows: Cell[][];
}

/**
 * A table as CSV (RFC 4180) that a spreadsheet opens as it stands: UTF-8 with a byte order mark, commas,
 * decimal points. A missing value is an empty cell.
 */
export function csvText(table: Table): string {
  const rows = [table.header, ...table.rows].map((row) => row.map(cellText));
  return `\uFEFF${Papa.unparse(rows, { newline: "\r\n" })}\r\n`;
}

function cellText(cell: Cell): string {
  if (cell === null || cell === undefined) return "";
  if (typeof cell === "number") return Number.isFinite(cell) ? String(cell) : "";
  if (typeof cell === "boolean") return cell ? "yes" : "no";
  return asText(cell);
}
