import type { Problem } from "../../../words/notice.js";
import { dimensionsOf, isResponse } from "../../vocabulary/quantities.js";
import { isNumberWithUnit } from "../data-cell.js";
import { looksNumeric } from "../lines/looks-numeric.js";
import { type Column, columnOf } from "./column.js";
import type { ColumnOverride } from "./column-override.js";
import { filledFromAbove, joinedRows, mergedColumns } from "./join-headers.js";
import { type Layout, SettledLayouts } from "./layout.js";
import { isStandard, readPivotHeader, readTitledHeader } from "./pivot-header.js";
import { readHeaderRow, withOverride, withRowAbove, withSubheader, withUnitsOf } from "./read-header-row.js";
import { withRowNames } from "./row-names.js";
import { tagOf } from "./tag-of.js";

/**
 * "open": a header that waits for its rows, and may still be added to. "settled": rows are read under it.
 * "dead": its table cannot be read and its rows are passed over.
 */
type Status = "none" | "open" | "settled" | "dead";

const layouts = new SettledLayouts();

/** The header of the table at hand: pieced together from one or more rows, then settled into a layout. */
export class TableHeader {
  status: Status = "none";
  /** Headers met so far. */
  count = 0;
  private columns: Column[] = [];
  /** Those of the header settled before this one. */
  private before: Column[] = [];
  /** As the file writes them. */
  private cells: string[] = [];
  private line = 0;
  private lastLine = 0;
  /** Rows of words right above, the nearest last. */
  private above: { cells: string[]; line: number }[] = [];

  constructor(private readonly overrides: ColumnOverride[]) {}

  /** Takes a row for a header; false where it is none. */
  take(texts: string[], line: number): boolean {
    const near = this.above.findLast((row) => line - row.line <= 2);
    const above = near !== undefined && line - near.line === 1 ? near.cells : null;
    const columns = this.columnsOf(texts, above, near?.cells ?? null);
    if (columns === null) return false;
    this.count++;
    if (this.status === "open" && line - this.lastLine === 1) {
      const merged = mergedColumns(this.columns, columns);
      if (merged !== null) {
        this.columns = merged;
        this.lastLine = line;
        return true;
      }
    }
    this.open(above === null ? columns : withRowAbove(columns, above), line, texts);
    return true;
  }

  private columnsOf(texts: string[], above: string[] | null, near: string[] | null): Column[] | null {
    const own = readHeaderRow(texts, this.overrides);
    if (own !== null) {
      const isNamedAbove = above !== null && texts.some((cell, i) => cell === "" && (above[i] ?? "") !== "");
      return (isNamedAbove ? readHeaderRow(filledFromAbove(texts, above), this.overrides) : null) ?? own;
    }
    if (near === null) return null;
    const pivot = readPivotHeader(near, texts);
    if (pivot !== null) return pivot.map((column) => withOverride(column, this.overrides));
    // A title over all cells is looked for first: it does not belong to the first of them. Else "Storage" over "modulus".
    const title = titleOf(near);
    const titled = title === null ? null : readTitledHeader(title, texts);
    return titled ?? readHeaderRow(joinedRows(near, texts), this.overrides);
  }

  /** Takes a row of units or of frequencies right under an open header. */
  takeSubheader(texts: string[], line: number): boolean {
    if (this.status !== "open" || line - this.lastLine > 2) return false;
    const pivot = readPivotHeader(this.cells, texts);
    if (pivot !== null) {
      this.open(
        pivot.map((column) => withOverride(column, this.overrides)),
        line,
        texts,
      );
      return true;
    }
    const columns = withSubheader(this.columns, texts, line);
    if (columns === null) return false;
    this.columns = columns;
    this.lastLine = line;
    return true;
  }

  /** Opens a header for rows of numbers that have none, where the study names columns by number. */
  takeByNumber(texts: string[], line: number): boolean {
    if (this.status !== "none" || this.overrides.length === 0) return false;
    const near = this.above.at(-1);
    const names = near !== undefined && near.cells.length === texts.length ? near.cells : texts.map(() => "");
    const columns = names.map((name, position) => withOverride(columnOf(position, name), this.overrides));
    const known = columns.filter(({ quantity }) => quantity !== null && quantity !== "not used");
    if (known.length < 2 || !known.some(({ quantity }) => isResponse(quantity!))) return false;
    this.count++;
    this.open(columns, near?.line ?? line, names);
    return true;
  }

  /**
   * Opens a header for rows that begin with a temperature under a corner left blank: "; Birch 60; Rowan W" below the
   * title of the one quantity in all cells.
   */
  takeCornerless(texts: string[]): boolean {
    const [title, names] = this.above;
    if (this.status !== "none" || names === undefined || names.cells[0] !== "") return false;
    if (tagOf(texts[0])?.temperature_C === undefined || names.line - title.line > 2) return false;
    const text = titleOf(title.cells);
    const cells = ["Temperature", ...names.cells.slice(1)];
    const columns = text === null ? null : readTitledHeader(text, cells);
    if (columns === null) return false;
    this.count++;
    this.open(columns, names.line, cells);
    return true;
  }

  /** Puts a header that was pieced together from several lines in place of the one that waits for its rows. */
  replace(cells: string[], line: number): boolean {
    const columns = readHeaderRow(cells, this.overrides);
    if (columns === null) return false;
    this.count++;
    this.open(columns, line, cells);
    return true;
  }

  /** Known columns of an open header that is so many columns wide; 0 for any other. */
  score(width: number): number {
    if (this.status !== "open" || this.columns.length !== width) return 0;
    const known = this.columns.filter(({ quantity, reading }) => quantity !== null && reading.certain);
    return new Set(known.map(({ quantity }) => quantity)).size;
  }

  /**
   * Settles an open header; a problem where its table cannot be read, null where there is none.
   * @param firstRow the row right under it, which may tell of row names; null where none came
   */
  settle(firstRow: string[] | null): Layout | Problem | null {
    if (this.status !== "open") return null;
    const header = withUnitsOf(this.columns, this.before);
    const columns = firstRow === null ? header : withRowNames(header, firstRow);
    const layout = layouts.of(columns, this.line, firstRow);
    this.before = "code" in layout || columns !== header ? header : layout.columns;
    this.status = "code" in layout ? "dead" : "settled";
    return layout;
  }

  /** Where an open header has its samples' names; null where it has none. */
  get sampleColumn(): number | null {
    if (this.status !== "open") return null;
    const of = (wanted: "sample" | "name") => this.columns.find(({ quantity }) => quantity === wanted);
    return (of("sample") ?? of("name"))?.position ?? null;
  }

  /** Whether a row under an open header holds a number in a column that is read, or in one of responses. */
  holdsRow(texts: string[], isOfResponse: boolean): boolean {
    if (this.status !== "open") return false;
    return this.columns.some(
      ({ quantity, position, setAside }) =>
        quantity !== null &&
        setAside === null &&
        (isOfResponse ? isResponse(quantity) : dimensionsOf[quantity].length > 0) &&
        (looksNumeric(texts[position] ?? "") || isNumberWithUnit(texts[position] ?? "")),
    );
  }

  /** Keeps a row of words that the next header may build on. */
  remember(cells: string[], line: number): void {
    this.above = [...this.above.slice(-1), { cells, line }];
  }

  forget(): void {
    this.above = [];
  }

  private open(columns: Column[], line: number, cells: string[]): void {
    this.columns = columns;
    this.cells = cells;
    this.line = line;
    this.lastLine = line;
    this.status = "open";
    this.above = [];
  }
}

/** The one text of a row; a comma before the standard's name parts no cells: "Rebound resilience (%), ISO 4662". */
function titleOf(cells: string[]): string | null {
  const filled = cells.filter((cell) => cell !== "");
  if (filled.length === 1) return filled[0];
  return filled.length === 2 && isStandard(filled[1]) ? filled.join(", ") : null;
}
