import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileListPath, fileListText } from "./file-list-text.js";
import type { OutputFile } from "./write-outputs.js";

/** The list of the files that belong together, as bytes on the disk will have it. */
export function fileList(files: OutputFile[]): OutputFile {
  return fileListText(
    files.map(({ path, content }) => {
      const bytes = typeof content === "string" ? Buffer.from(content, "utf8") : content;
      return { path, bytes: bytes.byteLength, sha256: createHash("sha256").update(bytes).digest("hex") };
    }),
  );
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
