import { createHash } from "node:crypto";
import { type Dirent, lstatSync, mkdirSync, readFileSync, renameSync, rmSync, type Stats } from "node:fs";
import { lstat, mkdir, open, readdir, rename, rm, rmdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { Problem } from "../../words/notice.js";
import { fileListPath, fileListText } from "./file-list-text.js";
import { isStaging, stagingName } from "./staging-name.js";

export interface OutputFile {
  /** Relative to the output folder, with forward slashes. */
  path: string;
  /** A text, bytes, or a text in pieces, which can be gone through again. */
  content: string | Uint8Array | Iterable<string>;
}

/** A complete output that is being put in place; its appearance under this name is the moment it counts. */
const readyName = ".frostline-ready";
/** Untouched for so long, a half-written output is nobody's any more; who slept over it writes it again. */
const forgottenAfter_ms = 15 * 60_000;
const mostAttempts = 3;

/**
 * Writes all files or none. Everything goes into a folder of its own beside its place first; once all of it is
 * on the disk, that folder is given its final name by one rename, and its files are moved over in one go, the
 * list of files last. A reader sees each file as it was or as it is, never half. Where the program is killed
 * while files are moved, whoever writes or cleans up next moves the rest. In a folder that others may write to,
 * nothing is moved or removed but what belongs to this user and stands in the list, and nothing through a link.
 * @returns what kept them from being written; null: all are in place
 * @example (await writeOutputs("package.json", [])).code // "study.cannot-write"
 */
export async function writeOutputs(folder: string, output: OutputFile[]): Promise<Problem | null> {
  const isListed = output.some(({ path }) => path === "results.json");
  const paths = [...output.map(({ path }) => path), ...(isListed ? [fileListPath] : [])];
  for (let attempt = 1; ; attempt++) {
    let staging: string | null = null;
    let isReady = false;
    let created: string | undefined;
    try {
      created = await mkdir(folder, { recursive: true });
      await checkPlaces(folder, paths);
      await finishInterrupted(folder, Date.now());
      staging = join(folder, stagingName());
      await mkdir(staging, { mode: 0o700 });
      const written: WrittenFile[] = [];
      for (const file of output) written.push(await writeFlushed(staging, file));
      if (isListed) await writeFlushed(staging, fileListText(written));
      if (paths.length === 1) await rename(join(staging, paths[0]), join(folder, paths[0]));
      else {
        await makeReady(folder, staging);
        isReady = true;
        await moveReady(folder);
      }
      return null;
    } catch (error) {
      const wasForgotten = staging !== null && !isReady && (error as NodeJS.ErrnoException).code === "ENOENT";
      if (!wasForgotten || attempt === mostAttempts) {
        if (!isReady) await removeEmpty(folder, created, staging);
        return writeProblem(folder, error as NodeJS.ErrnoException, isReady);
      }
    } finally {
      if (staging !== null) await rm(staging, { recursive: true, force: true }).catch(() => undefined);
    }
  }
}

/**
 * Completes an output whose move was interrupted, and removes what killed processes left half-written. Nothing
 * is done, and nothing said, where there is nothing to do or no right to do it.
 */
export async function cleanOutputs(folder: string): Promise<void> {
  await finishInterrupted(folder, Date.now()).catch(() => undefined);
}

async function finishInterrupted(folder: string, now_ms: number): Promise<void> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => [] as Dirent[]);
  if (entries.some(({ name }) => name === readyName)) await moveReady(folder);
  for (const entry of entries) {
    if (!isStaging(entry.name)) continue;
    const place = join(folder, entry.name);
    const states = [place, join(place, "tables")].map((path) => stateOf(path));
    if (states[0] === null || !isOwnFolder(states[0])) continue;
    const touched_ms = Math.max(...states.map((state) => state?.mtimeMs ?? 0));
    if (now_ms - touched_ms > forgottenAfter_ms) await rm(place, { recursive: true, force: true });
  }
}

/** What would be in the way of the output: found out before anything is written. A link would be written through. */
async function checkPlaces(folder: string, paths: string[]): Promise<void> {
  for (const parent of new Set(paths.map((path) => dirname(path)))) {
    const there = parent === "." ? null : await lstat(join(folder, parent)).catch(() => null);
    if (there?.isSymbolicLink()) throw failure("ELOOP", join(folder, parent));
    if (there !== null && !there.isDirectory()) throw failure("ENOTDIR", join(folder, parent));
  }
  for (const path of paths) {
    const there = await lstat(join(folder, path)).catch(() => null);
    if (there?.isDirectory()) throw failure("EISDIR", join(folder, path));
  }
}

const failure = (code: string, path: string) => Object.assign(new Error(path), { code, path });

/** A failed write leaves no folder that was not there before. */
async function removeEmpty(
  folder: string,
  created: string | undefined,
  staging: string | null,
): Promise<void> {
  if (staging !== null) await rm(staging, { recursive: true, force: true }).catch(() => undefined);
  if (created === undefined) return;
  for (let path = folder; path.length >= created.length; path = dirname(path)) {
    if (
      !(await rmdir(path).then(
        () => true,
        () => false,
      ))
    )
      return;
  }
}

async function makeReady(folder: string, staging: string): Promise<void> {
  for (let attempt = 1; ; attempt++) {
    try {
      return await rename(staging, join(folder, readyName));
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      // Another process is just moving its own output over: help it along, then take the turn.
      const isTaken = ["ENOTEMPTY", "EEXIST", "EPERM", "ENOTDIR"].includes(code ?? "");
      if (attempt === 20 || !isTaken) throw error;
      await moveReady(folder);
    }
  }
}

/** Moves the files of the list, one rename right after the other, so that hardly anybody meets files of two outputs side by side. */
async function moveReady(folder: string): Promise<void> {
  const ready = join(folder, readyName);
  const state = stateOf(ready);
  if (state === null) return;
  if (!isOwnFolder(state)) throw failure("NOTOURS", ready);
  const listed = listedIn(ready);
  if (listed.length > 0) {
    if (stateOf(join(folder, "tables"))?.isSymbolicLink()) throw failure("ELOOP", join(folder, "tables"));
    mkdirSync(join(folder, "tables"), { recursive: true });
    const isTable = (path: string) => path.startsWith("tables/");
    const outdated = listedIn(folder).filter((path) => isTable(path) && !listed.includes(path));
    for (const path of outdated) rmSync(join(folder, path), { force: true });
    // While the list is there, the move is not done.
    for (const path of [...listed, fileListPath]) {
      const from = join(ready, path);
      if (stateOf(from)?.isFile()) renameUnlessGone(from, join(folder, path));
    }
  }
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

/** What stands under a name, links not followed; null where nothing does. */
function stateOf(path: string): Stats | null {
  return lstatSync(path, { throwIfNoEntry: false }) ?? null;
}

/** A folder, no link to one, that belongs to the user who runs this; where the system has no owners, any folder. */
function isOwnFolder(state: Stats): boolean {
  return state.isDirectory() && (process.geteuid === undefined || state.uid === process.geteuid());
}

/** Puts the renames on the disk, where the system can flush a folder. */
async function flushFolder(folder: string): Promise<void> {
  const handle = await open(folder, "r").catch(() => null);
  await handle?.sync().catch(() => undefined);
  await handle?.close().catch(() => undefined);
}

const heldOpen =
  "another program holds a file of it open, most likely a spreadsheet program such as Excel; close the file there";

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
  EBUSY: heldOpen,
  ENOTEMPTY: `${readyName} in it holds what is no output of Frostline; move that away or choose another folder with --out`,
  ELOOP:
    "a link stands in the place of a folder of the output, and would be written through; remove it or choose another folder with --out",
  NOTOURS: `${readyName} in it was made by another user, or is a link; nothing of it is moved. Have it removed or choose another folder with --out`,
  EIO: "the disk or the share reports an error; check it",
};

/** Why an output could not be written, in words, from the system’s error. */
export function whyNotWritten(error: NodeJS.ErrnoException, platform = process.platform): string {
  // Windows refuses to replace an open file as if it were forbidden.
  const isReplacing = error.syscall === "rename" && (error.code === "EPERM" || error.code === "EACCES");
  if (platform === "win32" && isReplacing) return heldOpen;
  return reasons[error.code ?? ""] ?? error.message;
}

function writeProblem(folder: string, error: NodeJS.ErrnoException, isReady: boolean): Problem {
  const why = whyNotWritten(error);
  const state = isReady
    ? "the new output is complete but not all of it is in its place yet, the next run moves the rest"
    : "nothing was replaced";
  return { code: "study.cannot-write", message: `${folder}: ${state}: ${why}.` };
}

/** A file on the disk, as the list of the files has it. */
interface WrittenFile {
  path: string;
  bytes: number;
  sha256: string;
}

/** Writes one file, piece by piece, and waits until it is on the disk. */
async function writeFlushed(staging: string, { path, content }: OutputFile): Promise<WrittenFile> {
  const target = join(staging, path);
  await mkdir(dirname(target), { recursive: true });
  const hash = createHash("sha256");
  let size = 0;
  const handle = await open(target, "w");
  try {
    const pieces = typeof content === "string" || content instanceof Uint8Array ? [content] : content;
    for (const piece of pieces) {
      const bytes = typeof piece === "string" ? Buffer.from(piece, "utf8") : piece;
      hash.update(bytes);
      size += bytes.byteLength;
      await handle.writeFile(bytes);
    }
    await handle.sync();
  } finally {
    await handle.close();
  }
  return { path, bytes: size, sha256: hash.digest("hex") };
}

/** The files that the list of an output names, but for the list itself; an empty array where there is no list. */
function listedIn(folder: string): string[] {
  if (!stateOf(join(folder, fileListPath))?.isFile()) return [];
  const text = readFileSync(join(folder, fileListPath), "utf8");
  const line =
    /^((?:[a-z-]+\.(?:html|json|xlsx))|(?:tables\/[a-z-]+\.(?:csv|parquet|xlsx))),\d+,[0-9a-f]{64}\r?$/gm;
  return [...text.matchAll(line)].map(([, path]) => path);
}
