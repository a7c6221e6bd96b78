import type { Assessment } from "../../report/assessment.js";
import { loadPageAssets } from "../../report/load-page-assets.js";
import { resultTables } from "../../report/tables/result-tables.js";
import { reportText, resultsText, tableText } from "./output-texts.js";
import type { OutputFile } from "./write-outputs.js";

/**
 * Everything that an assessment leaves in the output folder; the same assessment gives the same bytes.
 * @param withParquet whether the tables are there as Parquet too, beside the CSV
 * @throws where the report page's parts were not built
 * @example (await outputFiles({ results: { schema: "frostline.results/1", program: { name: "frostline", version: "0.1.0" }, inputs: [], compounds: [], fillerSeries: [], batchComparisons: [], decision: null, verdictBorders: { glassyBorder_K: 0, leatheryBorder_K: 10 }, cautions: [], notices: [] }, compounds: [], uses: [], settings: {}, predictionSettings: defaultPredictionSettings }, false)).at(-1).path // "report.html"
 */
export async function outputFiles(assessment: Assessment, withParquet: boolean): Promise<OutputFile[]> {
  const tables = resultTables(assessment);
  const files: OutputFile[] = [resultsText(assessment), ...tables.map(tableText)];
  if (withParquet) {
    const { parquetBytes } = await import("../../report/tables/parquet.js");
    for (const table of tables) {
      files.push({ path: `tables/${table.name.replace(/csv$/, "parquet")}`, content: parquetBytes(table) });
    }
  }
  files.push(reportText(assessment, loadPageAssets()));
  return files;
}
