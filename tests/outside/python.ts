import { spawnSync } from "node:child_process";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const candidates = () => [process.env.FROSTLINE_PYTHON, "python3", "/usr/bin/python3"];

let found: string | null | undefined;

/**
 * The first Python that can import SciPy: the one named in FROSTLINE_PYTHON, else `python3` on the path,
 * else `/usr/bin/python3` (Debian: python3-scipy). Null where none can.
 */
export function findPython(): string | null {
  if (found !== undefined) return found;
  found = null;
  for (const candidate of candidates()) {
    if (!candidate) continue;
    const run = spawnSync(candidate, ["-c", "import scipy"], { stdio: "ignore" });
    if (run.status === 0) {
      found = candidate;
      break;
    }
  }
  return found;
}

/**
 * Runs a script of this folder with `input` as JSON on its standard input and returns the JSON of its
 * standard output. Throws with what the script wrote on standard error when it fails.
 * @example runPython("scipy_fit.py", { task: "nnls", matrix, rhs })
 */
export function runPython<Output = unknown>(script: string, input: unknown): Output {
  const python = findPython();
  if (python === null) {
    throw new Error(
      "No Python with SciPy was found. Install python3-scipy, or name an interpreter that has SciPy in FROSTLINE_PYTHON.",
    );
  }
  const run = spawnSync(python, [join(here, script)], {
    input: JSON.stringify(input),
    encoding: "utf8",
    maxBuffer: 256 * 1024 * 1024,
  });
  if (run.error) throw run.error;
  if (run.status !== 0) throw new Error(`${script} ended with status ${run.status}:\n${run.stderr}`);
  return JSON.parse(run.stdout) as Output;
}

/** True where checks against SciPy are to be skipped by name: no SciPy, and not on the CI machine, where they must fail. */
export const withoutSciPy = findPython() === null && !process.env.CI;
