import { asText } from "../../tables/as-text.js";
import type { Cell, PlotTable } from "../frame/plot-spec.js";

/** A text cell a spreadsheet takes for text: quoted, and with an apostrophe before what would start a formula. */
function textCell(text: string): string {
  return `"${asText(text)
    .replaceAll('"', '""')
    .replaceAll(/[\r\n]+/g, " ")}"`;
}

function cellText(cell: Cell): string {
  if (cell === null || cell === undefined) return "";
  return typeof cell === "number" ? (Number.isFinite(cell) ? String(cell) : "") : textCell(cell);
}

/** The table as comma-separated text, the remarks first, each in one quoted cell. */
export function csvText({ columns, rows, remarks }: PlotTable): string {
  const lines = [
    ...remarks.map((remark) => textCell(`# ${remark}`)),
    columns.map(textCell).join(","),
    ...rows.map((row) => row.map(cellText).join(",")),
  ];
  return `${lines.join("\r\n")}\r\n`;
}
