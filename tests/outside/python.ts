import { spawn, spawnSync } from "node:child_process";
import { dirname, join } from "node:path";
import { createInterface } from "node:readline";
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
  const run = spawnSync(pythonOrThrow(), [join(here, script)], {
    input: JSON.stringify(input),
    encoding: "utf8",
    maxBuffer: 256 * 1024 * 1024,
  });
  if (run.error) throw run.error;
  if (run.status !== 0) throw new Error(`${script} ended with status ${run.status}:\n${run.stderr}`);
  return JSON.parse(run.stdout) as Output;
}

/** A script that is running. */
export interface RunningPython {
  /** Its answer to an input. Throws with what the script wrote on standard error where it fails. */
  ask<Output>(input: unknown): Promise<Output>;
  end(): void;
}

/**
 * Starts a script of this folder that answers each line of JSON on its standard input with one on its standard output:
 * SciPy is loaded once for all that is asked.
 * @example const answer = await startPython("scipy_fit.py").ask({ task: "nnls", systems })
 */
export function startPython(script: string): RunningPython {
  const child = spawn(pythonOrThrow(), [join(here, script)], { stdio: "pipe" });
  let said = "";
  child.stderr.on("data", (data) => {
    said += data;
  });
  const ended = new Promise<never>((_, fail) => {
    child.on("error", fail);
    child.on("close", (status) => fail(new Error(`${script} ended with status ${status}:\n${said}`)));
  });
  // Told to whoever asks; where nobody does, its end is no failure.
  ended.catch(() => undefined);
  child.stdin.on("error", () => undefined);
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  return {
    async ask<Output>(input: unknown) {
      child.stdin.write(`${JSON.stringify(input)}\n`);
      const { value, done } = await Promise.race([lines.next(), ended]);
      return done ? await ended : (JSON.parse(value) as Output);
    },
    end: () => void child.stdin.end(),
  };
}

function pythonOrThrow(): string {
  if (scipyPython !== null) return scipyPython;
  throw new Error(
    "No Python with SciPy was found. Install python3-scipy, or name an interpreter that has SciPy in FROSTLINE_PYTHON.",
  );
}

/** True where checks against SciPy are to be skipped by name: no SciPy, and not on the CI machine, where they must fail. */
export const withoutSciPy = scipyPython === null && !process.env.CI;
