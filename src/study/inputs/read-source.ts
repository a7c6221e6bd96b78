import type { FileContent } from "../../io/measurement.js";
import { readBytes } from "../../io/read-bytes.js";
import type { ReadOptions } from "../../io/read-options.js";
import type { Outcome } from "../../words/notice.js";
import type { Cache } from "../run/cache.js";
import { type InputAsRead, refused } from "./input-reading.js";
import type { ByteSource } from "./read-large.js";
import { mostRowsRead, passesOfLarge, readLarge } from "./read-large.js";

/** SHA-256 in progress. */
export interface Sha256 {
  update(bytes: Uint8Array): unknown;
  hex(): string;
}

/** Larger files are refused, and that is said. */
const mostBytes = 2_000_000_000;
/** Up to this size a file is read as a whole; no row of a table is shorter than some twenty bytes. */
const readWhole_bytes = 20 * mostRowsRead;
/** A workbook has to be held as a whole. */
const mostWorkbookBytes = 60_000_000;
const piece_bytes = 1 << 20;

/**
 * Reads one input of a known size, by whole or by an even share of its rows where it is too large to be held.
 *
 * @param stated what a study says of it, or null
 * @param cache readings of earlier runs; null where none are kept
 * @param onShare told, while a large file is read, how much of the reading is done: above 0, up to 1
 * @throws what `source` throws
 */
export async function readSource(
  source: ByteSource,
  size: number,
  path: string,
  stated: ReadOptions | null,
  newSha256: () => Sha256,
  cache: Cache | null = null,
  onShare: (share: number) => void = () => {},
): Promise<InputAsRead> {
  if (size > mostBytes) {
    return refused(
      path,
      size,
      "io.too-large",
      `The file holds ${Math.round(size / 1e6)} MB; at most ${mostBytes / 1e6} MB are read. Export fewer points a second, or split the export.`,
    );
  }
  // Only of what is larger does it matter whether it is a workbook.
  const isSmall = size <= readWhole_bytes;
  const isWorkbook = !isSmall && (await beginsAsArchive(source));
  const isWhole = isSmall || (isWorkbook && size <= mostWorkbookBytes);
  if (isWorkbook && !isWhole) {
    return refused(
      path,
      size,
      "io.too-large",
      `The workbook holds ${Math.round(size / 1e6)} MB; at most ${mostWorkbookBytes / 1e6} MB of a workbook are read. Save the sheets with the measurements as .csv.`,
      await hashOfSource(source, newSha256()),
    );
  }
  const room = isWhole ? takeRoom(size) : null;
  try {
    const bytes = room === null ? null : await wholeSource(source, size, room);
    return await readKnown(source, bytes, size, path, stated, newSha256, cache, onShare);
  } finally {
    if (room !== null) giveRoom(room);
  }
}

/** @param bytes of the whole source; null where it is read piece by piece */
async function readKnown(
  source: ByteSource,
  bytes: Uint8Array | null,
  size: number,
  path: string,
  stated: ReadOptions | null,
  newSha256: () => Sha256,
  cache: Cache | null,
  onShare: (share: number) => void,
): Promise<InputAsRead> {
  // A sweep of unstated frequency has peaks, if nothing more.
  const options: ReadOptions = { ...stated, unstatedFrequency: true };
  // Once for the hash, and as often as the reading takes.
  const told = bytes !== null ? source : tellingSource(source, (1 + passesOfLarge) * size, onShare);
  const sha256 = await (bytes === null ? hashOfSource(told, newSha256()) : hashOfBytes(bytes, newSha256()));
  const key = JSON.stringify([path, sha256, stated]);
  const kept = (await cache?.get("readings", key)) as InputAsRead | undefined;
  if (kept !== undefined) return kept;
  const outcome: Outcome<FileContent> =
    bytes === null ? await readLarge(told, path, options) : await readBytes(bytes, path, options);
  const input: InputAsRead = {
    path,
    sha256,
    bytes: bytes?.byteLength ?? size,
    reading: outcome.ok ? outcome.value : null,
    problem: outcome.ok ? null : outcome.problem,
  };
  await cache?.put("readings", key, input);
  return input;
}

/** "PK", with which every zip archive begins. */
async function beginsAsArchive(source: ByteSource): Promise<boolean> {
  const start = new Uint8Array(2);
  await source.read(start, 0, 2, 0);
  return start[0] === 0x50 && start[1] === 0x4b;
}

/** The same source, which tells at every hundredth how much of all that is to be read has been read. */
function tellingSource(source: ByteSource, total: number, onShare: (share: number) => void): ByteSource {
  let done = 0;
  let told = 0;
  return {
    async read(buffer, offset, length, position) {
      const read = await source.read(buffer, offset, length, position);
      done += read.bytesRead;
      const hundredths = Math.min(100, Math.floor((100 * done) / total));
      if (hundredths > told) onShare(hundredths / 100);
      told = Math.max(told, hundredths);
      return read;
    },
  };
}

/** Room for the bytes of the next file: a reading keeps none of them. */
let spare: Uint8Array | null = null;
const mostSpare_bytes = 1 << 20;

function takeRoom(size: number): Uint8Array {
  const room = spare;
  spare = null;
  if (room !== null && room.length >= size) return room;
  return new Uint8Array(size > mostSpare_bytes ? size : Math.ceil(1.25 * size));
}

function giveRoom(room: Uint8Array): void {
  if (room.length <= mostSpare_bytes) spare = room;
}

/** The bytes of a source up to the size it had when it was opened, or up to its end where it has shrunk. */
async function wholeSource(source: ByteSource, size: number, room: Uint8Array): Promise<Uint8Array> {
  let at = 0;
  while (at < size) {
    const { bytesRead } = await source.read(room, at, size - at, at);
    if (bytesRead === 0) break;
    at += bytesRead;
  }
  return room.subarray(0, at);
}

function hashOfBytes(bytes: Uint8Array, hash: Sha256): string {
  hash.update(bytes);
  return hash.hex();
}

async function hashOfSource(source: ByteSource, hash: Sha256): Promise<string> {
  const piece = new Uint8Array(piece_bytes);
  for (let at = 0; ; ) {
    const { bytesRead } = await source.read(piece, 0, piece_bytes, at);
    if (bytesRead === 0) return hash.hex();
    hash.update(piece.subarray(0, bytesRead));
    at += bytesRead;
  }
}
