import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { csvText } from "../report/tables/csv.js";
import type { OutputFile } from "./write-outputs.js";

/** Where the list of the files of one output stands; it is put in place last. */
export const fileListPath = "tables/files.csv";

/**
 * The list of the files that belong together, each with its size and hash. A reader of several files takes the
 * list first and the files after it: where all hashes fit, the files are of one output.
 */
export function fileList(files: OutputFile[]): OutputFile {
  const rows = files.map(({ path, content }) => {
    const bytes = typeof content === "string" ? Buffer.from(content, "utf8") : content;
    return [path, bytes.byteLength, createHash("sha256").update(bytes).digest("hex")];
  });
  return {
    path: fileListPath,
    content: csvText({ name: "files.csv", header: ["path", "bytes", "sha256"], rows }),
  };
}

/** The tables that the list of an output names; an empty array where there is no list. */
export function tablesIn(folder: string): string[] {
  try {
    const text = readFileSync(join(folder, fileListPath), "utf8");
    return [...text.matchAll(/^(tables\/[a-z-]+\.(?:csv|parquet)),\d+,[0-9a-f]{64}\r?$/gm)].map(
      ([, path]) => path,
    );
  } catch {
    return [];
  }
}
