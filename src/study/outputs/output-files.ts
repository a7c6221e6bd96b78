import type { Assessment } from "../../report/assessment.js";
import { loadPageAssets } from "../../report/load-page-assets.js";
import { reportPieces } from "../../report/report-html.js";
import type { Cell, Table } from "../../report/tables/csv.js";
import { resultTables } from "../../report/tables/result-tables.js";
import { type WorkbookCell, workbookBytes } from "../../report/tables/workbook.js";
import { resultsPieces, tableText } from "./output-texts.js";
import type { OutputFile } from "./write-outputs.js";

/**
 * Everything that an assessment leaves in the output folder; the same assessment gives the same bytes.
 * @param formats in which the tables are there too, beside the CSV: "parquet", one file a table; "xlsx", one workbook
 * @throws where the report page's parts were not built
 * @example (await outputFiles({ results: { schema: "frostline.results/1", program: { name: "frostline", version: "0.1.0" }, inputs: [], compounds: [], fillerSeries: [], batchComparisons: [], decision: null, verdictBorders: { glassyBorder_K: 0, leatheryBorder_K: 10 }, settings: {}, changes: null, cautions: [], notices: [] }, compounds: [], uses: [], settings: {}, predictionSettings: defaultPredictionSettings }, [])).at(-1).path // "report.html"
 */
export async function outputFiles(assessment: Assessment, formats: readonly string[]): Promise<OutputFile[]> {
  const tables = resultTables(assessment);
  const results = { [Symbol.iterator]: () => resultsPieces(assessment) };
  const files: OutputFile[] = [{ path: "results.json", content: results }, ...tables.map(tableText)];
  if (formats.includes("parquet")) {
    const { parquetBytes } = await import("../../report/tables/parquet.js");
    for (const table of tables) {
      files.push({ path: `tables/${table.name.replace(/csv$/, "parquet")}`, content: parquetBytes(table) });
    }
  }
  if (formats.includes("xlsx"))
    files.push({ path: "tables/all-tables.xlsx", content: tablesWorkbook(tables) });
  files.push({ path: "report.html", content: reportPieces(assessment, loadPageAssets()) });
  return files;
}

/** One sheet a table, numbers as numbers. */
function tablesWorkbook(tables: Table[]): Uint8Array {
  return workbookBytes(
    tables.map(({ name, header, rows }) => ({
      name: name.replace(/\.csv$/, ""),
      rows: [header, ...rows.map((row) => row.map(workbookCell))],
    })),
  );
}

const workbookCell = (cell: Cell): WorkbookCell =>
  typeof cell === "boolean" ? (cell ? "yes" : "no") : (cell ?? null);
