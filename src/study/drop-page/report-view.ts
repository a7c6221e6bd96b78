import type { Assessment } from "../../report/assessment.js";
import { html } from "../../report/html/html.js";
import { download } from "../../report/page/tools/download.js";
import { countText } from "../../words/quantity-text.js";
import { type SavedFiles, zipOf } from "./saved-files.js";

/**
 * Shows the report as it will be saved, in a frame of its own and from a blob: URL: it stays the one file that a
 * reviewer gets, with its own styles, scripts and policy, and nothing of it mixes with this page.
 *
 * @returns takes the report away again
 */
export function reportView(place: HTMLElement, assessment: Assessment, files: SavedFiles): () => void {
  const url = URL.createObjectURL(new Blob([files.report.content], { type: "text/html;charset=utf-8" }));
  const { compounds, inputs } = assessment.results;
  const rejected = inputs.filter(({ status }) => status === "rejected").length;
  place.innerHTML =
    html`<p>${countText(compounds.length, "compound")} from ${countText(inputs.length, "file")}${rejected > 0 && `, ${rejected} rejected`}. The report lives in this page only until you save it.</p>
<p class="drop-tools"><button type="button" data-save="report">Save report.html</button> <button type="button" data-save="results">Save results.json</button> <button type="button" data-save="tables">Save the tables (zip of CSV)</button> <button type="button" data-save="all">Save all (zip)</button> <a href="${url}" target="_blank" rel="noopener">Open the report in a tab of its own</a></p>
<iframe class="report-frame" title="Report" src="${url}"></iframe>`.markup;
  const save: Record<string, () => void> = {
    report: () => saveText(files.report.path, files.report.content, "text/html"),
    results: () => saveText(files.results.path, files.results.content, "application/json"),
    tables: () => saveZip("frostline-tables.zip", files.tables),
    all: () => saveZip("frostline-out.zip", [files.results, ...files.tables, files.report]),
  };
  for (const button of place.querySelectorAll<HTMLButtonElement>("[data-save]")) {
    button.addEventListener("click", save[button.dataset.save!]);
  }
  return () => {
    URL.revokeObjectURL(url);
    place.replaceChildren();
  };
}

function saveText(name: string, content: string, type: string): void {
  download(name, new Blob([content], { type: `${type};charset=utf-8` }));
}

function saveZip(name: string, files: SavedFiles["tables"]): void {
  download(name, new Blob([zipOf(files)], { type: "application/zip" }));
}
