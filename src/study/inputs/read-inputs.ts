import { createHash } from "node:crypto";
import type { ReadOptions } from "../../io/read-options.js";
import { type Cache, noCache } from "../run/cache.js";
import type { FoundInput } from "./find-inputs.js";
import { type InputAsRead, refused } from "./input-reading.js";
import { readSource, type Sha256 } from "./read-source.js";
import { NoRegularFile, openRegular } from "./regular-file.js";

/**
 * Reads one file. It is opened for reading only.
 * @param stated what the study says of it, or null
 * @param onShare told, while a large file is read, how much of the reading is done
 */
export async function readInput(
  { path, file }: FoundInput,
  stated: ReadOptions | null,
  cache: Cache = noCache,
  onShare?: (share: number) => void,
): Promise<InputAsRead> {
  try {
    const { source, size, close } = openRegular(file);
    try {
      return await readSource(source, size, path, stated, nodeSha256, cache, onShare);
    } finally {
      close();
    }
  } catch (error) {
    if (error instanceof NoRegularFile) return refused(path, 0, "study.unreadable-file", error.message);
    return refused(path, 0, "study.unreadable-file", unreadableMessage(error as NodeJS.ErrnoException, path));
  }
}

function nodeSha256(): Sha256 {
  const hash = createHash("sha256");
  return { update: (bytes) => hash.update(bytes), hex: () => hash.digest("hex") };
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
    case "ENAMETOOLONG":
      return "The path is too long for this system. Move the folder up, or shorten its name.";
    case "EBUSY":
      return "Another program holds the file locked. Close it there.";
    default:
      return `The file cannot be read (${error.code ?? error.message}). Check the disk or the share.`;
  }
}
