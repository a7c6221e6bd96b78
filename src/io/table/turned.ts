import { listedRows, type TurnedTable } from "./listed.js";
import type { TableContents } from "./table-contents.js";
import { tableTrouble } from "./table-trouble.js";
import { type CellRow, transposedRows } from "./transposed.js";

/**
 * What rows give that are no table as they stand: a list of single values, or quantities that stand in rows. Null where
 * they are neither.
 * @param read reads rows of cells as a table
 */
export function turnedTable(rows: CellRow[], read: (rows: CellRow[]) => TableContents): TableContents | null {
  const turned = listedRows(rows) ?? plain(transposedRows(rows));
  if (turned === null) return null;
  const reading = read(turned.rows);
  if (tableTrouble(reading) !== null || reading.conflict !== null) return null;
  reading.notices.push(...turned.notices);
  for (const { line, text, why } of turned.skipped) reading.skipped.add(line, text, why);
  return reading;
}

function plain(rows: CellRow[] | null): TurnedTable | null {
  return rows === null ? null : { rows, notices: [], skipped: [] };
}
