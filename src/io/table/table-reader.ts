import type { Skipped } from "../measurement.js";
import type { Notice, Problem } from "../problem.js";
import { quoted, shown } from "../problem-codes.js";
import { dimensionsOf } from "../vocabulary/quantities.js";
import { readUnit, scaleByPower } from "../vocabulary/units.js";
import { Block, type Gap } from "./block.js";
import { markOf } from "./cell-mark.js";
import type { Column } from "./column.js";
import { columnOf } from "./column.js";
import type { ColumnOverride } from "./column-override.js";
import { looksNumeric } from "./dialect.js";
import { type Facts, noFacts, type Statement, withStatements } from "./facts.js";
import { type Layout, layoutOf } from "./layout.js";
import { commaFormat, type NumberFormat, NumberParser, pointFormat } from "./number-format.js";
import { readHeaderRow, withOverride, withRowAbove, withSubheader } from "./read-header-row.js";
import { readStatements } from "./read-statements.js";

/** Instruments write 9.9E37 and the like for "over range" and "no value". */
const overRangeValue = 1e30;
const mostSkipped = 1000;

/** Statements that name a section; a sample or a mode in a preamble does not. */
const titling = new Set<Statement["about"]>(["frequency", "temperature", "section"]);

/** What spreadsheets and instruments call the rows of statistics under a table. */
const statistic =
  /^(?:(?:mean|average|avg|std|st\.? ?dev|stdev|standard deviation|min|max|minimum|maximum|median|sum|count|cv|mittel|mittelwert|durchschnitt|stdabw|standardabw(?:eichung)?|summe|anzahl|moyenne|écart|médiane|media|mediana|desv|somma|média|desvio)(?![\p{L}\d])|平均|標準|标准|最大|最小|中央|中位)/iu;

/** A fraction that its workbook shows as per cent. */
export interface Share {
  share: number;
}

/** A cell as a text writes it, or a number that a workbook holds as one. */
export type Cell = string | number | Share;

/** What was found in one text or sheet. */
export interface TableReading {
  blocks: Block[];
  /** What was said outside the tables, to the end. */
  facts: Facts;
  skipped: Skipped[];
  problems: Problem[];
  notices: Notice[];
  /** A number in the other decimal convention, the first one met. */
  conflict: { line: number; column: number; cell: string } | null;
  /** The first row of text right above numbers, where no header was known. */
  likelyHeader: { cells: string[]; line: number } | null;
  headers: number;
}

/**
 * Sorts the rows of a text or a sheet into headers, rows of numbers, and lines that say something. Rows come
 * in one by one; `layout` and `values` are open to a caller that parses plain rows of numbers by itself.
 */
export class TableReader {
  layout: Layout | null = null;
  /** One number per slot of the layout, for the row at hand. */
  values = new Float64Array(0);
  readonly parser: NumberParser;
  private readonly other: NumberParser;
  private header: { columns: Column[]; line: number; lastLine: number } | null = null;
  /** A header whose table cannot be read: its rows are passed over. */
  private dead = false;
  private block: Block | null = null;
  private facts: Facts;
  private section: string | null = null;
  private sectionOpen = false;
  private above: { cells: string[]; line: number }[] = [];
  private lastSample: string | null = null;
  private readonly result: TableReading;
  private skippedCount = 0;

  constructor(
    format: NumberFormat,
    private readonly overrides: ColumnOverride[],
    startingFacts: Facts = noFacts,
  ) {
    this.parser = new NumberParser(format);
    this.other = new NumberParser(
      format.decimal === 44 ? { ...pointFormat, thousands: 0 } : { ...commaFormat, thousands: 0 },
    );
    this.facts = startingFacts;
    this.result = {
      blocks: [],
      facts: startingFacts,
      skipped: [],
      problems: [],
      notices: [],
      conflict: null,
      likelyHeader: null,
      headers: 0,
    };
  }

  /** A blank line ends a run of header rows and parts blocks of one table. */
  blankLine(): void {
    if (this.block !== null && this.block.rows > 0) this.block = null;
    this.sectionOpen = false;
  }

  /** Any row that is not known to be plain numbers. `statementCells` where a line of words splits otherwise. */
  row(cells: Cell[], line: number, statementCells?: string[]): void {
    const texts = cells.map(textOf);
    if (texts.every((cell) => cell === "")) {
      this.blankLine();
      return;
    }
    if (this.header !== null && this.layout === null && !this.dead && this.subheader(texts, line)) return;
    if (this.layout !== null && this.dataRow(cells, texts, line)) return;
    if (this.headerRow(texts, line)) return;
    if (this.header !== null && this.layout === null && !this.dead && isFilledWithNumbers(cells)) {
      if (this.compile() && this.dataRow(cells, texts, line)) return;
    }
    if (this.dead && isFilledWithNumbers(cells)) return;
    if (this.headerless(cells, texts, line)) return;
    this.words(texts, line, statementCells ?? texts);
    this.above = [...this.above.slice(-1), { cells: texts, line }];
  }

  /** Compiles the header at hand into a layout; false where there is none or it cannot be. */
  compile(): boolean {
    if (this.layout !== null) return true;
    if (this.header === null || this.dead) return false;
    const layout = layoutOf(this.header.columns, this.header.line);
    if ("code" in layout) {
      this.result.problems.push(layout);
      this.dead = true;
      return false;
    }
    this.layout = layout;
    this.values = new Float64Array(layout.slots.length);
    this.result.notices.push(...layout.notices);
    return true;
  }

  /** Adds `values` as a row. */
  add(line: number, sample: string | null, gaps: Gap[] | null): void {
    this.block ??= this.openBlock();
    const { block } = this;
    if (gaps !== null) for (const gap of gaps) block.gaps.push({ ...gap, row: block.rows });
    block.add(this.values, line, sample);
  }

  noteDecimals(slot: number, decimals: number): void {
    this.block ??= this.openBlock();
    if (decimals > this.block.decimals[slot]) this.block.decimals[slot] = decimals;
  }

  sampleOf(cell: string): string {
    if (cell !== "") this.lastSample = cell;
    return this.lastSample ?? "";
  }

  finish(): TableReading {
    if (this.header !== null && this.layout === null && !this.dead) this.compile();
    this.result.facts = this.facts;
    if (this.skippedCount > mostSkipped) {
      this.result.skipped.push({
        line: this.result.skipped[mostSkipped - 1].line,
        text: "",
        why: `${this.skippedCount - mostSkipped} more rows were left out; only the first ${mostSkipped} are listed`,
      });
    }
    return this.result;
  }

  skip(line: number, text: string, why: string): void {
    this.skippedCount++;
    if (this.skippedCount <= mostSkipped)
      this.result.skipped.push({ line, text: shown(text).slice(0, 120), why });
  }

  private openBlock(): Block {
    const block = new Block(this.layout!, this.facts, this.section);
    this.result.blocks.push(block);
    this.sectionOpen = false;
    return block;
  }

  private subheader(texts: string[], line: number): boolean {
    const { header } = this;
    if (header === null || line - header.lastLine > 2) return false;
    const columns = withSubheader(header.columns, texts, line);
    if (columns === null) return false;
    this.header = { columns, line: header.line, lastLine: line };
    return true;
  }

  private headerRow(texts: string[], line: number): boolean {
    const above = this.above.filter((row) => row.line < line && line - row.line <= 2);
    let columns = readHeaderRow(texts, this.overrides);
    const [near] = above.slice(-1);
    if (columns === null && near !== undefined) {
      // "Storage" over "modulus": a header written in two rows.
      columns = readHeaderRow(joinedRows(near.cells, texts), this.overrides);
    }
    if (columns === null) return false;
    this.result.headers++;
    const previous = this.header;
    if (previous !== null && this.layout === null && !this.dead && line - previous.lastLine === 1) {
      // Names, then symbols, then numbers: two rows that name the same columns.
      this.header = { columns: merged(previous.columns, columns), line: previous.line, lastLine: line };
      return true;
    }
    if (near !== undefined && line - near.line === 1) columns = withRowAbove(columns, near.cells);
    this.header = { columns, line, lastLine: line };
    this.layout = null;
    this.block = null;
    this.dead = false;
    this.above = [];
    return true;
  }

  /** A table whose columns the study names by number may have no header at all. */
  private headerless(cells: Cell[], texts: string[], line: number): boolean {
    if (this.header !== null || this.overrides.length === 0 || !isFilledWithNumbers(cells)) return false;
    const [near] = this.above.slice(-1);
    const names = near !== undefined && near.cells.length === texts.length ? near.cells : texts.map(() => "");
    const columns = names.map((name, position) => withOverride(columnOf(position, name), this.overrides));
    if (columns.filter(({ quantity }) => quantity !== null && quantity !== "not used").length < 2)
      return false;
    this.header = { columns, line: near?.line ?? line, lastLine: line };
    this.result.headers++;
    return this.compile() && this.dataRow(cells, texts, line);
  }

  /** Words: a preamble, a section's title, a footer. */
  private words(texts: string[], line: number, statementCells: string[]): void {
    const statements = readStatements(statementCells, this.parser.format);
    const text = statementCells.filter((cell) => cell !== "").join(" ");
    if (statements.length === 0) {
      if (this.layout !== null && this.block !== null && this.block.rows > 0) {
        this.skip(line, text, "neither numbers under the header nor a header");
      } else if (
        this.header === null &&
        this.result.likelyHeader === null &&
        texts.filter((t) => t !== "").length >= 2
      ) {
        if (!isNumbers(texts)) this.result.likelyHeader = { cells: texts, line };
      }
      return;
    }
    if (statements.every(({ about }) => about === "remark")) return;
    this.facts = withStatements(this.facts, statements, line);
    // What is said under a table's rows opens a new section of it.
    this.block = null;
    const isTitle = statements.some(
      ({ about }) => titling.has(about) || (about === "sample" && this.result.headers > 0),
    );
    if (isTitle) {
      const title = shown(text).slice(0, 80);
      this.section = this.sectionOpen && this.section !== null ? `${this.section}, ${title}` : title;
      this.sectionOpen = true;
    }
    if (statements.some((statement) => statement.about === "sample")) this.lastSample = null;
  }

  /** A row under the header: true where it is one, whether it is usable or not. */
  private dataRow(cells: Cell[], texts: string[], line: number): boolean {
    const { layout, values } = this;
    if (layout === null) return false;
    let numbers = 0;
    let marks = 0;
    let gaps: Gap[] | null = null;
    const decimals: number[] = [];
    const words: string[] = [];
    for (let slot = 0; slot < layout.slots.length; slot++) {
      const { column, power } = layout.slots[slot];
      const cell = cells[column.position] ?? "";
      const number = this.numberOf(cell, power, column);
      values[slot] = number;
      decimals.push(typeof cell === "string" && number === number ? this.parser.decimals : 0);
      if (Math.abs(number) < overRangeValue) {
        numbers++;
        continue;
      }
      const text = texts[column.position] ?? "";
      const kind = Number.isNaN(number) ? markOf(text) : "over-range";
      values[slot] = Number.NaN;
      if (kind === "text") {
        this.watchConflict(text, line, column.position + 1);
        words.push(text);
      } else if (kind !== "blank") marks++;
      gaps ??= [];
      gaps.push({ row: 0, slot, cell: text, kind });
    }
    if (numbers === 0 && marks === 0) return false;
    if (words.length > 0 && (numbers < 2 || words.length > numbers)) return false;
    // A row of statistics under the table: words in a column of counts, numbers under the rest.
    if (this.isFooter(texts, layout)) {
      this.skip(line, texts.join(" "), "a row of statistics, not a measured point");
      return true;
    }
    if (numbers === 0) {
      this.skip(line, texts.join(" "), `no number in the row: ${whyOf(gaps![0], layout)}`);
      return true;
    }
    const sample = layout.sampleColumn === null ? null : this.sampleOf(texts[layout.sampleColumn] ?? "");
    this.add(line, sample, gaps);
    decimals.forEach((count, slot) => {
      this.noteDecimals(slot, count);
    });
    return true;
  }

  private isFooter(texts: string[], layout: Layout): boolean {
    for (let i = 0; i < texts.length && i < layout.columns.length; i++) {
      if (layout.slotOf[i] >= 0 || i === layout.sampleColumn || texts[i] === "") continue;
      if (statistic.test(texts[i])) {
        return true;
      }
    }
    return false;
  }

  private numberOf(cell: Cell, power: number, column: Column): number {
    if (typeof cell === "number") return power === 0 ? cell : scaleByPower(cell, power);
    // 0.523 shown as 52.3 %: under a header in % it is 52.3, under any other it is the fraction.
    if (typeof cell === "object")
      return column.reading.unit?.power === -2 ? cell.share : scaleByPower(cell.share, power);
    const number = this.parser.parse(cell, 0, cell.length, power);
    if (!Number.isNaN(number) || cell === "") return number;
    return this.numberWithUnit(cell, power, column);
  }

  /** "12.5 MPa" in a cell: allowed where the column has just that unit, or none yet. */
  private numberWithUnit(cell: string, power: number, column: Column): number {
    if (column.quantity === null || cell.length > 40) return Number.NaN;
    let end = cell.length;
    while (end > 0 && !(cell[end - 1] >= "0" && cell[end - 1] <= "9")) end--;
    if (end === 0 || end === cell.length) return Number.NaN;
    const unit = readUnit(cell.slice(end).trim());
    if (unit === null || !dimensionsOf[column.quantity].includes(unit.dimension)) return Number.NaN;
    const own = column.reading.unit;
    if (own === null) {
      if (this.block !== null && this.block.rows > 0) return Number.NaN;
      column.reading = { ...column.reading, unit, unitText: cell.slice(end).trim() };
      this.recompile();
      return this.parser.parse(cell, 0, end, unit.before === 0 ? unit.power : 0);
    }
    const same = own.power === unit.power && own.factor === unit.factor && own.before === unit.before;
    return same ? this.parser.parse(cell, 0, end, power) : Number.NaN;
  }

  /** A unit found in the first row's cells changes how the numbers of its column are scaled. */
  private recompile(): void {
    const { layout } = this;
    if (layout === null) return;
    for (const slot of layout.slots) {
      const { unit, logarithm } = slot.column.reading;
      slot.power = unit !== null && logarithm === 0 && unit.before === 0 ? unit.power : 0;
    }
  }

  private watchConflict(cell: string, line: number, column: number): void {
    if (this.result.conflict !== null || !looksNumeric(cell)) return;
    if (Number.isNaN(this.other.parse(cell, 0, cell.length, 0))) return;
    this.result.conflict = { line, column, cell };
  }
}

export function whyOf({ cell, kind, slot }: Gap, layout: Layout): string {
  const { column } = layout.slots[slot];
  const where = `column ${column.position + 1} (${quoted(column.reading.text, 40)})`;
  if (kind === "blank") return `${where} is blank`;
  if (kind === "missing") return `${where} holds ${quoted(cell, 30)}, no value`;
  if (kind === "not positive") return `${where} holds ${cell}, zero or below`;
  if (kind === "over-range") return `${where} holds ${quoted(cell, 30)}, a value out of range`;
  return `${where} holds ${quoted(cell, 30)}, not a number`;
}

function textOf(cell: Cell): string {
  if (typeof cell === "string") return cell;
  return typeof cell === "number" ? String(cell) : `${Number((100 * cell.share).toPrecision(12))} %`;
}

function isFilledWithNumbers(cells: Cell[]): boolean {
  let numbers = 0;
  let filled = 0;
  for (const cell of cells) {
    if (cell === "") continue;
    filled++;
    if (typeof cell !== "string" || looksNumeric(cell) || markOf(cell) !== "text") numbers++;
  }
  return numbers >= 1 && numbers >= 0.4 * filled;
}

function isNumbers(texts: string[]): boolean {
  return isFilledWithNumbers(texts);
}

/** Cells of two rows joined column by column. */
function joinedRows(above: string[], below: string[]): string[] {
  const width = Math.max(above.length, below.length);
  return Array.from({ length: width }, (_, i) => `${above[i] ?? ""} ${below[i] ?? ""}`.trim());
}

function merged(first: Column[], second: Column[]): Column[] {
  const width = Math.max(first.length, second.length);
  return Array.from({ length: width }, (_, i) => {
    const one = first[i];
    const other = second[i];
    if (one === undefined) return other;
    if (other === undefined || other.quantity === null) return one;
    if (one.quantity === null || one.quantity === "not used") return other;
    const { unit, unitText, letter, tag } = other.reading;
    return {
      ...one,
      reading: {
        ...one.reading,
        unit: one.reading.unit ?? unit,
        unitText: one.reading.unit === null ? unitText : one.reading.unitText,
        letter: one.reading.letter ?? letter,
        tag: { ...tag, ...one.reading.tag },
      },
    };
  });
}
