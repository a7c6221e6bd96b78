/** A row of a sheet, cell by cell, as its part writes it. */
export interface RowSink {
  row(line: number | null): void;
  cell(reference: string, type: string, style: number, value: string): void;
  endRow(): void;
}

const rowAttributes = /^(?: [\w:.]+="[^"<>&]*")*\s*$/;
const cellAttributes = /^r="([A-Z]{1,3}\d{1,7})"(?: s="(\d{1,6})")?(?: t="([ns])")?$/;

/** Cells of one row are looked at once they are all there, and told of then. */
interface PlainCell {
  reference: string;
  style: number;
  type: string;
  value: string;
}

/**
 * Takes rows of plain cells (`<c r="B2" s="1"><v>12.5</v></c>`) out of the text of a sheet's part, which most of a sheet
 * of measurements is made of, without parsing them tag by tag. Stops at the first row that is anything else, or that is
 * not all there.
 * @returns where it stopped: the start of that row, or the end of the text
 */
export function skimRows(text: string, from: number, sink: RowSink): number {
  for (let at = from; ; ) {
    const start = afterBlanks(text, at);
    if (!text.startsWith("<row", start)) return start;
    const open = text.indexOf(">", start);
    const end = open < 0 ? -1 : text.indexOf("</row>", open);
    if (end < 0 || text[open - 1] === "/") return start;
    const attributes = text.slice(start + 4, open);
    const cells = rowAttributes.test(attributes) ? plainCells(text, open + 1, end) : null;
    if (cells === null) return start;
    sink.row(statedLine(attributes));
    for (const { reference, type, style, value } of cells) sink.cell(reference, type, style, value);
    sink.endRow();
    at = end + 6;
  }
}

/** The cells between two places; null where one is not plain. */
function plainCells(text: string, from: number, end: number): PlainCell[] | null {
  const cells: PlainCell[] = [];
  for (let at = from; at < end; ) {
    if (!text.startsWith("<c ", at)) return null;
    const close = text.indexOf(">", at);
    const isEmpty = text[close - 1] === "/";
    const attributes = cellAttributes.exec(text.slice(at + 3, isEmpty ? close - 1 : close));
    if (attributes === null) return null;
    const [, reference, style, type] = attributes;
    let value = "";
    if (isEmpty) at = close + 1;
    else {
      if (!text.startsWith("<v>", close + 1)) return null;
      const stop = text.indexOf("<", close + 4);
      if (!text.startsWith("</v></c>", stop)) return null;
      value = text.slice(close + 4, stop);
      if (value.includes("&")) return null;
      at = stop + 8;
    }
    cells.push({ reference, style: style === undefined ? 0 : Number(style), type: type ?? "n", value });
  }
  return cells;
}

function statedLine(attributes: string): number | null {
  const stated = / r="(\d{1,9})"/.exec(attributes);
  return stated === null ? null : Number(stated[1]);
}

function afterBlanks(text: string, from: number): number {
  let at = from;
  while (at < text.length && text.charCodeAt(at) <= 32) at++;
  return at;
}
