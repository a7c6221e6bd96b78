import { quoted, shown } from "../../../words/quoted.js";
import { keyOfCells, Memo } from "../../memo.js";
import { foldText, wordsOf } from "../../vocabulary/fold-text.js";
import type { HeaderMeaning } from "../../vocabulary/header-meaning.js";
import { mayNameQuantity } from "../../vocabulary/may-name-quantity.js";
import {
  complianceQuantities,
  dimensionsOf,
  isLabel,
  isResponse,
  isText,
  type Quantity,
} from "../../vocabulary/quantities.js";
import { isGenericName } from "../../vocabulary/terms/generic-words.js";
import { otherContextOf } from "../../vocabulary/terms/other-contexts.js";
import { qualifierOf } from "../../vocabulary/terms/qualifiers.js";
import { readUnit, type Unit } from "../../vocabulary/units.js";
import { countNumbers, looksNumeric } from "../lines/looks-numeric.js";
import { numberBeforeUnit } from "../lines/plainly-written.js";
import { type Column, rememberedHeader } from "./column.js";
import { type ColumnOverride, overrideFor } from "./column-override.js";
import { axisTags } from "./pivot-header.js";
import { tagOf } from "./tag-of.js";

/** A wide table has some hundred columns; a line of more is no header. */
const widestTable = 2000;

/**
 * The columns of a row of headers, or null where the row is none: at least two columns of known quantity, one
 * of them a modulus, a loss or a rebound, most of them fully understood, and hardly a number. They may be those that the
 * last file got for the same row, so they must not be changed.
 */
export function readHeaderRow(cells: string[], overrides: ColumnOverride[]): Column[] | null {
  if (cells.length < 2 || cells.length > widestTable) return null;
  const { numbers, filled } = countNumbers(cells);
  if (filled < 2 || numbers > filled / 3) return null;
  if (overrides.length === 0 && !mayBeHeader(cells)) return null;
  // Of two cells each is remembered by itself.
  if (overrides.length > 0 || cells.length === 2) return columnsOf(cells, overrides);
  return memory.of(keyOfCells(cells), () => columnsOf(cells, overrides));
}

const memory = new Memo<Column[] | null>();

/** Whether two cells may name a quantity, which a header needs; a quick look, for most lines of words are none. */
function mayBeHeader(cells: string[]): boolean {
  let named = 0;
  for (const cell of cells) if (cell !== "" && mayNameQuantity(cell) && ++named === 2) return true;
  return false;
}

function columnsOf(cells: string[], overrides: ColumnOverride[]): Column[] | null {
  const filled = cells.filter((cell) => cell !== "").length;
  const columns = cells.map((cell, position) => withOverride(headerColumn(cell, position), overrides));
  return isHeader(columns, filled, overrides) ? withUnitsAlone(columns) : null;
}

/**
 * Where no column is known for the temperature or the frequency and just one column of unknown name is in °C or Hz, it
 * is that one, in whatever language; a name that tells of something else (a softening, a limit) is not.
 */
function withUnitsAlone(columns: Column[]): Column[] {
  let found = columns;
  for (const quantity of ["temperature", "frequency"] as const) {
    if (columns.some((column) => column.quantity !== null && kinds[quantity].includes(column.quantity)))
      continue;
    const candidates = columns.filter(
      ({ reading, setAside, quantity: own }) =>
        own === null &&
        setAside === null &&
        reading.unit !== null &&
        dimensionsOf[quantity].includes(reading.unit.dimension) &&
        reading.unit.dimension !== "per second" &&
        otherContextOf(reading.text) === null &&
        qualifierOf(wordsOf(foldText(reading.text)), reading.text) === null,
    );
    if (candidates.length !== 1) continue;
    const [{ position, reading }] = candidates;
    const own = reading.unit!.dimension === "angular frequency" ? "angular frequency" : quantity;
    found = found.map((column) =>
      column.position === position
        ? { ...column, quantity: own, reading: { ...reading, quantity: own, certain: true } }
        : column,
    );
  }
  return found;
}

const kinds: Record<"temperature" | "frequency", Quantity[]> = {
  temperature: ["temperature", "set temperature"],
  frequency: ["frequency", "angular frequency"],
};

function headerColumn(cell: string, position: number): Column {
  const reading = rememberedHeader(cell);
  return { position, reading, quantity: reading.quantity, sample: null, setAside: null };
}

/** A column as the study’s override says, where one names its header. */
export function withOverride(column: Column, overrides: ColumnOverride[]): Column {
  const override = overrideFor(overrides, column.reading.text, column.position);
  if (override === undefined) return column;
  const { reading } = override;
  if (reading === null) return { ...column, quantity: null, setAside: "ignored by the study" };
  const { text } = column.reading;
  const unit = reading.unit ?? column.reading.unit;
  const unitText = reading.unit === null ? column.reading.unitText : reading.unitText;
  return {
    ...column,
    quantity: reading.quantity,
    reading: {
      ...reading,
      text,
      unit,
      unitText,
      unknownUnit: null,
      tag: { ...column.reading.tag, ...reading.tag },
      letter: reading.letter ?? column.reading.letter,
    },
    setAside: null,
    fromStudy: true,
    ...(deniesOverride(column.reading, reading)
      ? { contradiction: `the header ${quoted(column.reading.text)} says that the column holds a compliance` }
      : {}),
    ...(override.run === undefined ? {} : { run: override.run }),
  };
}

/** A compliance is one over a modulus, and no word of a study makes it one. */
function deniesOverride(own: HeaderMeaning, stated: HeaderMeaning): boolean {
  const isCompliance =
    own.unit?.dimension === "compliance" ||
    (own.quantity !== null && complianceQuantities.includes(own.quantity));
  return isCompliance && stated.quantity !== null && /modulus/.test(stated.quantity);
}

function isHeader(columns: Column[], filled: number, overrides: ColumnOverride[]): boolean {
  let known = 0;
  let certain = 0;
  let responses = 0;
  let texts = 0;
  for (const { quantity, reading } of columns) {
    if (quantity === null || quantity === "not used" || isLabel(quantity)) continue;
    known++;
    const isClear =
      reading.certain || (reading.unit !== null && dimensionsOf[quantity].includes(reading.unit.dimension));
    if (isClear) certain++;
    if (isClear && isResponse(quantity)) responses++;
    if (isText(quantity)) texts++;
  }
  if (overrides.length > 0 && responses === 0) return false;
  if (responses === 0 || known - texts < 1) return false;
  if (known < 2) return false;
  return certain >= 2 || (known >= 3 && known >= filled / 2 && texts < known);
}

/** How many columns of known, unlike quantity a row of cells names: which delimiter fits a header best. */
export function headerScore(cells: string[]): number {
  const known = new Set<string>();
  for (const cell of cells) {
    const { quantity, certain, tag } = rememberedHeader(cell);
    if (quantity !== null && quantity !== "not used" && !isLabel(quantity) && certain)
      known.add(`${quantity} ${tag.frequency_Hz ?? ""} ${tag.temperature_C ?? ""}`);
  }
  return known.size;
}

/**
 * The columns with what a row right under the header adds: units, or the frequency of each column of a wide
 * table. Null where the row is no such row.
 */
export function withSubheader(columns: Column[], cells: string[], line: number): Column[] | null {
  if (cells.some(isDecimalNumber) || cells.some((cell, i) => isValueOf(columns[i], cell))) return null;
  const units: (Unit | null)[] = [];
  let known = 0;
  let foreign = 0;
  let tags = 0;
  for (let i = 0; i < cells.length; i++) {
    const text = bare(cells[i]);
    const unit = text === "" ? null : readUnit(text);
    units.push(unit);
    if (text === "") continue;
    if (tagOf(text) !== null) tags++;
    else if (unit !== null) known++;
    else if (/^[-–—]+$/.test(text)) known++;
    else if (looksNumeric(text)) return null;
    else foreign++;
  }
  if (tags > 0 && tags + known > foreign) return tagged(columns, cells);
  if (known === 0 || foreign > known) return null;
  const real = units.filter((unit) => unit !== null && unit.dimension !== "ratio").length;
  if (real === 0) return null;
  return columns.map((column, i) => {
    const text = bare(cells[i] ?? "");
    if (text === "" || column.reading.unit !== null) return column;
    const unit = units[i] ?? null;
    const reading = { ...column.reading, unitLine: line };
    if (unit !== null) return { ...column, reading: { ...reading, unit, unitText: text, unknownUnit: null } };
    if (/^[-–—]+$/.test(text)) return column;
    return { ...column, reading: { ...reading, unknownUnit: text } };
  });
}

/**
 * The columns of a header that stands again, name for name, as on a new page, with the units that a row of their own
 * gave the first; a header that states a unit of its own, or another name, stands for itself.
 */
export function withUnitsOf(columns: Column[], before: Column[]): Column[] {
  const isAgain =
    columns.length === before.length &&
    columns.every(({ reading }, i) => reading.text === before[i].reading.text && reading.unitLine === null);
  if (!isAgain) return columns;
  return columns.map((column, i) => {
    const { unit, unitText, unknownUnit, unitLine } = before[i].reading;
    return unitLine === null || column.reading.unit !== null
      ? column
      : { ...column, reading: { ...column.reading, unit, unitText, unknownUnit, unitLine } };
  });
}

/** "-20 °C" under "Temperature", "45.2 %" under "Rebound": a measured value, and so a row of the table. */
function isValueOf(column: Column | undefined, cell: string): boolean {
  if (column?.quantity == null || isText(column.quantity)) return false;
  const number = numberBeforeUnit(cell);
  const unit = number === null ? null : readUnit(cell.slice(number.length));
  return unit !== null && dimensionsOf[column.quantity].includes(unit.dimension);
}

/** "12,5" is neither a unit nor a tag, and no more can be said of most rows right under a header. */
function isDecimalNumber(cell: string): boolean {
  return cell.length < 40 && /^[-+]?\d+[.,]\d+$/.test(cell);
}

function bare(cell: string): string {
  const text = cell.trim();
  const inside = /^[([{](.*)[)\]}]$/.exec(text);
  return (inside ? inside[1] : text).replace(/^in /, "").trim();
}

function tagged(columns: Column[], cells: string[]): Column[] {
  // Under a merged header the name stands once, over the first of its columns.
  let named: Column | null = null;
  return columns.map((column, i) => {
    const text = bare(cells[i] ?? "");
    const tag = tagOf(text);
    if (column.reading.text !== "") named = column;
    if (tag === null) return column;
    const source: Column = column.reading.text === "" && named !== null ? named : column;
    return {
      ...source,
      position: i,
      reading: { ...source.reading, tag: { ...source.reading.tag, ...tag } },
    };
  });
}

/**
 * The columns with what a row right above the header says of them: frequencies or temperatures, else names of
 * samples where the header repeats itself. A cell counts up to the next filled one, as merged cells do.
 */
export function withRowAbove(columns: Column[], above: string[]): Column[] {
  const filled = above.map((cell, i) => (cell === "" ? -1 : i)).filter((i) => i >= 0);
  if (filled.length === 0) return columns;
  // "Instrument limit; 200 Hz" is a line of its own; what stands over columns is a row of tags.
  const isRow = above.every(
    (cell) => cell === "" || tagOf(cell) !== null || rememberedHeader(cell).quantity !== null,
  );
  const areTags = isRow && !isPairOf(above);
  const axis = axisTags(above);
  const tags = axis ?? above.map((cell) => (cell === "" || !areTags ? null : tagOf(cell)));
  const carried = <T>(values: (T | null)[], i: number): T | null => {
    for (let at = Math.min(i, values.length - 1); at >= 0; at--) if (above[at] !== "") return values[at];
    return null;
  };
  if (tags.some((tag) => tag !== null)) {
    return columns.map((column) => {
      const tag = carried(tags, column.position);
      if (tag === null || column.quantity === null || !isResponse(column.quantity)) return column;
      return { ...column, reading: { ...column.reading, tag: { ...tag, ...column.reading.tag } } };
    });
  }
  if (!repeatsItself(columns) || filled.length < 2) return columns;
  // What names a quantity itself names no sample.
  const repeated = repeatedQuantities(columns);
  const names = above.map((cell) => (cell === "" || rememberedHeader(cell).quantity !== null ? null : cell));
  return columns.map((column) => {
    const name = carried(names, column.position);
    if (name === null || column.quantity === null) return column;
    // What stands over conditions that all share names nothing; "Rep 1" over a block of columns is a run.
    if (!isResponse(column.quantity) && !repeated.has(column.quantity)) return column;
    return isGenericName(name) ? { ...column, run: shown(name) } : { ...column, sample: shown(name) };
  });
}

/** "Frequency; 10 Hz" in the first two cells: a name and its value. */
function isPairOf(cells: string[]): boolean {
  const [name, value] = cells;
  if (name === undefined || name === "" || (value ?? "") === "" || tagOf(name) !== null) return false;
  const { quantity } = rememberedHeader(name);
  return (
    quantity !== null &&
    !isResponse(quantity) &&
    tagOf(value) !== null &&
    cells.every((cell, i) => i < 2 || cell === "")
  );
}

/** Quantities that more than one column holds. */
function repeatedQuantities(columns: Column[]): ReadonlySet<Quantity> {
  const seen = new Set<Quantity>();
  const repeated = new Set<Quantity>();
  for (const { quantity } of columns) {
    if (quantity === null) continue;
    if (seen.has(quantity)) repeated.add(quantity);
    seen.add(quantity);
  }
  return repeated;
}

function repeatsItself(columns: Column[]): boolean {
  const seen = new Set<string>();
  for (const { quantity, reading } of columns) {
    if (quantity === null || !isResponse(quantity)) continue;
    const key = `${quantity} ${JSON.stringify(reading.tag)}`;
    if (seen.has(key)) return true;
    seen.add(key);
  }
  return false;
}
