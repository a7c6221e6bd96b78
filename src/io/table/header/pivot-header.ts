import { shown } from "../../../words/quoted.js";
import { foldText } from "../../vocabulary/fold-text.js";
import type { HeaderMeaning, Tag } from "../../vocabulary/header-meaning.js";
import { isRepeatable, isResponse, isText, type Quantity } from "../../vocabulary/quantities.js";
import { readHeader } from "../../vocabulary/read-header.js";
import { meanWords, namesStatistic } from "../../vocabulary/terms/qualifiers.js";
import { toSI } from "../../vocabulary/units.js";
import { looksNumeric } from "../lines/looks-numeric.js";
import { type Column, rememberedHeader } from "./column.js";
import { tagOf } from "./tag-of.js";

/** A wide table has some hundred columns; a line of more is no header. */
const widestTable = 2000;

/** Quantities that a table may run over, down its rows or along them. */
const axes = new Set<Quantity>([
  "temperature",
  "set temperature",
  "frequency",
  "angular frequency",
  "strain amplitude",
  "sample",
  "name",
]);

/**
 * The columns of a pivot: one quantity over two axes, such as "T [°C]; 1 Hz; 10 Hz" under "; E' [MPa]; ; E'' [MPa]; "
 * or under a title that names the one quantity in all cells. The second axis stands in the cells themselves, or its
 * name does in the corner ("T (°C) \ f (Hz)"). Null where the row is no header of that kind.
 */
export function readPivotHeader(above: string[], cells: string[]): Column[] | null {
  if (cells.length < 3 || cells.length > widestTable) return null;
  const corner = cornerOf(cells[0]);
  const first = corner?.rows ?? rememberedHeader(cells[0]);
  if (first.quantity === null || !first.certain || !axes.has(first.quantity)) return null;
  const names = spread(above);
  let values = 0;
  const columns = cells.map((cell, position): Column => {
    const own = position === 0 ? first : rememberedHeader(cell);
    const column: Column = { position, reading: own, quantity: own.quantity, sample: null, setAside: null };
    if (position === 0 || cell === "") return column;
    const tag = tagOf(cell) ?? (corner === null ? null : stateOf(cell, corner.columns));
    const named = names(position);
    if (tag === null || named === null) return column;
    values++;
    const reading: HeaderMeaning = { ...named, text: `${named.text} ${cell}`, tag: { ...named.tag, ...tag } };
    return { ...column, quantity: named.quantity, reading };
  });
  return values >= 2 && values >= cells.filter((cell) => cell !== "").length / 2 ? columns : null;
}

/** The reading of what stands over a column; a name counts up to the next one, as merged cells do. */
function spread(above: string[]): (position: number) => HeaderMeaning | null {
  const filled = above.filter((cell) => cell !== "");
  const only = filled.length === 1 ? rememberedHeader(filled[0]) : null;
  return (position) => {
    if (only !== null) return responseOf(only);
    for (let at = Math.min(position, above.length - 1); at >= 0; at--) {
      if (above[at] !== "") return responseOf(rememberedHeader(above[at]));
    }
    return null;
  };
}

function responseOf(reading: HeaderMeaning): HeaderMeaning | null {
  return reading.quantity !== null && isResponse(reading.quantity) ? reading : null;
}

/** Whether a cell is the corner of a pivot, which names both of its axes. */
export function isCorner(cell: string): boolean {
  return /[\\→|↓]|->/.test(cell) && cornerOf(cell) !== null;
}

/** "T (°C) \ f (Hz)": what runs down the rows, and what along them. */
function cornerOf(cell: string): { rows: HeaderMeaning; columns: HeaderMeaning } | null {
  const parts = cell.split(/ ?(?:\\|→|->|\||↓) ?/).filter((part) => part !== "");
  if (parts.length !== 2) return null;
  const [rows, columns] = parts.map((part) => readHeader(part));
  const areAxes = [rows, columns].every(({ quantity }) => quantity !== null && axes.has(quantity));
  return areAxes && rows.quantity !== columns.quantity ? { rows: { ...rows, text: cell }, columns } : null;
}

/**
 * What each cell of a row such as "f (Hz); 0.1; ; 1; " states: bare numbers behind the name and unit of the axis that runs
 * along them. Null where the row is no such row.
 */
export function axisTags(cells: string[]): (Tag | null)[] | null {
  const [name, ...values] = cells;
  if (values.filter((cell) => cell !== "").length < 2) return null;
  const axis = rememberedHeader(name);
  if (axis.quantity === null || !axis.certain || !axes.has(axis.quantity)) return null;
  const tags = values.map((cell) => (cell === "" ? null : stateOf(cell, axis)));
  return values.some((cell, i) => cell !== "" && tags[i] === null) ? null : [null, ...tags];
}

/** A bare number under the name of its axis; "1,000" may be one or a thousand. */
function stateOf(cell: string, axis: HeaderMeaning): Tag | null {
  const isOpen = /^\d{1,3},\d{3}$/.test(cell);
  const number =
    looksNumeric(cell) && !isOpen ? Number(cell.replace("−", "-").replace(",", ".")) : Number.NaN;
  if (!Number.isFinite(number) || axis.unit === null) return null;
  const value = toSI(number, axis.unit);
  if (axis.quantity === "temperature" || axis.quantity === "set temperature") return { temperature_C: value };
  return axis.quantity === "frequency" || axis.quantity === "angular frequency"
    ? { frequency_Hz: value }
    : null;
}

/**
 * The columns of a table whose title names the one quantity in all of its cells, such as "Rebound resilience (%)" above
 * "Compound; 23 °C; 0 °C", above "Temperature (°C); Birch 60; Rowan W" (compounds as columns) or above "Compound; 1; 2;
 * 3; Median" (repeats). Null where the row is no header of that kind.
 */
export function readTitledHeader(title: string, cells: string[]): Column[] | null {
  const quantity = rememberedHeader(title);
  if (quantity.quantity === null || !isRepeatable(quantity.quantity)) return null;
  if (cells.length > widestTable) return null;
  const known = cells.map((cell) => rememberedHeader(cell));
  const hasSamples = known.some(({ quantity: own }) => own !== null && isText(own) && own !== "method");
  const repeats = repeatsAmong(cells, hasSamples);
  let states = 0;
  let values = 0;
  const columns = cells.map((cell, position): Column => {
    const own = known[position];
    const column: Column = { position, reading: own, quantity: own.quantity, sample: null, setAside: null };
    if (cell === "") return column;
    const tag = tagOf(cell);
    const isMean = isMeanName(cell);
    if (tag === null && !isMean && own.quantity !== null) {
      if (own.quantity !== "not used") states++;
      return column;
    }
    const repeat = repeats.get(position) ?? null;
    const isRepeat = repeat !== null;
    if ((looksNumeric(cell) && !isRepeat) || (namesStatistic(cell) && !isMean)) return column;
    // Beside a column of samples a word that nothing explains is a remark's.
    if (tag === null && !isRepeat && !isMean && hasSamples) return column;
    values++;
    const reading: HeaderMeaning = {
      ...quantity,
      text: cell,
      tag: tag ?? {},
      mean: isMean,
      repeat,
      ...(quantity.unit === null && isRepeat ? { unit: own.unit, unitText: own.unitText } : {}),
    };
    const isName = tag === null && !isRepeat && !isMean;
    return { ...column, quantity: quantity.quantity, reading, sample: isName ? shown(cell) : null };
  });
  return states >= 1 && values >= 1 ? columns : null;
}

/**
 * Columns that hold 1, 2, 3 … in order, the numbers of repeats. "R1; R2; R3" and "Reading 1 (%); Reading 2 (%)" are such
 * beside a column of samples; without one they may be the names of compounds.
 */
function repeatsAmong(cells: string[], hasSamples: boolean): ReadonlyMap<number, number> {
  const counted = new Map<string, [position: number, repeat: number][]>();
  for (const [position, cell] of cells.entries()) {
    const match = /^([^\d()[\]]*?)[ .#_-]*(\d{1,2})(?: ?[([][^\d()[\]]{1,12}[)\]])?$/.exec(cell.trim());
    if (match === null || (match[1] !== "" && !hasSamples)) continue;
    const stem = match[1].toLowerCase();
    counted.set(stem, [...(counted.get(stem) ?? []), [position, Number(match[2])]]);
  }
  const inOrder = [...counted.values()].filter(
    (group) => group.length >= 2 && group.every(([, repeat], i) => repeat === i + 1),
  );
  return new Map(inOrder.flat());
}

/** Whether a cell holds the designation of a standard and nothing else. */
export function isStandard(cell: string): boolean {
  const { standard, quantity, strays } = readHeader(cell);
  return standard !== null && quantity === null && strays === 0;
}

function isMeanName(cell: string): boolean {
  return (
    meanWords.has(foldText(cell).toLowerCase()) || /^(?:平均値?|平均值|中央値|中位数)$/.test(cell.trim())
  );
}
