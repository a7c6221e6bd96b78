// @ts-check
import { spawnSync } from "node:child_process";
import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";

const browserNames = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"];
const browserFolders = ["/usr/bin", "/usr/local/bin", "/snap/bin"];
const macBrowsers = [
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
];

/** Path of a Chromium: the one that CHROMIUM names, else the first on the path or in a usual place; null where there is none. */
export function findChromium() {
  const stated = process.env.CHROMIUM;
  if (stated) return isExecutable(stated) ? stated : null;
  const folders = [...(process.env.PATH ?? "").split(delimiter), ...browserFolders];
  const places = folders.flatMap((folder) => browserNames.map((name) => join(folder, name)));
  return [...places, ...macBrowsers].find(isExecutable) ?? null;
}

/**
 * The first Python that imports these modules: the one that FROSTLINE_PYTHON names, else `python3` on the path, else
 * `/usr/bin/python3` (where Debian's packages are, also when another Python comes first); null where none does.
 */
export function findPython(modules = ["numpy", "scipy"]) {
  const stated = process.env.FROSTLINE_PYTHON;
  const candidates = [...(stated ? [stated] : []), "python3", "/usr/bin/python3"];
  /** @param {string} python */
  const imports = (python) =>
    spawnSync(python, ["-c", `import ${modules.join(", ")}`], { stdio: "ignore" }).status === 0;
  return candidates.find(imports) ?? null;
}

/**
 * Whether a program is on the path, or where Debian keeps those of the administrator.
 * @param {string} name
 */
export function isOnPath(name) {
  const folders = [...(process.env.PATH ?? "").split(delimiter), "/usr/sbin", "/sbin"];
  return folders.some((folder) => isExecutable(join(folder, name)));
}

/** @param {string} path */
function isExecutable(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
