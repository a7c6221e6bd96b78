import type { Assessment } from "../../report/assessment.js";
import type { PageAssets } from "../../report/page-assets.js";
import { reportHtml } from "../../report/report-html.js";
import { csvText, type Table } from "../../report/tables/csv.js";

export interface OutputText {
  /** Relative to the output folder, with forward slashes. */
  path: string;
  content: string;
}

/** The text of results.json. */
export function resultsText({ results }: Assessment): OutputText {
  return { path: "results.json", content: `${JSON.stringify(results, null, 2)}\n` };
}

/** The text of one CSV table. */
export function tableText(table: Table): OutputText {
  return { path: `tables/${table.name}`, content: csvText(table) };
}

/** The text of report.html. */
export function reportText(assessment: Assessment, assets: PageAssets): OutputText {
  return { path: "report.html", content: reportHtml(assessment, assets) };
}
