import { fitted, shownWidth } from "../../words/shown-width.js";
import type { ColumnReading } from "../measurement.js";

/** The columns of a table and what each was taken for, as an aligned table. */
export function columnsTable(columns: ColumnReading[], width: number): string[] {
  const rows = columns.map(({ column, header, quantity, unit, unitAssumed }) => [
    String(column),
    header === "" ? "(no header)" : header,
    quantity,
    unitAssumed ? `${unit} (assumed)` : unit === "" || unit === "-" ? "–" : unit,
  ]);
  const titles = ["no.", "header", "taken for", "unit"];
  const widths = titles.map((title, i) =>
    Math.max(shownWidth(title), ...rows.map((row) => shownWidth(row[i]))),
  );
  // Long headers give way first: two blanks at the left, two between columns.
  const fixed = 2 + widths[0] + 2 + 2 + widths[2] + 2 + widths[3];
  widths[1] = Math.max(8, Math.min(widths[1], width - fixed));
  const line = ([number, header, quantity, unit]: string[]) =>
    `  ${number.padStart(widths[0])}  ${fitted(header, widths[1])}  ${fitted(quantity, widths[2])}  ${unit}`.trimEnd();
  return ["", line(titles), `  ${widths.map((each) => "─".repeat(each)).join("  ")}`, ...rows.map(line)];
}
