import type { Assessment } from "../../report/assessment.js";
import { jsonPieces } from "../../report/json-pieces.js";
import type { PageAssets } from "../../report/page-assets.js";
import { reportHtml } from "../../report/report-html.js";
import { csvText, type Table } from "../../report/tables/csv.js";

export interface OutputText {
  /** Relative to the output folder, with forward slashes. */
  path: string;
  content: string;
}

/** The text of results.json in pieces, made as they are asked for. */
export function* resultsPieces({ results }: Assessment): Generator<string> {
  yield* jsonPieces(results, 2);
  yield "\n";
}

/** The text of results.json. */
export function resultsText(assessment: Assessment): OutputText {
  return { path: "results.json", content: [...resultsPieces(assessment)].join("") };
}

/** The text of one CSV table. */
export function tableText(table: Table): OutputText {
  return { path: `tables/${table.name}`, content: csvText(table) };
}

/** The text of report.html. */
export function reportText(assessment: Assessment, assets: PageAssets): OutputText {
  return { path: "report.html", content: reportHtml(assessment, assets) };
}
