import type { FileContent, Measurement } from "../../io/measurement.js";
import type { ReadOptions } from "../../io/read-options.js";
import type { Problem } from "../../words/notice.js";
import { globMatcher } from "../study-file/glob.js";
import type { Study } from "../study-file/study.js";

/** One input as it went: its identity, and what was read or why not. */
export interface InputAsRead {
  path: string;
  sha256: string;
  bytes: number;
  reading: FileContent | null;
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

/** What a study states of the file at a path, for its reading; null where it states nothing. */
export function readOptionsFor(
  path: string,
  { columns, files }: Pick<Study, "columns" | "files">,
): ReadOptions | null {
  const names = (glob: string) => globMatcher(glob)(path);
  const override = Object.entries(columns).find(([glob]) => names(glob))?.[1];
  const own = Object.entries(files).find(([glob]) => names(glob))?.[1];
  if (own === undefined) return override === undefined ? null : { columns: override };
  const { ignoreColumns = [], ignoreRows, columns: ownColumns, ...stated } = own;
  const ignored = Object.fromEntries(ignoreColumns.map((key) => [String(key), "ignore"]));
  const all = { ...override, ...ownColumns, ...ignored };
  return {
    ...stated,
    ...(Object.keys(all).length === 0 ? {} : { columns: all }),
    ...(ignoreRows === undefined ? {} : { ignoreRows: ignoreRows.map(rangeOf) }),
  };
}

/** A line, or a range such as "12-40". */
function rangeOf(rows: string | number): [first: number, last: number] {
  if (typeof rows === "number") return [rows, rows];
  const [first, last] = rows.split(/-|–|to/).map(Number);
  return [Math.min(first, last), Math.max(first, last)];
}

/** Points of a measurement: rows of a sweep, impacts of a rebound table. */
export function pointsOf(measurement: Measurement): number {
  return measurement.kind === "rebound"
    ? measurement.readings.reduce((sum, { fractions }) => sum + fractions.length, 0)
    : measurement.temperature_C.length;
}
