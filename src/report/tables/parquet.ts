import { parquetWriteBuffer } from "hyparquet-writer";
import type { Table } from "./csv.js";

/** Columns of words; every other column is a number, also where all its cells are empty. */
const textColumns = new Set(
  "compound use verdict contact note flags path deformation direction quantity source law shiftConstants sha256 status code message severity property unit method paths requirement wantedVerdict answer series basis toCompound failedRequirement loadUnit".split(
    " ",
  ),
);
const booleanColumns = new Set(["tanDeltaPeakBracketed", "lossModulusPeakBracketed", "onFrontier", "chosen"]);

/**
 * A table as Parquet (Apache Parquet, version 1 pages), with the same columns as the CSV. A column's type follows
 * from its name, so that files of many runs can be read as one data set; a missing value is null.
 */
export function parquetBytes(table: Table): Uint8Array {
  const columnData = table.header.map((name, c) => {
    const type = textColumns.has(name) ? "STRING" : booleanColumns.has(name) ? "BOOLEAN" : "DOUBLE";
    const data = table.rows.map((row) => {
      const cell = row[c] ?? null;
      if (cell === null || (typeof cell === "number" && !Number.isFinite(cell))) return null;
      return type === "STRING" ? String(cell) : cell;
    });
    return { name, data, type, nullable: true } as const;
  });
  return new Uint8Array(parquetWriteBuffer({ columnData }));
}
