import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";

const browsers = [
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/usr/bin/google-chrome",
  "/usr/bin/chrome",
];

/** Path of a Chromium: the one named by CHROMIUM, else a usual place, else null. */
export function findChromium() {
  if (process.env.CHROMIUM) return process.env.CHROMIUM;
  return browsers.find((path) => existsSync(path)) ?? null;
}

/** A Python that imports SciPy: the one named by FROSTLINE_PYTHON, else python3, else Debian's own, else null. */
export function findPython() {
  const candidates = [process.env.FROSTLINE_PYTHON, "python3", "/usr/bin/python3"].filter(Boolean);
  return (
    candidates.find(
      (python) => spawnSync(python, ["-c", "import numpy, scipy"], { stdio: "ignore" }).status === 0,
    ) ?? null
  );
}
