import { problem } from "../../words/codes/codes.js";
import { Rejection } from "../measure/rejection.js";
import type { Cell } from "../table/data-cell.js";
import { holdsUnseen } from "../table/spellings.js";
import { type RowSink, skimRows } from "./skim-rows.js";
import { type Budget, walkXml } from "./walk-xml.js";
import type { ZipEntry } from "./zip-entries.js";

export interface SheetRow {
  /** Row number of the sheet, from 1. */
  line: number;
  cells: Cell[];
  /** Cells that hold what is not seen, as they are written, by their place. */
  written?: Map<number, string>;
}

const widest = 2000;
const mostCells = 20_000_000;

/** The rows of a worksheet part (ECMA-376 Part 1, 18.3) that hold cells, in order. */
export function sheetRows(
  entry: ZipEntry,
  budget: Budget,
  strings: string[],
  percentStyles: Set<number>,
): SheetRow[] {
  const rows: SheetRow[] = [];
  const merges: string[] = [];
  let row: SheetRow | null = null;
  let position = -1;
  let type = "n";
  let style = 0;
  let value = "";
  let collecting = false;
  let phonetic = false;
  let cellCount = 0;
  const begin = (stated: number | null) => {
    const next = rows.length === 0 ? 1 : rows[rows.length - 1].line + 1;
    row = { line: stated !== null && stated > 0 ? stated : next, cells: [] };
    position = -1;
    return row;
  };
  const add = (to: SheetRow) => {
    if (position >= widest) return;
    const text = type === "s" ? (strings[Number(value)] ?? "") : value;
    put(to.cells, position, cellOf(type, text, percentStyles.has(style)));
    if (type !== "n" && holdsUnseen(text, "")) {
      to.written ??= new Map();
      to.written.set(position, text);
    }
    cellCount++;
    if (cellCount > mostCells) throw tooMany();
  };
  let skimmed: SheetRow = { line: 0, cells: [] };
  const sink: RowSink = {
    row(line) {
      skimmed = begin(line);
    },
    cell(reference, ofType, ofStyle, text) {
      position = columnOf(reference, position + 1);
      type = ofType;
      style = ofStyle;
      value = text;
      add(skimmed);
    },
    endRow() {
      rows.push(skimmed);
      row = null;
    },
  };
  walkXml(entry, budget, {
    skimRows: (text, from) => skimRows(text, from, sink),
    open(name, attributes) {
      switch (name) {
        case "row": {
          const stated = Number(attributes.r);
          begin(Number.isInteger(stated) ? stated : null);
          break;
        }
        case "c":
          position = attributes.r === undefined ? position + 1 : columnOf(attributes.r, position + 1);
          type = attributes.t ?? "n";
          style = Number(attributes.s ?? 0);
          value = "";
          break;
        case "v":
          collecting = true;
          break;
        case "t":
          collecting = !phonetic;
          break;
        case "rPh":
          phonetic = true;
          break;
        case "mergeCell":
          if (attributes.ref !== undefined && merges.length < 20_000) merges.push(attributes.ref);
          break;
        default:
      }
    },
    text(text) {
      if (collecting && value.length < 32_768) value += text;
    },
    close(name) {
      switch (name) {
        case "v":
        case "t":
          collecting = false;
          break;
        case "rPh":
          phonetic = false;
          break;
        case "c":
          if (row !== null) add(row);
          break;
        case "row":
          if (row !== null) rows.push(row);
          row = null;
          break;
        default:
      }
    },
  });
  rows.sort((a, b) => a.line - b.line);
  fillMerged(rows, merges);
  return rows;
}

function tooMany(): Rejection {
  return new Rejection(
    problem(
      "io.workbook-too-large",
      `A sheet of the workbook holds more than ${mostCells} cells, a size that is not read. Save the measurements as .csv.`,
    ),
  );
}

function put(cells: Cell[], position: number, cell: Cell): void {
  while (cells.length < position) cells.push("");
  cells[position] = cell;
}

/** 0-based column of a reference such as "AB12". */
function columnOf(reference: string, otherwise: number): number {
  let column = 0;
  for (let i = 0; i < reference.length; i++) {
    const code = reference.charCodeAt(i) & 0xdf;
    if (code < 65 || code > 90) break;
    column = column * 26 + (code - 64);
    if (column > 100_000) break;
  }
  return column === 0 ? otherwise : column - 1;
}

function cellOf(type: string, value: string, isPercent: boolean): Cell {
  switch (type) {
    case "b":
      return value === "1" ? "TRUE" : "FALSE";
    case "n": {
      if (value === "") return "";
      const number = Number(value);
      if (!Number.isFinite(number)) return cleaned(value);
      return isPercent ? { share: number } : number;
    }
    default:
      return cleaned(value);
  }
}

function cleaned(text: string): string {
  return text.includes("\n") || text.includes("\r") || text.includes("\t")
    ? text.replace(/\s+/g, " ").trim()
    : text.trim();
}

/** A cell merged over several rows of one column stands for each of them. */
function fillMerged(rows: SheetRow[], merges: string[]): void {
  if (merges.length === 0) return;
  const byLine = new Map(rows.map((row) => [row.line, row]));
  for (const reference of merges) {
    const match = /^([A-Z]{1,3})(\d{1,7}):([A-Z]{1,3})(\d{1,7})$/.exec(reference);
    if (match === null || match[1] !== match[3]) continue;
    const column = columnOf(match[1], 0);
    const first = Number(match[2]);
    const last = Math.min(Number(match[4]), first + 100_000);
    const from = byLine.get(first);
    const value = from?.cells[column] ?? "";
    const written = from?.written?.get(column);
    if (value === "" || column >= widest) continue;
    for (let line = first + 1; line <= last; line++) {
      const row = byLine.get(line);
      if (row === undefined || (row.cells[column] ?? "") !== "") continue;
      put(row.cells, column, value);
      if (written !== undefined) row.written = new Map(row.written).set(column, written);
    }
  }
}
