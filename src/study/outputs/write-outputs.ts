import { createHash } from "node:crypto";
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync } from "node:fs";
import { lstat, mkdir, mkdtemp, open, readdir, rename, rm, rmdir, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { Problem } from "../../words/notice.js";
import { fileListPath, fileListText } from "./file-list-text.js";

export interface OutputFile {
  /** Relative to the output folder, with forward slashes. */
  path: string;
  content: string | Uint8Array;
}

/** A complete output that is being put in place; its appearance under this name is the moment it counts. */
const readyName = ".frostline-ready";
/** Outputs that are still being written, with the number of the process that writes them. */
const stagingName = /^\.frostline-(\d+)-/;
const ownStagings = new Set<string>();

/**
 * Writes all files or none. Everything goes into a folder of its own beside its place first; once all of it is
 * on the disk, that folder is given its final name by one rename, and its files are moved over in one go, the
 * list of files last. A reader sees each file as it was or as it is, never half. Where the program is killed
 * while files are moved, whoever writes or cleans up next moves the rest.
 * @returns what kept them from being written; null: all are in place
 * @example (await writeOutputs("package.json", [])).code // "study.cannot-write"
 */
export async function writeOutputs(folder: string, output: OutputFile[]): Promise<Problem | null> {
  const files = output.some(({ path }) => path === "results.json") ? [...output, fileList(output)] : output;
  let staging: string | null = null;
  let isReady = false;
  try {
    await mkdir(folder, { recursive: true });
    await finishInterrupted(folder);
    staging = await mkdtemp(join(folder, `.frostline-${process.pid}-`));
    ownStagings.add(staging);
    for (const { path, content } of files) {
      const target = join(staging, path);
      await mkdir(dirname(target), { recursive: true });
      await writeFile(target, content, { flush: true });
      await makePlace(folder, path);
    }
    await makeReady(folder, staging);
    isReady = true;
    await moveReady(folder);
    return null;
  } catch (error) {
    return writeProblem(folder, error as NodeJS.ErrnoException, isReady);
  } finally {
    if (staging !== null) {
      await rm(staging, { recursive: true, force: true }).catch(() => undefined);
      ownStagings.delete(staging);
    }
  }
}

/**
 * Completes an output whose move was interrupted, and removes what killed processes left half-written. Nothing
 * is done, and nothing said, where there is nothing to do or no right to do it.
 */
export async function cleanOutputs(folder: string): Promise<void> {
  await finishInterrupted(folder).catch(() => undefined);
}

async function finishInterrupted(folder: string): Promise<void> {
  const names = await readdir(folder).catch(() => [] as string[]);
  if (names.includes(readyName)) await moveReady(folder);
  for (const name of names) {
    const writer = stagingName.exec(name)?.[1];
    if (writer === undefined || ownStagings.has(join(folder, name))) continue;
    if (Number(writer) !== process.pid && isAlive(Number(writer))) continue;
    await rm(join(folder, name), { recursive: true, force: true });
  }
}

/** The folder for a file, and nothing in the file's way: found out before anything is replaced. */
async function makePlace(folder: string, path: string): Promise<void> {
  const target = join(folder, path);
  await mkdir(dirname(target), { recursive: true });
  const there = await lstat(target).catch(() => null);
  if (there?.isDirectory()) throw Object.assign(new Error(target), { code: "EISDIR" });
}

async function makeReady(folder: string, staging: string): Promise<void> {
  for (let attempt = 1; ; attempt++) {
    try {
      return await rename(staging, join(folder, readyName));
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      // Another process is just moving its own output over: help it along, then take the turn.
      if (attempt === 20 || (code !== "ENOTEMPTY" && code !== "EEXIST" && code !== "EPERM")) throw error;
      await moveReady(folder);
    }
  }
}

async function moveReady(folder: string): Promise<void> {
  const ready = join(folder, readyName);
  // One rename right after the other, so that hardly anybody meets files of two outputs side by side.
  const paths = filesIn(ready);
  for (const path of paths) mkdirSync(dirname(join(folder, path)), { recursive: true });
  const current = tablesIn(ready);
  const outdated = current.length > 0 ? tablesIn(folder).filter((path) => !current.includes(path)) : [];
  for (const path of outdated) rmSync(join(folder, path), { force: true });
  for (const path of paths) renameUnlessGone(join(ready, path), join(folder, path));
  // Only what is empty goes: another process may have put its own output there by now.
  await rmdir(join(ready, "tables")).catch(() => undefined);
  await rmdir(ready).catch(() => undefined);
  await flushFolder(folder);
  await flushFolder(join(folder, "tables"));
}

/** Two processes may move the same output; the one that comes second finds the file gone. */
function renameUnlessGone(from: string, to: string): void {
  try {
    renameSync(from, to);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOENT") throw error;
  }
}

/** Paths of all files under a folder, the list of files last: while it is there, the move is not done. */
function filesIn(folder: string, below = ""): string[] {
  let entries: import("node:fs").Dirent[];
  try {
    entries = readdirSync(join(folder, below), { withFileTypes: true });
  } catch {
    return [];
  }
  const paths = entries.flatMap((entry) => {
    const path = below === "" ? entry.name : `${below}/${entry.name}`;
    return entry.isDirectory() ? filesIn(folder, path) : [path];
  });
  return paths.sort((a, b) => Number(a === fileListPath) - Number(b === fileListPath));
}

/** Puts the renames on the disk, where the system can flush a folder. */
async function flushFolder(folder: string): Promise<void> {
  const handle = await open(folder, "r").catch(() => null);
  await handle?.sync().catch(() => undefined);
  await handle?.close().catch(() => undefined);
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}

const reasons: Record<string, string> = {
  ENOSPC: "the disk is full; free some space",
  EDQUOT: "the disk quota is used up; free some space",
  EFBIG: "a file would be larger than this account or disk allows; choose another folder with --out",
  EACCES: "the folder may not be written; choose another with --out or change its permissions",
  EPERM: "the folder may not be written; choose another with --out or change its permissions",
  EROFS: "the disk is read-only; choose another folder with --out",
  EEXIST: "a file is in the way of the folder; choose another with --out",
  ENOTDIR: "a file is in the way of the folder; choose another with --out",
  EISDIR: "a folder is in the way of a file of the output; move it away or choose another folder with --out",
  EBUSY: "another program holds a file of it open; close that program",
  EIO: "the disk or the share reports an error; check it",
};

/** Why an output could not be written, in words, from the system’s error. */
export function whyNotWritten(error: NodeJS.ErrnoException): string {
  return reasons[error.code ?? ""] ?? error.message;
}

function writeProblem(folder: string, error: NodeJS.ErrnoException, isReady: boolean): Problem {
  const why = whyNotWritten(error);
  const state = isReady
    ? "the new output is complete but not all of it is in its place yet, the next run moves the rest"
    : "nothing was replaced";
  return { code: "study.cannot-write", message: `${folder}: ${state}: ${why}.` };
}

/** The list of the files that belong together, as bytes on the disk will have it. */
export function fileList(files: OutputFile[]): OutputFile {
  return fileListText(
    files.map(({ path, content }) => {
      const bytes = typeof content === "string" ? Buffer.from(content, "utf8") : content;
      return { path, bytes: bytes.byteLength, sha256: createHash("sha256").update(bytes).digest("hex") };
    }),
  );
}

/** The tables that the list of an output names; an empty array where there is no list. */
export function tablesIn(folder: string): string[] {
  try {
    const text = readFileSync(join(folder, fileListPath), "utf8");
    return [...text.matchAll(/^(tables\/[a-z-]+\.(?:csv|parquet)),\d+,[0-9a-f]{64}\r?$/gm)].map(
      ([, path]) => path,
    );
  } catch {
    return [];
  }
}
