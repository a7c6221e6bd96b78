import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import picomatch from "picomatch";
import type { Measurement, Reading } from "../io/measurement.js";
import type { Problem } from "../io/problem.js";
import { readBytes } from "../io/read-bytes.js";
import { type Cache, noCache } from "./cache.js";
import type { FoundInput } from "./find-inputs.js";
import type { Study } from "./study.js";

/** One input as it went: its identity, and what was read or why not. */
export interface InputReading {
  path: string;
  sha256: string;
  bytes: number;
  reading: Reading | null;
  problem: Problem | null;
}

const sha256OfNothing = createHash("sha256").digest("hex");

/** Reads one file with the study's column overrides for it. The file is opened for reading only. */
export async function readInput(
  { path, file }: FoundInput,
  columns: Study["columns"],
  cache: Cache = noCache,
): Promise<InputReading> {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(file);
  } catch (error) {
    return {
      path,
      sha256: sha256OfNothing,
      bytes: 0,
      reading: null,
      problem: { code: "study.unreadable-file", message: unreadableMessage(error as NodeJS.ErrnoException) },
    };
  }
  const sha256 = createHash("sha256").update(bytes).digest("hex");
  const override = columnsFor(path, columns);
  const key = JSON.stringify([path, sha256, override]);
  const kept = (await cache.get("readings", key)) as InputReading | undefined;
  if (kept !== undefined) return kept;
  const outcome = await readBytes(bytes, path, override ? { columns: override } : {});
  const input: InputReading = {
    path,
    sha256,
    bytes: bytes.byteLength,
    reading: outcome.ok ? outcome.value : null,
    problem: outcome.ok ? null : outcome.problem,
  };
  await cache.put("readings", key, input);
  return input;
}

export function columnsFor(path: string, columns: Study["columns"]): Record<string, string> | null {
  for (const [glob, override] of Object.entries(columns)) {
    if (glob === path || picomatch(glob, { nocase: true, basename: !glob.includes("/") })(path))
      return override;
  }
  return null;
}

function unreadableMessage(error: NodeJS.ErrnoException): string {
  switch (error.code) {
    case "ENOENT":
      return "The file was there and is gone. It was moved or deleted while it was to be read; run again.";
    case "EACCES":
    case "EPERM":
      return "The file may not be read. Give the user who runs Frostline the right to read it.";
    case "EISDIR":
      return "This is a folder, expected a file.";
    default:
      return `The file cannot be read (${error.code ?? error.message}). Check the disk or the share.`;
  }
}

/** Points of a measurement: rows of a sweep, impacts of a rebound table. */
export function pointsOf(measurement: Measurement): number {
  return measurement.kind === "rebound"
    ? measurement.readings.reduce((sum, { fractions }) => sum + fractions.length, 0)
    : measurement.temperature_C.length;
}
