// @ts-check
import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";

/**
 * The declaration files that one leads to by its imports, itself among them: what a user of it can meet.
 * @param {string} entry
 * @returns {Set<string>} paths
 */
export function reachableTypes(entry) {
  const found = new Set([entry]);
  for (const file of found) {
    const imports = readFileSync(file, "utf8").matchAll(/(?:from|import\(|import) ?"(\.[^"]+)\.js"/g);
    for (const [, path] of imports) {
      const target = `${join(dirname(file), path)}.d.ts`;
      if (!existsSync(target)) throw new Error(`${file} imports ${path}, of which there is no declaration`);
      found.add(target);
    }
  }
  return found;
}
