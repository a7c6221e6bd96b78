import { createHash } from "node:crypto";
import { type FileHandle, open } from "node:fs/promises";
import picomatch from "picomatch";
import type { Measurement, Reading } from "../io/measurement.js";
import type { Outcome, Problem } from "../io/problem.js";
import { readBytes } from "../io/read-bytes.js";
import { type Cache, noCache } from "./cache.js";
import type { FoundInput } from "./find-inputs.js";
import { mostRowsRead, readLarge } from "./read-large.js";
import type { Study } from "./study.js";

/** One input as it went: its identity, and what was read or why not. */
export interface InputReading {
  path: string;
  sha256: string;
  bytes: number;
  reading: Reading | null;
  problem: Problem | null;
}

/** Larger files are refused, and that is said. */
export const mostBytes = 2_000_000_000;
/** Up to this size a file is read as a whole; no row of a table is shorter than some twenty bytes. */
const readWhole_bytes = 20 * mostRowsRead;
/** A workbook has to be held as a whole. */
const mostWorkbookBytes = 60_000_000;

const sha256OfNothing = createHash("sha256").digest("hex");

/** Reads one file with the study's column overrides for it. The file is opened for reading only. */
export async function readInput(
  { path, file }: FoundInput,
  columns: Study["columns"],
  cache: Cache = noCache,
): Promise<InputReading> {
  let handle: FileHandle | null = null;
  try {
    handle = await open(file, "r");
    const info = await handle.stat();
    if (!info.isFile())
      return refused(path, 0, "study.unreadable-file", "Expected a file, found something else.");
    if (info.size > mostBytes) {
      return refused(
        path,
        info.size,
        "io.too-large",
        `The file holds ${Math.round(info.size / 1e6)} MB; at most ${mostBytes / 1e6} MB are read. Export fewer points a second, or split the export.`,
        await hashOfFile(handle),
      );
    }
    const override = columnsFor(path, columns);
    return await readOpen(handle, info.size, path, override, cache);
  } catch (error) {
    return refused(path, 0, "study.unreadable-file", unreadableMessage(error as NodeJS.ErrnoException, path));
  } finally {
    await handle?.close().catch(() => undefined);
  }
}

async function readOpen(
  handle: FileHandle,
  size: number,
  path: string,
  override: Record<string, string> | null,
  cache: Cache,
): Promise<InputReading> {
  const options = override ? { columns: override } : {};
  const start = Buffer.alloc(4);
  await handle.read(start, 0, 4, 0);
  const isWorkbook = start.toString("latin1").startsWith("PK");
  const isWhole = size <= (isWorkbook ? mostWorkbookBytes : readWhole_bytes);
  if (isWorkbook && !isWhole) {
    return refused(
      path,
      size,
      "io.too-large",
      `The workbook holds ${Math.round(size / 1e6)} MB; at most ${mostWorkbookBytes / 1e6} MB of a workbook are read. Save the sheets with the measurements as .csv.`,
      await hashOfFile(handle),
    );
  }
  const bytes = isWhole ? await wholeFile(handle, size) : null;
  const sha256 = bytes === null ? await hashOfFile(handle) : createHash("sha256").update(bytes).digest("hex");
  const key = JSON.stringify([path, sha256, override]);
  const kept = (await cache.get("readings", key)) as InputReading | undefined;
  if (kept !== undefined) return kept;
  const outcome: Outcome<Reading> =
    bytes === null ? await readLarge(handle, path, options) : await readBytes(bytes, path, options);
  const input: InputReading = {
    path,
    sha256,
    bytes: bytes?.byteLength ?? size,
    reading: outcome.ok ? outcome.value : null,
    problem: outcome.ok ? null : outcome.problem,
  };
  await cache.put("readings", key, input);
  return input;
}

/** The bytes of a file up to the size it had when it was opened, or up to its end where it has shrunk. */
async function wholeFile(handle: FileHandle, size: number): Promise<Uint8Array> {
  const bytes = Buffer.alloc(size);
  let at = 0;
  while (at < size) {
    const { bytesRead } = await handle.read(bytes, at, size - at, at);
    if (bytesRead === 0) break;
    at += bytesRead;
  }
  return bytes.subarray(0, at);
}

async function hashOfFile(handle: FileHandle): Promise<string> {
  const hash = createHash("sha256");
  for await (const piece of handle.createReadStream({ start: 0, autoClose: false, highWaterMark: 1 << 20 })) {
    hash.update(piece);
  }
  return hash.digest("hex");
}

function refused(
  path: string,
  bytes: number,
  code: string,
  message: string,
  sha256 = sha256OfNothing,
): InputReading {
  return { path, sha256, bytes, reading: null, problem: { code, message } };
}

export function columnsFor(path: string, columns: Study["columns"]): Record<string, string> | null {
  for (const [glob, override] of Object.entries(columns)) {
    if (glob === path || picomatch(glob, { nocase: true, basename: !glob.includes("/") })(path))
      return override;
  }
  return null;
}

function unreadableMessage(error: NodeJS.ErrnoException, path: string): string {
  switch (error.code) {
    case "ENOENT":
      if (path.includes("\uFFFD"))
        return "The file's name is no valid UTF-8, so it cannot be opened. Rename it.";
      return "The file was there and is gone. It was moved or deleted while it was to be read; run again.";
    case "EACCES":
    case "EPERM":
      return "The file may not be read. Give the user who runs Frostline the right to read it.";
    case "EISDIR":
      return "This is a folder, expected a file.";
    case "EBUSY":
      return "Another program holds the file locked. Close it there.";
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
