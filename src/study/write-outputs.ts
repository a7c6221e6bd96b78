import { mkdir, mkdtemp, rename, rm, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { Problem } from "../io/problem.js";

export interface OutputFile {
  /** Relative to the output folder, with forward slashes. */
  path: string;
  content: string | Uint8Array;
}

/**
 * Writes all files or none: everything goes into a fresh folder beside its place first, and is moved over only
 * when all of it is on the disk. A reader sees each file as it was or as it is, never half.
 */
export async function writeOutputs(folder: string, files: OutputFile[]): Promise<Problem | null> {
  let staging: string | null = null;
  try {
    await mkdir(folder, { recursive: true });
    staging = await mkdtemp(join(folder, ".frostline-"));
    for (const { path, content } of files) {
      const target = join(staging, path);
      await mkdir(dirname(target), { recursive: true });
      await writeFile(target, content, { flush: true });
    }
    for (const { path } of files) {
      const target = join(folder, path);
      await mkdir(dirname(target), { recursive: true });
      await rename(join(staging, path), target);
    }
    return null;
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    const why: Record<string, string> = {
      ENOSPC: "the disk is full; free some space",
      EACCES: "the folder may not be written; choose another with --out or change its permissions",
      EPERM: "the folder may not be written; choose another with --out or change its permissions",
      EROFS: "the disk is read-only; choose another folder with --out",
      EEXIST: "a file is in the way of the folder; choose another with --out",
      ENOTDIR: "a file is in the way of the folder; choose another with --out",
    };
    return {
      code: "study.cannot-write",
      message: `${folder}: nothing was replaced: ${why[code ?? ""] ?? message}.`,
    };
  } finally {
    if (staging !== null) await rm(staging, { recursive: true, force: true }).catch(() => undefined);
  }
}
