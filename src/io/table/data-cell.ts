import { quoted } from "../../words/quoted.js";
import { dimensionsOf } from "../vocabulary/quantities.js";
import { namesStatistic } from "../vocabulary/terms/qualifiers.js";
import { clock, readUnit, scaleByPower, type Unit } from "../vocabulary/units.js";
import type { Gap } from "./block.js";
import type { Column } from "./header/column.js";
import type { Layout } from "./header/layout.js";
import { markOf } from "./lines/cell-mark.js";
import { looksNumeric } from "./lines/looks-numeric.js";
import type { NumberParser } from "./lines/number-format.js";
import { numberBeforeUnit, plainlyWritten } from "./lines/plainly-written.js";

/** A fraction that its workbook shows as per cent. */
export interface Share {
  share: number;
}

/** A cell as a text writes it, or a number that a workbook holds as one. */
export type Cell = string | number | Share;

/** A cell as text, as the file or the sheet shows it. */
export function textOf(cell: Cell): string {
  if (typeof cell === "string") return cell;
  return typeof cell === "number" ? String(cell) : `${Number((100 * cell.share).toPrecision(12))} %`;
}

/** The number of a cell times 10^power; NaN where it holds none. */
export function numberOf(cell: Cell, power: number, column: Column, parser: NumberParser): number {
  if (typeof cell === "number") return power === 0 ? cell : scaleByPower(cell, power);
  // 0.523 shown as 52.3 %: under a header in % it is 52.3, under any other it is the fraction.
  if (typeof cell === "object") {
    return column.reading.unit?.power === -2 ? cell.share : scaleByPower(cell.share, power);
  }
  const number = parser.parse(cell, 0, cell.length, power);
  if (!Number.isNaN(number) || cell === "" || cell.length > 60) return number;
  const plain = plainlyWritten(cell);
  if (plain !== cell) return numberOf(plain, power, column, parser);
  if (column.quantity === "time" && cell.includes(":")) return clockSeconds(cell, column);
  const written = numberAndUnit(cell, column);
  const own = column.reading.unit;
  if (written === null || own === null || written.unit.dimension !== own.dimension) return Number.NaN;
  if (isSameUnit(written.unit, own)) return parser.parse(cell, 0, written.end, power);
  // "0.92 GPa" in a column of MPa; a temperature of another scale is not mixed in.
  if (written.unit.before !== 0 || own.before !== 0 || column.reading.logarithm !== 0) return Number.NaN;
  const value = parser.parse(cell, 0, written.end, power + written.unit.power - own.power);
  return written.unit.factor === own.factor ? value : (value * written.unit.factor) / own.factor;
}

/** A number, in whatever way it is written: "62 ± 1", "1.99×10^9". */
export function isNumberLike(cell: string): boolean {
  if (looksNumeric(cell)) return true;
  const first = cell.charCodeAt(0) | 32;
  const isWord = first >= 97 && first <= 122;
  return !isWord && looksNumeric(plainlyWritten(cell));
}

/** A range, a limit, an estimate or several numbers ("60-65", "ca. 380", "62/63"): no word, and no one value. */
export function holdsNoOneNumber(cell: string): boolean {
  if (cell.length > 60) return false;
  return /^(?:ca\.?|circa|approx\.?|about|etwa|env\.?|[<>≤≥~≈±]=?)? ?\d[\d\s.,;:/–—\-−…~*†‡()[\]<>±]*$/i.test(
    cell,
  );
}

/** "1:02:30" or "02:30.5" as seconds in the column's own unit; NaN where it is no time. */
function clockSeconds(cell: string, column: Column): number {
  if (cell.length > 16 || column.reading.unit !== clock) return Number.NaN;
  const parts = cell
    .replace(",", ".")
    .split(":")
    .map((part) => (part === "" ? Number.NaN : Number(part)));
  if (parts.length < 2 || parts.length > 3 || parts.some((part) => !(part >= 0))) return Number.NaN;
  return parts.reduce((seconds, part) => 60 * seconds + part, 0);
}

/** "12.5 MPa" in a cell: the unit, where the column's quantity can have it, and where the number ends. */
export function numberAndUnit(
  cell: string,
  column: Column,
): { unit: Unit; unitText: string; end: number } | null {
  if (column.quantity === null || cell.length > 40) return null;
  if (column.quantity === "time" && /^\d{1,3}:\d{2}(:\d{2})?([.,]\d+)?$/.test(cell)) {
    return { unit: clock, unitText: "clock", end: cell.length };
  }
  let end = cell.length;
  while (end > 0 && !(cell[end - 1] >= "0" && cell[end - 1] <= "9")) end--;
  if (end === 0 || end === cell.length) return null;
  const unitText = cell.slice(end).trim();
  const unit = readUnit(unitText);
  if (unit === null || !dimensionsOf[column.quantity].includes(unit.dimension)) return null;
  return { unit, unitText, end };
}

function isSameUnit(one: Unit, other: Unit): boolean {
  return one.power === other.power && one.factor === other.factor && one.before === other.before;
}

/** Why a cell of a row gives no number, with its place. */
export function whyOf({ cell, kind, slot }: Gap, layout: Layout): string {
  const { column } = layout.slots[slot];
  const where = `column ${column.position + 1} (${quoted(column.reading.text, 40)})`;
  switch (kind) {
    case "blank":
      return `${where} is blank`;
    case "missing":
      return `${where} holds ${quoted(cell, 30)}, no value`;
    case "over-range":
      return `${where} holds ${quoted(cell, 30)}, a value out of range`;
    case "not positive":
      return `${where} holds ${cell}, zero or below`;
    default:
      return `${where} holds ${quoted(cell, 30)}, not a number`;
  }
}

/**
 * True for a row that names a statistic, a specification or a limit in one of its cells: its numbers are no measured
 * point, wherever the word stands.
 * @param samples names met before in the column of samples
 */
export function isStatistic(
  texts: string[],
  { columns, sampleColumn }: Layout,
  samples: readonly string[],
): boolean {
  for (let i = 0; i < texts.length && i < columns.length; i++) {
    if (texts[i] === "" || isNumberLike(texts[i])) continue;
    if (namesStatistic(texts[i], i === sampleColumn, samples)) return true;
  }
  return false;
}

/** Numbers beyond the last column of the header: which of the row's numbers is which cannot be told. */
export function surplusNumbers(texts: string[], { columns }: Layout): number {
  let surplus = 0;
  for (let i = columns.length; i < texts.length; i++) if (looksNumeric(texts[i])) surplus++;
  return surplus;
}

/** Whether a cell holds a number with a unit behind it: "12.5 MPa". */
export function isNumberWithUnit(cell: string): boolean {
  return numberBeforeUnit(cell) !== null;
}

/** True where a row of cells could be data: numbers, or marks for missing ones, in a good part of its cells. */
export function isFilledWithNumbers(cells: Cell[]): boolean {
  let numbers = 0;
  let filled = 0;
  for (const cell of cells) {
    if (cell === "") continue;
    filled++;
    if (typeof cell !== "string" || isNumberLike(cell) || markOf(cell) !== "text" || isNumberWithUnit(cell)) {
      numbers++;
    }
  }
  return numbers >= 1 && numbers >= 0.4 * filled;
}
