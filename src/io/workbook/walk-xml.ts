import { Inflate } from "fflate";
import { SaxesParser } from "saxes";
import { problem } from "../../words/codes/codes.js";
import { quoted } from "../../words/quoted.js";
import { Rejection } from "../measure/rejection.js";
import { crcOf, type ZipEntry } from "./zip-entries.js";

/** What is told of an XML part; names come without their prefix. */
export interface XmlEvents {
  open(name: string, attributes: Record<string, string>): void;
  close?(name: string): void;
  text?(text: string): void;
  /** Takes whole rows out of the text between two rows of a sheet, and gives where it stopped. */
  skimRows?(text: string, from: number): number;
}

/** Bytes that a whole workbook may unpack to. */
const mostUnpacked = 300_000_000;
/** A part that grows by more than this is no sheet: numbers pack to a fifth or a twelfth. */
const mostGrowth = 100;
const harmless = 16_000_000;
const deepest = 64;
const pieceOfPacked = 32_768;

/** Counts what a workbook has unpacked to so far. */
export interface Budget {
  unpacked: number;
}

/**
 * Unpacks a part of a workbook piece by piece and parses it as it comes, so that nothing of its size is ever
 * held. Stops at a size no workbook needs (whatever the archive states), at a document type declaration, at
 * absurd nesting, and at broken data.
 */
export function walkXml(entry: ZipEntry, budget: Budget, events: XmlEvents): void {
  if (entry.encrypted) {
    throw new Rejection(
      problem(
        "io.old-workbook",
        "The workbook is encrypted; expected one without a password. Open it, take the password off, and save it as .xlsx.",
      ),
    );
  }
  const parser = new SaxesParser({ position: false });
  let depth = 0;
  parser.on("doctype", () => {
    throw new Rejection(
      problem(
        "io.unsafe-workbook",
        `The part ${quoted(entry.path)} of the workbook declares a document type (DOCTYPE) with entities, which no workbook needs and ` +
          "which is not followed. Save it as a new .xlsx, if you trust where it comes from.",
      ),
    );
  });
  parser.on("opentag", (tag) => {
    depth++;
    if (depth > deepest) {
      throw new Rejection(
        problem(
          "io.unsafe-workbook",
          `The part ${quoted(entry.path)} of the workbook is nested more than ${deepest} deep; no sheet is. It is not read.`,
        ),
      );
    }
    events.open(localName(tag.name), tag.attributes as Record<string, string>);
  });
  parser.on("closetag", (tag) => {
    depth--;
    events.close?.(localName(tag.name));
  });
  if (events.text) parser.on("text", (text) => events.text!(text));
  parser.on("error", (error) => {
    throw broken(entry, error.message);
  });
  const feed =
    events.skimRows === undefined
      ? null
      : rowFeed(
          parser,
          (text, from) => events.skimRows!(text, from),
          () => depth,
        );
  const decoder = new TextDecoder("utf-8", { fatal: true });
  let crc = -1;
  let size = 0;
  const take = (piece: Uint8Array, last: boolean, consumed: number) => {
    size += piece.length;
    budget.unpacked += piece.length;
    const isBomb = size > harmless && size > mostGrowth * consumed;
    if (isBomb || budget.unpacked > mostUnpacked) throw tooLarge(entry, size);
    crc = crcOf(piece, crc);
    let text: string;
    try {
      text = decoder.decode(piece, { stream: !last });
    } catch {
      throw broken(entry, "its text is no UTF-8");
    }
    if (feed === null) {
      if (text !== "") parser.write(text);
    } else feed(text, last);
  };
  unpack(entry, take);
  if ((crc ^ -1) >>> 0 !== entry.crc32 >>> 0) throw broken(entry, "its checksum does not fit its content");
  parser.close();
}

/** A row that is longer is left to the parser. */
const longestRow = 1_000_000;

/**
 * Hands a sheet's text to the parser, but for the rows that `skim` takes. A row that is not all there is kept for the
 * next piece. Before the first row and after the last, and wherever the parser is not right between two, it gets all.
 */
function rowFeed(
  parser: SaxesParser,
  skim: (text: string, from: number) => number,
  depth: () => number,
): (text: string, last: boolean) => void {
  const opening = "<sheetData>";
  let state: "before" | "between rows" | "after" = "before";
  let between = 0;
  let kept = "";
  return (piece, last) => {
    const text = kept + piece;
    kept = "";
    let at = 0;
    const give = (end: number) => {
      if (end > at) parser.write(text.slice(at, end));
      at = end;
    };
    if (state === "before") {
      const found = text.indexOf(opening);
      if (found >= 0) {
        give(found + opening.length);
        between = depth();
        state = "between rows";
      } else {
        // The opening tag may lie across two pieces.
        give(last ? text.length : Math.max(0, text.length - opening.length));
        kept = text.slice(at);
        return;
      }
    }
    while (state === "between rows") {
      at = skim(text, at);
      const end = text.indexOf("</row>", at);
      const isRow = text.startsWith("<row", at);
      if (!last && (isRow ? end < 0 && text.length - at < longestRow : text.length - at < 4)) {
        kept = text.slice(at);
        return;
      }
      if (isRow && end >= 0) give(end + 6);
      if (!isRow || end < 0 || depth() !== between) state = "after";
    }
    give(text.length);
  };
}

function localName(name: string): string {
  const colon = name.indexOf(":");
  return colon < 0 ? name : name.slice(colon + 1);
}

type Take = (piece: Uint8Array, last: boolean, consumed: number) => void;

/** Hands on the unpacked bytes piece by piece, with the count of packed bytes they were made from. */
function unpack(entry: ZipEntry, take: Take): void {
  const { packed, method } = entry;
  if (method !== 0 && method !== 8)
    throw broken(entry, `it is packed in a way (${method}) that workbooks do not use`);
  let consumed = 0;
  let ended = false;
  const inflate = new Inflate((piece, last) => {
    if (last) ended = true;
    take(piece, last, consumed);
  });
  do {
    const piece = packed.subarray(consumed, consumed + pieceOfPacked);
    consumed += piece.length;
    const isLast = consumed >= packed.length;
    if (method === 0) take(piece, isLast, consumed);
    else push(entry, inflate, piece, isLast);
  } while (consumed < packed.length);
  if (method === 8 && !ended) throw broken(entry, "its packed data end in the middle");
}

function push(entry: ZipEntry, inflate: Inflate, piece: Uint8Array, isLast: boolean): void {
  try {
    inflate.push(piece, isLast);
  } catch (error) {
    if (error instanceof Rejection) throw error;
    throw broken(entry, "its packed data are broken");
  }
}

function broken(entry: ZipEntry, why: string): Rejection {
  return new Rejection(
    problem(
      "io.damaged-workbook",
      `The workbook is damaged: the part ${quoted(entry.path)} cannot be read (${why.slice(0, 120)}). Copy or export it again.`,
    ),
  );
}

function tooLarge(entry: ZipEntry, size: number): Rejection {
  return new Rejection(
    problem(
      "io.workbook-too-large",
      `The part ${quoted(entry.path)} of the workbook unpacks from ${kilobytes(entry.packed.length)} to more than ${kilobytes(size)}, a size ` +
        "no sheet of measurements has; it was not read further. Save the sheets with the measurements in a workbook of their own.",
    ),
  );
}

function kilobytes(bytes: number): string {
  return bytes < 1e6 ? `${Math.ceil(bytes / 1e3)} kB` : `${Math.round(bytes / 1e6)} MB`;
}
