import { spawnSync } from "node:child_process";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { findPython } from "../../scripts/find-tools.mjs";

const here = dirname(fileURLToPath(import.meta.url));

/** A Python with NumPy and SciPy; null where there is none. */
export const scipyPython = findPython();

/**
 * Runs a script of this folder with `input` as JSON on its standard input and returns the JSON of its
 * standard output. Throws with what the script wrote on standard error when it fails.
 * @example runPython("scipy_fit.py", { task: "nnls", matrix, rhs })
 */
export function runPython<Output = unknown>(script: string, input: unknown): Output {
  if (scipyPython === null) {
    throw new Error(
      "No Python with SciPy was found. Install python3-scipy, or name an interpreter that has SciPy in FROSTLINE_PYTHON.",
    );
  }
  const run = spawnSync(scipyPython, [join(here, script)], {
    input: JSON.stringify(input),
    encoding: "utf8",
    maxBuffer: 256 * 1024 * 1024,
  });
  if (run.error) throw run.error;
  if (run.status !== 0) throw new Error(`${script} ended with status ${run.status}:\n${run.stderr}`);
  return JSON.parse(run.stdout) as Output;
}

/** True where checks against SciPy are to be skipped by name: no SciPy, and not on the CI machine, where they must fail. */
export const withoutSciPy = scipyPython === null && !process.env.CI;
