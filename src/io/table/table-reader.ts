import { notice, shown } from "../problem-codes.js";
import { Block, type Gap } from "./block.js";
import { markOf } from "./cell-mark.js";
import type { ColumnOverride } from "./column-override.js";
import {
  type Cell,
  isFilledWithNumbers,
  isStatistic,
  numberAndUnit,
  numberOf,
  surplusNumbers,
  textOf,
  whyOf,
} from "./data-cell.js";
import { type Facts, noFacts, type Statement, withStatements } from "./facts.js";
import type { Layout } from "./layout.js";
import { looksNumeric } from "./looks-numeric.js";
import { commaFormat, type NumberFormat, NumberParser, pointFormat } from "./number-format.js";
import { overRangeValue } from "./over-range.js";
import { readStatements } from "./read-statements.js";
import { TableHeader } from "./table-header.js";
import { emptyReading, type TableReading } from "./table-reading.js";

/** Statements that name a section; a sample or a mode in a preamble does not. */
const titling = new Set<Statement["about"]>(["frequency", "temperature", "section"]);

/**
 * Sorts the rows of a text or a sheet into headers, rows of numbers, and lines that say something. Rows come
 * in one by one; `layout` and `rowBlock` are open to a caller that parses plain rows of numbers by itself.
 */
export class TableReader {
  layout: Layout | null = null;
  /** Sample of the row at hand; rows without one go with the row above. */
  sample = "";
  readonly parser: NumberParser;
  private readonly other: NumberParser;
  private readonly header: TableHeader;
  private block: Block | null = null;
  /** Whether the block stands in the result; it does from its first row on. */
  private isEntered = false;
  private facts: Facts;
  private section: string | null = null;
  private sectionOpen = false;
  private readonly result: TableReading;
  private carriedDown = 0;
  private numbersMet = false;
  /** How the last line that stated a frequency or a temperature began. */
  private titleStart: string | null = null;

  constructor(format: NumberFormat, overrides: ColumnOverride[], startingFacts: Facts = noFacts) {
    this.header = new TableHeader(overrides);
    this.parser = new NumberParser(format);
    const other = format.decimal === 44 ? pointFormat : commaFormat;
    this.other = new NumberParser({ ...other, thousands: 0 });
    this.facts = startingFacts;
    this.result = emptyReading(startingFacts);
  }

  get isHeaderMet(): boolean {
    return this.header.count > 0;
  }

  /** A blank line ends a run of header rows and parts blocks of one table. */
  blankLine(): void {
    if (this.block !== null && this.block.rows > 0) this.leaveBlock();
    this.sectionOpen = false;
  }

  /** Any row that is not known to be plain numbers. `statementCells` where a line of words splits otherwise. */
  row(cells: Cell[], line: number, statementCells?: string[]): void {
    const texts = cells.map(textOf);
    if (texts.every((cell) => cell === "")) {
      this.blankLine();
      return;
    }
    if (!this.isTitle(texts) && this.header.takeSubheader(texts, line)) return;
    if (this.layout !== null && this.dataRow(cells, texts, line)) return;
    if (this.header.take(texts, line)) {
      this.startTable();
      return;
    }
    if (isFilledWithNumbers(cells)) {
      if (this.header.status === "open" && this.settle() && this.dataRow(cells, texts, line)) return;
      if (this.header.status === "dead") return;
      if (this.header.takeByNumber(texts, line) && this.settle() && this.dataRow(cells, texts, line)) return;
    }
    const isStatement = this.words(texts, line, statementCells ?? texts);
    // "Frequency: 10 Hz" names no columns, but "Sample; Birch 60; ; Rowan W" may.
    if (isStatement && texts.filter((cell) => cell !== "").length < 3) this.header.forget();
    else this.header.remember(texts, line);
  }

  /** "Temperature: −60 °C" alone right under a header opens the first section; it is no row of units. */
  private isTitle(texts: string[]): boolean {
    if (this.header.status !== "open") return false;
    const filled = texts.filter((cell) => cell !== "");
    if (filled.length !== 1) return false;
    return readStatements(filled, this.parser.format).some(({ about }) => titling.has(about));
  }

  /** Known columns of a header that waits for its rows, if it is so many columns wide; 0 otherwise. */
  openHeaderScore(width: number): number {
    return this.header.score(width);
  }

  /** Puts a header that was pieced together from several lines in place of the one that waits for its rows. */
  replaceHeader(cells: string[], line: number): void {
    if (this.header.replace(cells, line)) this.startTable();
  }

  private startTable(): void {
    this.layout = null;
    this.leaveBlock();
    this.sample = "";
  }

  /** The block of the next row, whose numbers are written into it before `add` counts the row. */
  get rowBlock(): Block {
    if (this.block === null) {
      const { blocks } = this.result;
      blocks[blocks.length - 1]?.close();
      this.block = new Block(this.layout!, this.facts, this.section);
    }
    return this.block;
  }

  /** Adds the row that was written into the block, of the sample at hand. */
  add(
    line: number,
    gaps: Gap[] | null = null,
    method: string | null = null,
    labels: string[] | null = null,
  ): void {
    const block = this.enteredBlock();
    if (gaps !== null) for (const gap of gaps) block.gaps.push({ ...gap, row: block.rows });
    block.add(line, this.sample, method, labels);
  }

  /** Keeps how finely a column is printed. */
  notePrecision(slot: number, precision: number): void {
    const block = this.enteredBlock();
    if (precision > block.precision[slot]) block.precision[slot] = precision;
  }

  /** Takes the sample of a row; a row without one goes with the sample above. */
  takeSample(name: string): void {
    if (name !== "") this.sample = name;
    else if (this.sample !== "") this.carriedDown++;
  }

  finish(): TableReading {
    const { result } = this;
    this.settle();
    result.facts = this.facts;
    result.headers = this.header.count;
    if (this.carriedDown > 0) {
      const rows = this.carriedDown === 1 ? "1 row has" : `${this.carriedDown} rows have`;
      result.notices.push(
        notice("info", "io.sample-carried-down", `${rows} no sample's name and went with the sample above.`),
      );
    }
    return result;
  }

  /** Tells of a row that is left out. */
  skip(line: number, text: string, why: string): void {
    this.result.skipped.add(line, text, why);
  }

  private enteredBlock(): Block {
    const block = this.rowBlock;
    if (!this.isEntered) {
      this.result.blocks.push(block);
      this.isEntered = true;
      this.sectionOpen = false;
    }
    return block;
  }

  private leaveBlock(): void {
    this.block = null;
    this.isEntered = false;
  }

  /** Settles the open header into a layout; false where its table cannot be read. */
  private settle(): boolean {
    const layout = this.header.settle();
    if (layout === null) return false;
    if ("code" in layout) {
      this.result.problems.push(layout);
      return false;
    }
    this.layout = layout;
    this.result.notices.push(...layout.notices);
    return true;
  }

  /** Words: a preamble, a section's title, a footer. True where they state something. */
  private words(texts: string[], line: number, statementCells: string[]): boolean {
    let statements = readStatements(statementCells, this.parser.format);
    if (statements.length === 0 && statementCells !== texts)
      statements = readStatements(texts, this.parser.format);
    const text = statementCells.filter((cell) => cell !== "").join(" ");
    if (statements.length === 0) {
      const named = texts.filter((cell) => cell !== "").length;
      if (this.header.status === "settled") {
        this.skip(line, text, "neither numbers under the header nor a header");
        this.unreadTitle(text);
      } else if (this.header.status === "none" && named >= 2) this.noteLikelyHeader(texts, line);
      return false;
    }
    if (statements.every(({ about }) => about === "remark")) return true;
    this.facts = withStatements(this.facts, statements, line);
    // What is said under a table's rows opens a new section of it.
    this.leaveBlock();
    const isSample = statements.some(({ about }) => about === "sample");
    if (statements.some(({ about }) => about === "frequency" || about === "temperature")) {
      this.titleStart = startOfTitle(text);
    }
    if (statements.some(({ about }) => titling.has(about)) || (isSample && this.header.count > 0)) {
      const title = shown(text).slice(0, 80);
      this.section = this.sectionOpen && this.section !== null ? `${this.section}, ${title}` : title;
      this.sectionOpen = true;
    }
    if (isSample) this.sample = "";
    return true;
  }

  /**
   * A line like the last section's title whose value cannot be read: what that title stated does not hold for
   * the rows that follow, and what holds is not known.
   */
  private unreadTitle(text: string): void {
    if (this.titleStart === null || startOfTitle(text) !== this.titleStart) return;
    this.facts = { ...this.facts, frequency_Hz: null, temperature_C: null };
    this.leaveBlock();
    this.section = shown(text).slice(0, 80);
  }

  /** The row of words right above the first numbers is what a person would call the header. */
  private noteLikelyHeader(texts: string[], line: number): void {
    if (isFilledWithNumbers(texts)) this.numbersMet = true;
    else if (!this.numbersMet) this.result.likelyHeader = { cells: texts, line };
  }

  /** A row under the header: true where it is one, whether it is usable or not. */
  private dataRow(cells: Cell[], texts: string[], line: number): boolean {
    const { layout, parser } = this;
    if (layout === null) return false;
    this.adoptUnits(cells, layout);
    const block = this.rowBlock;
    const row = block.room();
    const gaps: Gap[] = [];
    const precision = new Uint8Array(layout.slots.length);
    let numbers = 0;
    let words = 0;
    let marks = 0;
    for (let slot = 0; slot < layout.slots.length; slot++) {
      const { column, power } = layout.slots[slot];
      const number = numberOf(cells[column.position] ?? "", power, column, parser);
      block.data[slot][row] = number;
      if (Math.abs(number) < overRangeValue) {
        numbers++;
        if (typeof cells[column.position] === "string") precision[slot] = parser.precision;
        continue;
      }
      block.data[slot][row] = Number.NaN;
      const cell = texts[column.position] ?? "";
      const kind = Number.isNaN(number) ? markOf(cell) : "over-range";
      if (kind === "text") {
        this.watchConflict(cell, line, column.position + 1);
        words++;
      } else if (kind !== "blank") marks++;
      gaps.push({ row: 0, slot, cell, kind });
    }
    if (numbers + marks === 0) return false;
    if (words > 0 && (numbers < 2 || words >= numbers)) return false;
    if (isStatistic(texts, layout)) {
      this.skip(line, texts.join(" "), "a row of statistics, not a measured point");
      return true;
    }
    const surplus = surplusNumbers(texts, layout);
    if (surplus > 0) {
      const why = `the row holds ${surplus} more ${surplus === 1 ? "number" : "numbers"} than the header has columns`;
      this.skip(line, texts.join(" "), `${why}; is a decimal comma taken for a delimiter?`);
      return true;
    }
    if (numbers === 0) {
      this.skip(line, texts.join(" "), `no number in the row: ${whyOf(gaps[0], layout)}`);
      return true;
    }
    if (layout.sampleColumn !== null) {
      this.takeSample(shown(texts[layout.sampleColumn] ?? ""));
    }
    const labels =
      layout.labelColumns.length === 0
        ? null
        : layout.labelColumns.map(({ position }) => shown(texts[position] ?? ""));
    this.add(line, gaps.length === 0 ? null : gaps, texts[layout.methodColumn ?? -1] ?? null, labels);
    for (let slot = 0; slot < precision.length; slot++) this.notePrecision(slot, precision[slot]);
    return true;
  }

  /** Columns without a unit take the one that the cells of the first row carry: "12.5 MPa". */
  private adoptUnits(cells: Cell[], layout: Layout): void {
    if (this.block !== null && this.block.rows > 0) return;
    for (const slot of layout.slots) {
      const cell = cells[slot.column.position];
      if (slot.column.reading.unit !== null || typeof cell !== "string") continue;
      const written = numberAndUnit(cell, slot.column);
      if (written === null) continue;
      const { unit, unitText } = written;
      slot.column.reading = { ...slot.column.reading, unit, unitText };
      slot.power = slot.column.reading.logarithm === 0 && unit.before === 0 ? unit.power : 0;
    }
  }

  private watchConflict(cell: string, line: number, column: number): void {
    if (this.result.conflict !== null || !looksNumeric(cell)) return;
    if (Number.isNaN(this.other.parse(cell, 0, cell.length, 0))) return;
    this.result.conflict = { line, column, cell };
  }
}

/** The letters of a line up to its first number: "Frequency" of "Frequency: 10 Hz". */
function startOfTitle(text: string): string | null {
  const start = /^[^\p{L}\d]*\p{L}+/u.exec(text.slice(0, 80));
  return start === null ? null : start[0].toLowerCase();
}
