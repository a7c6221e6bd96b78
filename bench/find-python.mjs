// A Python with pandas, NumPy and SciPy; installed from Debian's packages where that is allowed.
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { findPython } from "../scripts/find-tools.mjs";

/** OpenBLAS, because Debian's SciPy alone comes with the slow reference BLAS. */
const packages = ["python3-scipy", "python3-pandas", "libopenblas0-pthread"];

/** Both sides compute in one thread but for the whole job, where both have two processes or threads. */
export const pythonEnvironment = () => {
  const environment = {
    ...process.env,
    OPENBLAS_NUM_THREADS: "1",
    OMP_NUM_THREADS: "1",
    MKL_NUM_THREADS: "1",
    PYTHONDONTWRITEBYTECODE: "1",
  };
  // Set for other programs of a machine, these two make OpenBLAS choose the wrong kernels.
  delete environment.OPENBLAS_CORETYPE;
  delete environment.OPENBLAS_L2_SIZE;
  return environment;
};

/** @returns the interpreter and its versions, or null with a word on what is missing */
export function pythonWithPandas() {
  const found = firstWithPandas();
  if (found !== null) return found;
  const isRoot = typeof process.getuid === "function" && process.getuid() === 0;
  if (isRoot && existsSync("/etc/debian_version")) {
    console.error(`bench: installing ${packages.join(", ")} (apt-get) …`);
    const options = {
      stdio: ["ignore", 2, 2],
      env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
    };
    spawnSync("apt-get", ["update", "-qq"], options);
    spawnSync("apt-get", ["install", "-y", "-qq", "--no-install-recommends", ...packages], options);
  }
  return firstWithPandas();
}

export const missingPython = `No Python with NumPy, SciPy and pandas was found. Install them (Debian: apt-get install ${packages.join(" ")}) or name an interpreter in FROSTLINE_PYTHON.`;

function firstWithPandas() {
  const candidates = [process.env.FROSTLINE_PYTHON, findPython(), "python3", "/usr/bin/python3"];
  for (const python of candidates) {
    if (!python) continue;
    const { status, stdout } = spawnSync(
      python,
      [
        "-c",
        "import sys, numpy, scipy, pandas, scipy.optimize; print(f'Python {sys.version.split()[0]}, NumPy {numpy.__version__}, SciPy {scipy.__version__}, pandas {pandas.__version__}')",
      ],
      { encoding: "utf8", env: pythonEnvironment(), stdio: ["ignore", "pipe", "ignore"] },
    );
    if (status === 0) return { python, versions: stdout.trim() };
  }
  return null;
}
