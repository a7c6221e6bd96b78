import { type Zippable, zipSync } from "fflate";
import type { Assessment } from "../../report/assessment.js";
import type { PageAssets } from "../../report/page-assets.js";
import { resultTables } from "../../report/tables/result-tables.js";
import { fileListText } from "../outputs/file-list-text.js";
import { type OutputText, reportText, resultsText, tableText } from "../outputs/output-texts.js";
import { newSha256 } from "./jobs.js";

export interface SavedFiles {
  report: OutputText;
  results: OutputText;
  /** The tables, and last the list of all files with their hashes. */
  tables: OutputText[];
}

/** The files that the command line would write for the same assessment, with the same names and bytes. */
export function savedFiles(assessment: Assessment, assets: PageAssets): SavedFiles {
  const results = resultsText(assessment);
  const tables = resultTables(assessment).map(tableText);
  const report = reportText(assessment, assets);
  const encoder = new TextEncoder();
  const list = fileListText(
    [results, ...tables, report].map(({ path, content }) => {
      const bytes = encoder.encode(content);
      const hash = newSha256();
      hash.update(bytes);
      return { path, bytes: bytes.length, sha256: hash.hex() };
    }),
  );
  return { report, results, tables: [...tables, list] };
}

/** A zip archive of some of them; the same files give the same bytes. */
export function zipOf(files: OutputText[]): Uint8Array<ArrayBuffer> {
  const encoder = new TextEncoder();
  const entries: Zippable = {};
  for (const { path, content } of files) entries[path] = encoder.encode(content);
  // The earliest time that an archive can state, for there is no clock in an output.
  return zipSync(entries, { mtime: new Date(1980, 0, 1) });
}
