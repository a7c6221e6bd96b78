import { csvText } from "../../report/tables/csv.js";
import type { OutputText } from "./output-texts.js";

/** Where the list of the files of one output stands; it is put in place last. */
export const fileListPath = "tables/files.csv";

/**
 * The list of the files that belong together, each with its size and hash. A reader of several files takes the
 * list first and the files after it: where all hashes fit, the files are of one output.
 */
export function fileListText(files: { path: string; bytes: number; sha256: string }[]): OutputText {
  const rows = files.map(({ path, bytes, sha256 }) => [path, bytes, sha256]);
  return {
    path: fileListPath,
    content: csvText({ name: "files.csv", header: ["path", "bytes", "sha256"], rows }),
  };
}
