import { isCondition, isResponse, isText } from "../vocabulary/quantities.js";
import { isGenericName } from "../vocabulary/terms/generic-words.js";
import { readUnit } from "../vocabulary/units.js";
import { type Cell, holdsNoOneNumber, isNumberLike, isNumberWithUnit, textOf } from "./data-cell.js";
import { rememberedHeader } from "./header/column.js";
import { looksNumeric } from "./lines/looks-numeric.js";

/** A row of a text or a sheet as its cells. */
export interface CellRow {
  line: number;
  cells: Cell[];
}

const fewestRows = 2;
const mostRows = 20_000;

/**
 * A table whose quantities stand in rows, one below the other, turned into one with a header: "Temperature (°C); −20;
 * −10; …", or "Hardness; Shore A; 62; 65" under "Property; Unit; Birch 60; Rowan W". Columns of units and of methods
 * go into the header. Null where the rows hold no such table.
 */
export function transposedRows(rows: CellRow[]): CellRow[] | null {
  if (rows.length > mostRows) return null;
  const [first, end] = longestRun(rows);
  if (end - first < fewestRows) return null;
  const run = rows.slice(first, end);
  const named = run.map(({ cells }) => rememberedHeader(textOf(cells[0])));
  if (!named.some(({ quantity }) => quantity !== null && isResponse(quantity))) return null;
  const above = first > 0 && isNameRow(rows[first - 1], run) ? rows[first - 1] : null;
  const width = run.reduce((widest, { cells }) => Math.max(widest, cells.length), 0);
  const cellAt = (row: CellRow | null, at: number) => (row === null ? "" : textOf(row.cells[at] ?? ""));
  const isOf = (at: number, is: (text: string) => boolean, title: RegExp) =>
    title.test(cellAt(above, at)) || run.filter((row) => is(cellAt(row, at))).length >= 0.6 * run.length;
  let unitColumn = -1;
  let methodColumn = -1;
  const values: number[] = [];
  for (let at = 1; at < width; at++) {
    if (
      unitColumn < 0 &&
      isOf(at, isUnit, /^(?:unit|units|einheit|unité|unidad|unità|unidade|enhet|单位|單位|単位)s?$/i)
    ) {
      unitColumn = at;
    } else if (
      methodColumn < 0 &&
      isOf(
        at,
        isStandard,
        /^(?:method|test method|standard|norm|norme|norma|prüfnorm|verfahren|méthode|método|metodo|方法|标准|試験方法)$/i,
      )
    ) {
      methodColumn = at;
    } else values.push(at);
  }
  const names = values.map((at) => cellAt(above, at)).map((name) => (isGenericName(name) ? "" : name));
  const isNamed = names.filter((name) => name !== "").length >= 0.5 * names.length;
  const header = run.map((row) => {
    const unit = unitColumn < 0 ? "" : cellAt(row, unitColumn);
    const method = methodColumn < 0 ? "" : cellAt(row, methodColumn);
    return `${cellAt(row, 0)}${method === "" ? "" : ` ${method}`}${unit === "" ? "" : ` (${unit})`}`;
  });
  const { line } = run[0];
  const turned = values.map((at, i): CellRow => {
    const cells = run.map((row): Cell => row.cells[at] ?? "");
    return { line, cells: isNamed ? [names[i], ...cells] : cells };
  });
  const before = rows.slice(0, above !== null && isNamed ? first - 1 : first);
  return [
    ...before,
    { line, cells: isNamed ? ["Compound", ...header] : header },
    ...turned,
    ...rows.slice(end),
  ];
}

/** First and last row of the longest run of rows that begin with a known quantity and go on in numbers. */
function longestRun(rows: CellRow[]): [number, number] {
  let best: [number, number] = [0, 0];
  let first = -1;
  let known = 0;
  let most = 0;
  rows.forEach((row, i) => {
    const kind = kindOf(row);
    if (kind === "none" || (first < 0 && kind === "unknown")) {
      first = -1;
      known = 0;
      return;
    }
    if (first < 0) first = i;
    if (kind === "known") {
      known++;
      if (known > most) {
        most = known;
        best = [first, i + 1];
      }
    }
  });
  return most >= fewestRows ? best : [0, 0];
}

/** "unknown" is a row of numbers whose name is not known: a property among others. */
function kindOf({ cells }: CellRow): "known" | "unknown" | "none" {
  if (cells.length < 2 || typeof cells[0] !== "string" || looksNumeric(cells[0])) return "none";
  const numbers = cells.slice(1).filter(isNumber).length;
  const filled = cells.slice(1).filter((cell) => cell !== "").length;
  if (numbers === 0 || numbers < 0.4 * filled) return "none";
  const { quantity } = rememberedHeader(cells[0]);
  if (quantity !== null && isText(quantity)) return "none";
  return quantity !== null && (isResponse(quantity) || isCondition(quantity)) ? "known" : "unknown";
}

function isNumber(cell: Cell): boolean {
  return typeof cell !== "string" || isNumberLike(cell) || holdsNoOneNumber(cell) || isNumberWithUnit(cell);
}

/** Names over the columns of values: words, and no numbers but those of repeats. */
function isNameRow({ cells, line }: CellRow, run: CellRow[]): boolean {
  const filled = cells.map(textOf).filter((cell) => cell !== "");
  return filled.length >= 2 && run[0].line - line <= 2 && filled.some((cell) => !looksNumeric(cell));
}

function isUnit(text: string): boolean {
  return text !== "" && !looksNumeric(text) && readUnit(text) !== null;
}

function isStandard(text: string): boolean {
  return /^(?:DIN|ISO|ASTM|JIS|GB|EN|BS|NF|UNE|UNI|HG)[ /-]?.*\d/.test(text);
}
