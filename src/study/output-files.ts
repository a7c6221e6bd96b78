import type { Assessment } from "../report/assessment.js";
import { loadPageAssets } from "../report/load-page-assets.js";
import { reportHtml } from "../report/report-html.js";
import { csvText } from "../report/tables/csv.js";
import { resultTables } from "../report/tables/result-tables.js";
import type { OutputFile } from "./write-outputs.js";

/** Everything that an assessment leaves in the output folder; the same assessment gives the same bytes. */
export function outputFiles(assessment: Assessment): OutputFile[] {
  return [
    { path: "results.json", content: `${JSON.stringify(assessment.results, null, 2)}\n` },
    ...resultTables(assessment).map((table) => ({ path: `tables/${table.name}`, content: csvText(table) })),
    { path: "report.html", content: reportHtml(assessment, loadPageAssets()) },
  ];
}
