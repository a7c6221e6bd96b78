import type { Assessment } from "../report/assessment.js";
import { loadPageAssets } from "../report/load-page-assets.js";
import { reportHtml } from "../report/report-html.js";
import { csvText } from "../report/tables/csv.js";
import { resultTables } from "../report/tables/result-tables.js";
import type { OutputFile } from "./write-outputs.js";

/** Everything that an assessment leaves in the output folder; the same assessment gives the same bytes. */
export async function outputFiles(assessment: Assessment, withParquet: boolean): Promise<OutputFile[]> {
  const tables = resultTables(assessment);
  const files: OutputFile[] = [
    { path: "results.json", content: `${JSON.stringify(assessment.results, null, 2)}\n` },
    ...tables.map((table) => ({ path: `tables/${table.name}`, content: csvText(table) })),
  ];
  if (withParquet) {
    const { parquetBytes } = await import("../report/tables/parquet.js");
    for (const table of tables) {
      files.push({ path: `tables/${table.name.replace(/csv$/, "parquet")}`, content: parquetBytes(table) });
    }
  }
  files.push({ path: "report.html", content: reportHtml(assessment, loadPageAssets()) });
  return files;
}
