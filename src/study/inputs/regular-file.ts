import {
  closeSync,
  constants,
  fstatSync,
  openSync,
  read,
  readFileSync,
  readSync,
  type Stats,
  statSync,
} from "node:fs";
import { promisify } from "node:util";
import type { ByteSource } from "./read-large.js";

/** Thrown where something else than a file stands under a name; `found` says what, in words. */
export class NoRegularFile extends Error {
  readonly code = "ENOTFILE";
  constructor(readonly found: string) {
    super(`This is ${found}, expected a file.`);
  }
}

/** An open file as a source, and the bytes it held when it was opened. */
export interface OpenFile {
  source: ByteSource;
  size: number;
  descriptor: number;
  close: () => void;
}

const withoutWaiting = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0);
const readLater = promisify(read);

/** Larger files are read while other things go on; to wait for a smaller one costs a tenth of a task for each step. */
const mostAtOnce_bytes = 1 << 22;

/**
 * Opens a file for reading. A pipe or a device under its name would keep the program waiting for ever: it is told
 * before it is opened, and what is opened is opened without waiting.
 * @throws NoRegularFile, or what the system says
 */
export function openRegular(file: string): OpenFile {
  expectFile(statSync(file));
  const descriptor = openSync(file, withoutWaiting);
  const close = () => closeSync(descriptor);
  try {
    // It may be another one by now.
    const state = fstatSync(descriptor);
    expectFile(state);
    const { size } = state;
    const source: ByteSource =
      size > mostAtOnce_bytes
        ? { read: (...place) => readLater(descriptor, ...place) }
        : { read: async (...place) => ({ bytesRead: readSync(descriptor, ...place) }) };
    return { source, size, descriptor, close };
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
export function bytesOfFile(file: string, most_bytes: number): Buffer | string {
  try {
    const { size, descriptor, close } = openRegular(file);
    try {
      if (size > most_bytes) {
        return `it holds ${megabytes(size)} MB; at most ${megabytes(most_bytes)} MB are read`;
      }
      return readFileSync(descriptor);
    } finally {
      close();
    }
  } catch (error) {
    if (error instanceof NoRegularFile) return `it is ${error.found}, expected a file`;
    const { code, message } = error as NodeJS.ErrnoException;
    return code === "ENOENT" ? "there is no such file" : `it cannot be read (${code ?? message})`;
  }
}

const megabytes = (bytes: number) => Number((bytes / 1e6).toPrecision(2));
