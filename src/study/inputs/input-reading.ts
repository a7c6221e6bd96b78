import picomatch from "picomatch";
import type { Measurement, Reading } from "../../io/measurement.js";
import type { Problem } from "../../io/problem.js";
import type { Study } from "../study-file/study.js";

/** One input as it went: its identity, and what was read or why not. */
export interface InputAsRead {
  path: string;
  sha256: string;
  bytes: number;
  reading: Reading | null;
  problem: Problem | null;
}

const sha256OfNothing = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";

/** An input that was not read, and why. */
export function refused(
  path: string,
  bytes: number,
  code: string,
  message: string,
  sha256 = sha256OfNothing,
): InputAsRead {
  return { path, sha256, bytes, reading: null, problem: { code, message } };
}

/** The column overrides that a study states for a path; null where it states none. */
export function columnsFor(path: string, columns: Study["columns"]): Record<string, string> | null {
  for (const [glob, override] of Object.entries(columns)) {
    if (glob === path || picomatch(glob, { nocase: true, basename: !glob.includes("/") })(path))
      return override;
  }
  return null;
}

/** Points of a measurement: rows of a sweep, impacts of a rebound table. */
export function pointsOf(measurement: Measurement): number {
  return measurement.kind === "rebound"
    ? measurement.readings.reduce((sum, { fractions }) => sum + fractions.length, 0)
    : measurement.temperature_C.length;
}
