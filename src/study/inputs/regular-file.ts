import { closeSync, constants, fstatSync, openSync, read, readSync, type Stats, statSync } from "node:fs";
import { type FileHandle, open, stat } from "node:fs/promises";
import { promisify } from "node:util";
import type { ByteSource } from "./read-large.js";

/** Thrown where something else than a file stands under a name; `found` says what, in words. */
export class NoRegularFile extends Error {
  readonly code = "ENOTFILE";
  constructor(readonly found: string) {
    super(`This is ${found}, expected a file.`);
  }
}

/**
 * Opens a file for reading. A pipe or a device under its name would keep the program waiting for ever: it is told
 * before it is opened, and what is opened is opened without waiting.
 * @returns the open file, and the bytes it holds now
 * @throws NoRegularFile, or what the system says
 */
export async function openRegular(file: string): Promise<{ handle: FileHandle; size: number }> {
  expectFile(await stat(file));
  const handle = await open(file, withoutWaiting);
  try {
    // It may be another one by now.
    const state = await handle.stat();
    expectFile(state);
    return { handle, size: state.size };
  } catch (error) {
    await handle.close();
    throw error;
  }
}

const withoutWaiting = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0);
const readLater = promisify(read);

/** Larger files are read while other things go on; to wait for a smaller one costs a tenth of a task for each step. */
const mostAtOnce_bytes = 1 << 22;

/**
 * The same for one of very many small files: opened at once, and read at once unless it is large.
 * @throws NoRegularFile, or what the system says
 */
export function openSource(file: string): { source: ByteSource; size: number; close: () => void } {
  expectFile(statSync(file));
  const descriptor = openSync(file, withoutWaiting);
  const close = () => closeSync(descriptor);
  try {
    const state = fstatSync(descriptor);
    expectFile(state);
    const { size } = state;
    const source: ByteSource =
      size > mostAtOnce_bytes
        ? { read: (...place) => readLater(descriptor, ...place) }
        : { read: async (...place) => ({ bytesRead: readSync(descriptor, ...place) }) };
    return { source, size, close };
  } catch (error) {
    close();
    throw error;
  }
}

function expectFile(state: Stats): void {
  if (state.isFile()) return;
  throw new NoRegularFile(
    state.isDirectory()
      ? "a folder"
      : state.isFIFO()
        ? "a named pipe"
        : state.isSocket()
          ? "a socket"
          : "a device",
  );
}

/** The bytes of a file; the reason in words where it cannot be read or holds more than `most_bytes`. */
export async function bytesOfFile(file: string, most_bytes: number): Promise<Buffer | string> {
  let handle: FileHandle | null = null;
  try {
    const opened = await openRegular(file);
    handle = opened.handle;
    const { size } = opened;
    if (size > most_bytes) {
      return `it holds ${megabytes(size)} MB; at most ${megabytes(most_bytes)} MB are read`;
    }
    return await handle.readFile();
  } catch (error) {
    if (error instanceof NoRegularFile) return `it is ${error.found}, expected a file`;
    const { code, message } = error as NodeJS.ErrnoException;
    return code === "ENOENT" ? "there is no such file" : `it cannot be read (${code ?? message})`;
  } finally {
    await handle?.close().catch(() => undefined);
  }
}

const megabytes = (bytes: number) => Number((bytes / 1e6).toPrecision(2));
