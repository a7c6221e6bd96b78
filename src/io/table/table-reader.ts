import { notice } from "../../words/codes/codes.js";
import { quoted, shown } from "../../words/quoted.js";
import { isRepeatable, isResponse, type Quantity } from "../vocabulary/quantities.js";
import { isGenericName } from "../vocabulary/terms/generic-words.js";
import { otherContextOf } from "../vocabulary/terms/other-contexts.js";
import { namesStatistic } from "../vocabulary/terms/qualifiers.js";
import { scaleByPower } from "../vocabulary/units.js";
import { Block, type Gap } from "./block.js";
import {
  type Cell,
  holdsNoOneNumber,
  isFilledWithNumbers,
  isStatistic,
  numberAndUnit,
  numberOf,
  surplusNumbers,
  textOf,
  whyOf,
} from "./data-cell.js";
import { afterRows, type Facts, noFacts, type Statement, withStatements } from "./facts.js";
import { rememberedHeader } from "./header/column.js";
import type { ColumnOverride } from "./header/column-override.js";
import type { Layout } from "./header/layout.js";
import { isCorner, isStandard } from "./header/pivot-header.js";
import { headerScore } from "./header/read-header-row.js";
import { TableHeader } from "./header/table-header.js";
import { markOf } from "./lines/cell-mark.js";
import {
  commaFormat,
  type NumberFormat,
  NumberParser,
  overRangeValue,
  pointFormat,
} from "./lines/number-format.js";
import { numberWritten } from "./lines/plainly-written.js";
import { readStatements } from "./read-statements.js";
import { emptyReading, type TableContents } from "./table-contents.js";

/** Signs of a bare line that may be a title, its lines and stars among them. */
const longestTitle = 300;

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
  private readonly result: TableContents;
  /** Cells of the row at hand as they are written, where that is not as they are shown. */
  private written: string[] | null = null;
  private carriedDown = 0;
  private numbersMet = false;
  /** How the last line that stated a frequency or a temperature began. */
  private titleStart: string | null = null;
  /** A bare line of words that may name the rows below it. */
  private title: { text: string; line: number } | null = null;
  /** Names met in the column of samples, the last few. */
  readonly samples: string[] = [];
  /** The last bare line above the first header. */
  private topTitle: { text: string; line: number } | null = null;
  /** One that stands under the first header, or right above it. */
  private firstTitle: { name: string | null; line: number } | null = null;
  private isFirstLine = true;
  /** Whether rows or a header have come since the last line that stated something. */
  private isPreambleOver = false;

  constructor(format: NumberFormat, overrides: ColumnOverride[], startingFacts: Facts = noFacts) {
    this.header = new TableHeader(overrides);
    this.parser = new NumberParser(format);
    const other = format.decimal === 44 ? pointFormat : commaFormat;
    this.other = new NumberParser({ ...other, thousands: 0 });
    this.facts = startingFacts;
    this.result = emptyReading(startingFacts);
  }

  /** Whether the next row may be the first under a bare title, and is to be looked at with care. */
  get hasTitle(): boolean {
    return this.title !== null;
  }

  get isHeaderMet(): boolean {
    return this.header.count > 0;
  }

  /** A blank line ends a run of header rows and parts blocks of one table. */
  blankLine(): void {
    if (this.block !== null && this.block.rows > 0) this.leaveBlock();
    this.sectionOpen = false;
  }

  /**
   * A row of a sheet that holds numbers and nothing else, read without a look at it as words.
   * @returns false where it is no such row, or the table asks for more
   */
  numberRow(cells: readonly Cell[], line: number): boolean {
    const { layout } = this;
    if (layout === null || this.title !== null || cells.length > layout.columns.length) return false;
    if (layout.sampleColumn !== null || layout.methodColumn !== null || layout.labelColumns.length > 0)
      return false;
    for (const cell of cells) if (typeof cell !== "number" && cell !== "") return false;
    const block = this.rowBlock;
    const row = block.room();
    for (let slot = 0; slot < layout.slots.length; slot++) {
      const { column, power } = layout.slots[slot];
      const cell = cells[column.position];
      if (typeof cell !== "number") return false;
      const value = power === 0 ? cell : scaleByPower(cell, power);
      if (!(Math.abs(value) < overRangeValue)) return false;
      block.data[slot][row] = value;
    }
    this.add(line);
    return true;
  }

  /**
   * Any row that is not known to be plain numbers. `statementCells` where a line of words splits otherwise, `written`
   * where its cells are not written as they are shown.
   */
  row(cells: Cell[], line: number, statementCells?: string[], written: string[] | null = null): void {
    this.written = written;
    for (const cell of written ?? []) if (/[^\d.,+-]/.test(cell)) this.result.spellings.note(cell);
    const texts = cells.map(textOf);
    if (texts.every((cell) => cell === "")) {
      this.blankLine();
      return;
    }
    if (!this.isTitle(texts) && this.header.takeSubheader(texts, line)) return;
    if (this.layout !== null && !isCorner(texts[0]) && this.dataRow(cells, texts, line)) return;
    const isOfMode = statesMode(readStatements(texts, this.parser.format));
    if (!isOfMode && this.header.take(texts, line)) {
      this.startTable();
      if (this.topTitle !== null && this.header.count === 1 && line - this.topTitle.line <= 2)
        this.firstTitle = { name: nameOfTitle(this.topTitle.text), line: this.topTitle.line };
      return;
    }
    const isRow =
      isFilledWithNumbers(cells) ||
      this.header.holdsRow(texts, true) ||
      (this.header.holdsRow(texts, false) && readStatements(texts, this.parser.format).length === 0);
    if (isRow) {
      if (this.header.status === "open" && this.settle(texts) && this.dataRow(cells, texts, line)) return;
      if (this.header.status === "dead") return;
      const isTaken = this.header.takeByNumber(texts, line) || this.header.takeCornerless(texts);
      if (isTaken && this.settle(texts) && this.dataRow(cells, texts, line)) return;
    }
    const isStatement = this.words(texts, line, statementCells ?? texts);
    this.isFirstLine = false;
    // "Frequency: 10 Hz" names no columns, but "Sample; Birch 60; ; Rowan W" may.
    const filled = texts.filter((cell) => cell !== "");
    const isTitle = filled.length === 1 || (filled.length === 2 && isStandard(filled[1]));
    const isQuantity = isTitle && isResponseName(filled[0]);
    if (isOfMode || (isStatement && filled.length < 3 && !isQuantity)) this.header.forget();
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
    this.isPreambleOver = true;
    this.isFirstLine = false;
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

  /**
   * Takes the sample of a row; a row without one goes with the sample above.
   * @param written the name as the file writes it, where that is known not to be kept yet
   */
  takeSample(name: string, written: string | null = null): void {
    if (name !== "") {
      if (written !== null) this.result.spellings.note(written);
      if (name !== this.sample) this.noteSample(name);
    } else if (this.sample !== "") this.carriedDown++;
  }

  private noteSample(name: string): void {
    this.sample = name;
    if (this.samples.length > 50) this.samples.shift();
    if (!this.samples.includes(name)) this.samples.push(name);
  }

  finish(): TableContents {
    const { result } = this;
    this.settle(null);
    result.facts = this.facts;
    result.headers = this.header.count;
    if (this.carriedDown > 0) {
      const rows = this.carriedDown === 1 ? "1 row has" : `${this.carriedDown} rows have`;
      result.notices.push(
        notice("io.sample-carried-down", `${rows} no sample's name and went with the sample above.`),
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
      this.isPreambleOver = true;
      this.sectionOpen = false;
    }
    return block;
  }

  private leaveBlock(): void {
    this.block = null;
    this.isEntered = false;
  }

  /** Settles the open header into a layout; false where its table cannot be read. */
  private settle(firstRow: string[] | null): boolean {
    const layout = this.header.settle(firstRow);
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
    let said = readStatements(statementCells, this.parser.format);
    if (said.length === 0 && statementCells !== texts) said = readStatements(texts, this.parser.format);
    const statements = this.believed(said, line);
    const text = statementCells.filter((cell) => cell !== "").join(" ");
    if (statements.length === 0) {
      const filled = texts.filter((cell) => cell !== "").length;
      if (this.header.status === "settled") {
        this.skip(line, text, this.whyNotRead(said));
        this.unreadTitle(text);
      } else if (this.header.status === "none" && filled >= 2 && said.length === 0)
        this.noteLikelyHeader(texts, line);
      if (said.length === 0) this.keepTitle(filled === 1 || statementCells.length === 1 ? text : null, line);
      this.headingSample(texts, this.layout === null ? this.header.sampleColumn : this.layout.sampleColumn);
      return said.length > 0;
    }
    // "sample,temperature_C,quantity,value" reads as a name and its value too.
    if (this.header.status === "none" && headerScore(texts) >= 2) this.noteLikelyHeader(texts, line);
    if (statements.every(({ about }) => about === "remark")) return true;
    if (this.isPreambleOver) this.facts = afterRows(this.facts);
    this.isPreambleOver = false;
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
    // "The door was opened." above a new frequency was a remark.
    if (isSample || (this.title !== null && !looksLikeName(this.title.text))) this.title = null;
    if (isSample) this.sample = "";
    return true;
  }

  /** What is taken of a line's statements: what only words mention holds in a title, not in any line. */
  private believed(said: readonly Statement[], line: number): Statement[] {
    const { said: list, blocks } = this.result;
    const isTitle = this.isFirstLine || (this.isPreambleOver && blocks.length > 0);
    const isMention = (one: Statement) =>
      "how" in one && one.how === "mentioned" ? true : one.about === "sample" && one.rank === 4;
    const statements: Statement[] = [];
    for (const one of said) {
      if (one.about !== "passed over" && (isTitle || !isMention(one))) statements.push(one);
      if (list.length >= mostSaid || one.about === "remark" || one.about === "section") continue;
      if (isTitle || !isMention(one)) list.push({ line, statement: one });
      else if (one.about === "frequency" || one.about === "temperature") {
        const text = one.about === "frequency" ? `${one.value} Hz` : `${one.value} °C`;
        list.push({
          line,
          statement: { about: "passed over", text, why: "in words that do not name it as the test's" },
        });
      }
    }
    return statements;
  }

  private whyNotRead(said: readonly Statement[]): string {
    const [passed] = said;
    return passed?.about === "passed over"
      ? `not taken: ${passed.why}`
      : "neither numbers under the header nor a header";
  }

  /** Keeps a bare line of words: if the rows begin anew under it, it names what they are of. */
  private keepTitle(text: string | null, line: number): void {
    // No title is as long, and looking for its end would take the square of its length.
    if (text === null || text.length > longestTitle || this.layout?.sampleColumn != null) return;
    const bare = shown(text.replace(/^[\s#*%!=\-–—_/[\]]+|[\s#*=\-–—_:;,[\]]+$/g, ""));
    if (bare === "" || bare.length > 80 || !/\p{L}/u.test(bare)) return;
    if (this.header.count > 0) this.title = { text: bare, line };
    else this.topTitle = { text: bare, line };
  }

  /**
   * Settles what a bare line above a row was. Where the rows begin anew under it, they are of another sample, or of
   * another run of it; where they go on, it was a remark. True where a new block begins.
   */
  private settleTitle(layout: Layout, values: number[]): boolean {
    const title = this.title!;
    this.title = null;
    const name = nameOfTitle(title.text);
    const before = this.result.blocks.at(-1);
    if (before === undefined) {
      // Under the first header: a name only if others like it follow.
      this.firstTitle = { name, line: title.line };
      return false;
    }
    if (!beginsAnew(before, layout, values)) return false;
    this.facts = afterRows(this.facts);
    this.isPreambleOver = false;
    if (name !== null) {
      this.facts = {
        ...this.facts,
        sample: name,
        sampleRank: 3,
        lines: { ...this.facts.lines, sample: title.line },
      };
      if (this.firstTitle?.name != null) {
        const { name: first, line } = this.firstTitle;
        for (const block of this.result.blocks) {
          if (block.facts.sample === null)
            block.facts = { ...block.facts, sample: first, lines: { ...block.facts.lines, sample: line } };
        }
        this.tellTitle(first, line);
      }
      this.tellTitle(name, title.line);
    }
    this.firstTitle = null;
    this.leaveBlock();
    this.section = title.text;
    return true;
  }

  private tellTitle(name: string, line: number): void {
    this.result.skipped.take(line);
    const message = `Rows begin anew under the line ${line} (${quoted(name)}), which was taken for the sample's name.`;
    this.result.notices.push(notice("io.sample-from-title", message));
  }

  /** A name that stands alone in the column of samples, over the rows below it. */
  private headingSample(texts: string[], sampleColumn: number | null): void {
    if (sampleColumn === null) return;
    const name = shown(texts[sampleColumn] ?? "");
    const isAlone = texts.every((cell, i) => cell === "" || i === sampleColumn);
    if (name === "" || namesStatistic(name, true, this.samples)) return;
    // "door left open" beside an operator's name is a remark; a name looks like the others.
    if (isAlone || /\d/.test(name) || !/^\p{Ll}/u.test(name)) this.noteSample(name);
  }

  /**
   * A line like the last section's title whose value cannot be read: what that title stated does not hold for
   * the rows that follow, and what holds is not known.
   */
  private unreadTitle(text: string): void {
    if (this.titleStart === null || startOfTitle(text) !== this.titleStart) return;
    this.facts = { ...this.facts, frequency: null, temperature: null };
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
    let block = this.rowBlock;
    let row = block.room();
    const gaps: Gap[] = [];
    const precision = new Uint8Array(layout.slots.length);
    let numbers = 0;
    let words = 0;
    let marks = 0;
    for (let slot = 0; slot < layout.slots.length; slot++) {
      const { column, power, quantity } = layout.slots[slot];
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
        if (isRepeatable(quantity) && holdsNoOneNumber(cell)) marks++;
        else words++;
      } else if (kind !== "blank") marks++;
      gaps.push({ row: 0, slot, cell, kind });
    }
    if (numbers + marks === 0) return false;
    if (isStatistic(texts, layout, this.samples)) {
      this.skip(line, texts.join(" "), "a row of statistics, not a measured point");
      return true;
    }
    const isWordy = words > 0 && (numbers < 2 || words >= numbers);
    if (isWordy && (layout.sampleColumn === null || readStatements(texts, parser.format).length > 0))
      return false;
    // Taken before it is decided to leave the row out: the rows below go with it all the same.
    const surplus = surplusNumbers(texts, layout);
    // Which cell of a row of too many is the name cannot be told, so the rows below have none.
    if ((layout.sampleColumn ?? 0) > 0 && surplus > 0) this.sample = "";
    else if (layout.sampleColumn !== null) {
      const name = shown(texts[layout.sampleColumn] ?? "");
      this.takeSample(name, this.written === null ? name : null);
    }
    if (isWordy) {
      this.skip(line, texts.join(" "), whyOf(gaps.find(({ kind }) => kind === "text")!, layout));
      return true;
    }
    if (surplus > 0) {
      const why = `the row holds ${surplus} more ${surplus === 1 ? "number" : "numbers"} than the header has columns`;
      this.skip(line, texts.join(" "), `${why}; is a decimal comma taken for a delimiter?`);
      return true;
    }
    if (numbers === 0) {
      this.skip(line, texts.join(" "), `no number in the row: ${whyOf(gaps[0], layout)}`);
      return true;
    }
    if (this.title !== null) {
      const values = layout.slots.map((_, slot) => block.data[slot][row]);
      if (this.settleTitle(layout, values)) {
        block = this.rowBlock;
        row = block.room();
        for (let slot = 0; slot < values.length; slot++) block.data[slot][row] = values[slot];
      }
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
    if (this.result.conflict !== null) return;
    const number = numberWritten(cell);
    if (number === null || !Number.isNaN(this.parser.parse(number, 0, number.length, 0))) return;
    if (Number.isNaN(this.other.parse(number, 0, number.length, 0))) return;
    this.result.conflict = { line, column, cell };
  }
}

const swept = new Set<Quantity>([
  "temperature",
  "set temperature",
  "frequency",
  "angular frequency",
  "strain amplitude",
  "double strain amplitude",
]);

/** Whether a row lies nearer to the first than to the last row of a block in what the block varies. */
function beginsAnew(before: Block, layout: Layout, values: number[]): boolean {
  let isVaried = false;
  for (const [slot, { quantity }] of layout.slots.entries()) {
    const own = before.layout.slots.findIndex((one) => one.quantity === quantity);
    if (!swept.has(quantity) || own < 0 || Number.isNaN(values[slot])) continue;
    const first = before.data[own][0];
    const last = before.data[own][before.rows - 1];
    if (before.rows > 1 && !(Math.abs(last - first) > 0)) continue;
    isVaried = true;
    if (Math.abs(values[slot] - first) <= 0.5 * Math.abs(values[slot] - last)) return true;
  }
  return !isVaried;
}

/** The name in a bare title, without the word that says what it is; null where it says how something was measured. */
function nameOfTitle(whole: string): string | null {
  const title = whole.replace(
    /^(?:results?|data|measurements?|ergebnisse?|messwerte|daten|résultats|données|resultados|datos|risultati|dati|dados) (?:of|for|from|von|für|zu|de|du|pour|para|di|per):? (?=\S)/iu,
    "",
  );
  if (isGenericName(title) || otherContextOf(title) !== null || isResponseName(title)) return null;
  const words = title.split(" ");
  for (let count = Math.min(3, words.length - 1); count > 0; count--) {
    const { quantity, certain } = rememberedHeader(words.slice(0, count).join(" "));
    if (certain && (quantity === "sample" || quantity === "name")) return words.slice(count).join(" ");
  }
  return title;
}

/** "Deformation; tensile": two words that name columns too, and do not here. */
function statesMode(statements: readonly Statement[]): boolean {
  return statements.length > 0 && statements.every(({ about }) => about === "deformation");
}

/** "Rebound resilience (%) to ISO 4662": a title that names the quantity of the cells below. */
function isResponseName(text: string): boolean {
  const { quantity } = rememberedHeader(text);
  return quantity !== null && isResponse(quantity);
}

/** One to four words that are no sentence. */
function looksLikeName(text: string): boolean {
  return text.split(" ").length <= 4 && !/[.!?]$/.test(text);
}

/** Lines kept of what was said and what was passed over. */
const mostSaid = 400;

/** The letters of a line up to its first number: "Frequency" of "Frequency: 10 Hz". */
function startOfTitle(text: string): string | null {
  const start = /^[^\p{L}\d]*\p{L}+/u.exec(text.slice(0, 80));
  return start === null ? null : start[0].toLowerCase();
}
