import { createHash } from "node:crypto";
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";

/** Contents of all files of an output folder by path, what the program keeps for itself left out. */
export function filesOf(folder: string, below = ""): Map<string, Buffer> {
  const found = new Map<string, Buffer>();
  for (const name of readdirSync(join(folder, below)).sort()) {
    if (name.startsWith(".")) continue;
    const path = below === "" ? name : `${below}/${name}`;
    if (statSync(join(folder, path)).isDirectory()) {
      for (const [each, bytes] of filesOf(folder, path)) found.set(each, bytes);
    } else found.set(path, readFileSync(join(folder, path)));
  }
  return found;
}

/** Paths of files that differ between two folders, or stand in one of them alone. */
export function differences(one: string, other: string): string[] {
  return differing(filesOf(one), filesOf(other));
}

/** The same of contents that were read; what compares them byte by byte in the tests' own language takes seconds. */
export function differing(a: ReadonlyMap<string, Buffer>, b: ReadonlyMap<string, Buffer>): string[] {
  return [...new Set([...a.keys(), ...b.keys()])].filter((path) => {
    const left = a.get(path);
    const right = b.get(path);
    return left === undefined || right === undefined || !left.equals(right);
  });
}

/** Why a file that a reader sees is no whole one; null where it is. */
export function halfFile(path: string, bytes: Buffer): string | null {
  const text = bytes.toString("utf8");
  if (path.endsWith(".html")) return text.trimEnd().endsWith("</html>") ? null : `${path} ends in the middle`;
  if (path.endsWith(".csv")) return text.endsWith("\r\n") ? null : `${path} ends in the middle`;
  if (!path.endsWith(".json")) return `${path} does not belong to an output`;
  try {
    JSON.parse(text);
    return null;
  } catch (error) {
    return `${path}: ${(error as Error).message}`;
  }
}

/** The paths and hashes that tables/files.csv states; null where there is no list. */
export function statedHashes(files: ReadonlyMap<string, Buffer>): Map<string, string> | null {
  const list = files.get("tables/files.csv");
  if (list === undefined) return null;
  const rows = list.toString("utf8").replace("\uFEFF", "").trimEnd().split("\r\n").slice(1);
  return new Map(rows.map((row) => [row.split(",")[0], row.split(",")[2]]));
}

/** Whether the files are those that their list states: all of one output. */
export function isOneSet(files: ReadonlyMap<string, Buffer>): boolean {
  const stated = statedHashes(files);
  if (stated === null || stated.size !== files.size - 1) return false;
  return [...stated].every(([path, hash]) => {
    const bytes = files.get(path);
    return bytes !== undefined && createHash("sha256").update(bytes).digest("hex") === hash;
  });
}

/** Folders and files that the program keeps for the time of a write. */
export function leftovers(folder: string): string[] {
  return readdirSync(folder).filter((name) => name.startsWith(".frostline-"));
}
