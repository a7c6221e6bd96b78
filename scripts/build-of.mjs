// @ts-check
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";

/**
 * Twelve digits of a hash over all that was built, by name and content: the same source and packages give the same.
 * Maps, types and what is written once all is built do not count.
 * @param {string} folder
 * @returns {string}
 */
export function buildOf(folder) {
  const hash = createHash("sha256");
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).replaceAll("\\", "/"))
    .filter((path) => !/\.map$|^types\/|^build\.txt$|^\.built$/.test(path))
    .sort();
  for (const path of files) {
    const content = readFileSync(join(folder, path));
    hash.update(`${path}\n${content.length}\n`).update(content);
  }
  return hash.digest("hex").slice(0, 12);
}
