import { decodeText } from "../../io/bytes/decode-text.js";
import { joinedBytes } from "../../io/bytes/joined-bytes.js";
import { recogniseBytes } from "../../io/bytes/recognise-bytes.js";
import type { FileContent } from "../../io/measurement.js";
import { readBytes } from "../../io/read-bytes.js";
import type { ReadOptions } from "../../io/read-options.js";
import { lineFeed, withoutLoneReturns } from "../../io/table/lines/records.js";
import { coded } from "../../words/codes/codes.js";
import type { Outcome } from "../../words/notice.js";
import { withLinesOf } from "./thinned-lines.js";

/** Bytes that can be had piece by piece: an open file on the disk, or one dropped on the page. */
export interface ByteSource {
  /** Fills `buffer` from `offset` on with bytes of the source from `position` on; fewer at the end. */
  read(buffer: Uint8Array, offset: number, length: number, position: number): Promise<{ bytesRead: number }>;
}

/** Rows of numbers that are taken from one file; the fits gain nothing from more. */
export const mostRowsRead = 100_000;
/** Bytes that may be left of a file once its rows are thinned. */
const mostKept_bytes = 64_000_000;
/** No row of a table and no line about a test is as long. */
const longestLine_bytes = 4_000_000;
/** Neighbouring rows that are kept or left out together, so that rows that cycle through frequencies stay whole. */
const groupRows = 64;
const piece_bytes = 1 << 20;
/** How often `readLarge` goes through a file: once to count the rows, once to take the share of them. */
export const passesOfLarge = 2;
const goldenShare = (Math.sqrt(5) - 1) / 2;

/**
 * Reads a text file that is too large to be held: line by line, all that is not a plain row of numbers as it
 * stands, and of long runs of rows an even share in groups of neighbours. Line numbers stay those of the file,
 * and a notice says what share was read.
 */
export async function readLarge(
  source: ByteSource,
  fileName: string,
  options: ReadOptions,
): Promise<Outcome<FileContent>> {
  const head = new Uint8Array(1 << 16);
  const { bytesRead } = await source.read(head, 0, head.length, 0);
  const recognised = recogniseBytes(head.subarray(0, bytesRead));
  if (typeof recognised === "object") return { ok: false, problem: recognised };
  const decoded = decodeText(wholeLines(head.subarray(0, bytesRead)));
  if (!decoded.ok) return decoded;
  const { encoding } = decoded.value;
  const wide = encoding.startsWith("UTF-16") ? (encoding.includes("BE") ? "utf-16be" : "utf-16le") : null;

  let rows = 0;
  let lines = 0;
  const tooLong = await eachLine(source, wide, (kind) => {
    lines++;
    if (kind === "row") rows++;
  });
  if (tooLong !== null) {
    return {
      ok: false,
      problem: {
        code: "io.line-too-long",
        message: `Line ${tooLong} is longer than ${longestLine_bytes / 1e6} MB; expected rows of a table, each on a line of its own. Export it with line ends.`,
        line: tooLong,
      },
    };
  }
  const share = Math.min(1, mostRowsRead / Math.max(1, rows));
  const kept = new KeptLines();
  let row = 0;
  let leftOut: { line: number; bytes: Uint8Array }[] = [];
  /** The last row of a run is kept in any case: it says how far a section reaches. */
  const flush = () => {
    for (const { line, bytes } of leftOut) kept.add(line, bytes);
    leftOut = [];
  };
  await eachLine(source, wide, (kind, bytes, line) => {
    if (kind !== "row") {
      flush();
      kept.add(line, bytes);
      return;
    }
    const group = Math.floor(row++ / groupRows);
    // Multiples of the golden section spread evenly, and keep step with no cycle of the rows.
    if (share === 1 || (group * goldenShare) % 1 < share) {
      leftOut = [];
      kept.add(line, bytes);
    } else leftOut = [{ line, bytes: bytes.slice() }];
  });
  flush();
  if (kept.size > mostKept_bytes) {
    return {
      ok: false,
      problem: {
        code: "io.too-large",
        message: `The file holds more than ${mostKept_bytes / 1e6} MB of lines that are no plain rows of numbers, so they cannot be thinned out; expected long runs of rows. Split the export.`,
      },
    };
  }
  const outcome = withLinesOf(await readBytes(kept.bytes(), fileName, options), kept.lines);
  if (!outcome.ok) return outcome;
  const reading = wide === null ? outcome.value : { ...outcome.value, encoding };
  if (share === 1) return { ok: true, value: reading };
  return {
    ok: true,
    value: {
      ...reading,
      notices: [
        {
          ...coded("study.thinned"),
          message: `The file holds ${lines} lines, more rows of numbers than are read; about one in ${Math.round(1 / share)} was used, in groups of ${groupRows} neighbours spread evenly over the file. Export fewer points a second to have each one used.`,
          path: fileName,
        },
        ...reading.notices,
      ],
    },
  };
}

/** The lines that are kept, one after the other, and the number that each has in the file. */
class KeptLines {
  size = 0;
  readonly lines: number[] = [];
  private readonly pieces: Uint8Array[] = [];

  add(line: number, bytes: Uint8Array): void {
    this.size += bytes.length;
    if (this.size > mostKept_bytes) return;
    this.lines.push(line);
    this.pieces.push(bytes.slice());
  }

  bytes(): Uint8Array {
    return joinedBytes(this.pieces);
  }
}

function wholeLines(bytes: Uint8Array): Uint8Array {
  const end = Math.max(bytes.lastIndexOf(10), bytes.lastIndexOf(13));
  // In UTF-16 the line end has a second byte.
  return end < 0 ? bytes : bytes.subarray(0, end + 1 + ((end + 1) % 2));
}

/**
 * Walks over the lines of a file with their line ends, as UTF-8 where the file is in UTF-16.
 * @returns the number of a line that is too long to be one, where the walk ends; null: all were visited
 */
async function eachLine(
  source: ByteSource,
  wide: "utf-16le" | "utf-16be" | null,
  visit: (kind: LineKind, bytes: Uint8Array, line: number) => void,
): Promise<number | null> {
  const decoder = wide === null ? null : new TextDecoder(wide, { ignoreBOM: false });
  const sorter = new LineSorter(groupRows);
  const encoder = new TextEncoder();
  const read = new Uint8Array(piece_bytes);
  let rest = new Uint8Array(0);
  let line = 0;
  for (let at = 0; ; ) {
    const { bytesRead } = await source.read(read, 0, piece_bytes, at);
    at += bytesRead;
    const piece = read.subarray(0, bytesRead);
    const text = decoder === null ? piece : encoder.encode(decoder.decode(piece, { stream: bytesRead > 0 }));
    const bytes = withoutLoneReturns(rest.length === 0 ? text : joinedBytes([rest, text]));
    let start = 0;
    for (let end = bytes.indexOf(lineFeed, start); end >= 0; end = bytes.indexOf(lineFeed, start)) {
      visit(sorter.kindOf(bytes, start, end), bytes.subarray(start, end + 1), ++line);
      start = end + 1;
    }
    rest = bytes.slice(start);
    if (rest.length > longestLine_bytes) return line + 1;
    if (bytesRead === 0) break;
  }
  if (rest.length > 0) visit(sorter.kindOf(rest, 0, rest.length), rest, ++line);
  return null;
}

/** A row of numbers in a long run of such rows, or anything else. */
export type LineKind = "row" | "other";

/** Bytes that numbers, their marks, dates and what parts cells are made of. */
const plain = new Uint8Array(256);
for (const mark of "0123456789+-.,;|\t '\"eE\r/:%") plain[mark.charCodeAt(0)] = 1;

/**
 * Tells rows of numbers from other lines by their bytes. A row is one whose words are those of the line above
 * (most rows have none), and that stands in a run of them: the first rows of a run count as other lines, so
 * that short sections stay whole.
 */
class LineSorter {
  private words = 0;
  private run = 0;

  constructor(private readonly wholeRun: number) {}

  kindOf(bytes: Uint8Array, start: number, end: number): LineKind {
    let digits = 0;
    // FNV-1a over what is no part of a number.
    let words = 0x811c9dc5;
    for (let i = start; i < end; i++) {
      const byte = bytes[i];
      if (byte >= 48 && byte <= 57) digits++;
      else if (plain[byte] === 0) words = Math.imul(words ^ byte, 0x01000193);
    }
    const isRow = digits >= 4 && digits >= 0.3 * (end - start) && words === this.words;
    this.words = words;
    this.run = isRow ? this.run + 1 : 0;
    return this.run > this.wholeRun ? "row" : "other";
  }
}
