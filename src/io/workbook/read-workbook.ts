import { notice, problem } from "../../words/codes/codes.js";
import type { Notice, Outcome, Problem } from "../../words/notice.js";
import { quoted } from "../../words/quoted.js";
import type { Source } from "../measure/from-source.js";
import { measurementsOf } from "../measure/measurements-of.js";
import { Rejection } from "../measure/rejection.js";
import type { FileContent } from "../measurement.js";
import type { ReadOptions } from "../read-options.js";
import { withFileName } from "../study-example.js";
import { textOf } from "../table/data-cell.js";
import { type Facts, noFacts } from "../table/facts.js";
import { type ColumnOverride, readOverrides } from "../table/header/column-override.js";
import { formatOfRows } from "../table/lines/dialect.js";
import { looksNumeric } from "../table/lines/looks-numeric.js";
import { isIgnored } from "../table/plain-rows.js";
import { Spellings } from "../table/spellings.js";
import type { TableContents } from "../table/table-contents.js";
import { TableReader } from "../table/table-reader.js";
import { tableTrouble } from "../table/table-trouble.js";
import { turnedTable } from "../table/turned.js";
import { isGenericName } from "../vocabulary/terms/generic-words.js";
import { type SheetRow, sheetRows } from "./sheet-rows.js";
import type { Budget } from "./walk-xml.js";
import { percentStyles, sharedStrings, sheetParts, workbookPath } from "./workbook-parts.js";
import { type ZipEntry, zipEntries } from "./zip-entries.js";

interface Sheet {
  name: string;
  writtenName: string;
  rows: SheetRow[];
  reading: TableContents;
}

/**
 * Reads an .xlsx workbook (ECMA-376): every sheet that holds a table gives measurements. What sheets of notes
 * state (sample, deformation) holds for the sheets that do not say otherwise.
 */
export function readWorkbook(
  bytes: Uint8Array,
  fileName: string,
  options: ReadOptions = {},
): Outcome<FileContent> {
  try {
    const outcome = read(bytes, fileName, options);
    if (!outcome.ok) return { ok: false, problem: withFileName(outcome.problem, fileName) };
    const notices = outcome.value.notices.map((notice) => withFileName(notice, fileName));
    return { ok: true, value: { ...outcome.value, notices } };
  } catch (error) {
    if (error instanceof Rejection) return { ok: false, problem: error.problem };
    throw error;
  }
}

function read(bytes: Uint8Array, fileName: string, options: ReadOptions): Outcome<FileContent> {
  const overrides = readOverrides(options.columns ?? {});
  if (!Array.isArray(overrides)) return { ok: false, problem: overrides };
  const entries = zipEntries(bytes);
  if (entries === null) {
    return failed(
      problem(
        "io.damaged-workbook",
        "The workbook is truncated or damaged: its directory, which stands at the end, is missing or broken. Copy or export it again.",
      ),
    );
  }
  const budget: Budget = { unpacked: 0 };
  const path = workbookPath(entries, budget);
  if (path === null) return failed(otherArchive(entries));
  if (path.endsWith(".bin")) return failed(otherArchive(entries));
  const all = sheetParts(entries, path, budget);
  const hidden = all.filter(({ isHidden }) => isHidden);
  const parts = hidden.length === all.length ? all : all.filter(({ isHidden }) => !isHidden);
  const strings = sharedStrings(entries, path, budget);
  const percent = percentStyles(entries, path, budget);
  const sheets: Sheet[] = parts.map(({ name, writtenName, entry }) => {
    const rows = sheetRows(entry, budget, strings, percent).filter(
      ({ line }) => !isIgnored(options.ignoreRows ?? [], line),
    );
    return { name, writtenName, rows, reading: readSheet(rows, overrides, noFacts) };
  });
  if (sheets.every(({ rows }) => rows.length === 0)) {
    return failed(
      problem(
        "io.no-sheets",
        "The workbook has no sheet with cells; expected a table of measured values. Export it again.",
      ),
    );
  }
  const names = parts === all ? [] : hidden.map(({ name }) => name);
  return measurements(sheets, names, fileName, options, overrides);
}

function failed(found: Problem): Outcome<FileContent> {
  return { ok: false, problem: found };
}

/** A sheet as it stands, or turned where its quantities stand in rows. */
function readSheet(rows: SheetRow[], overrides: ColumnOverride[], facts: Facts): TableContents {
  const reading = readRows(rows, overrides, facts);
  if (tableTrouble(reading) === null) return reading;
  const turned = turnedTable(rows, (turnedRows) => readRows(turnedRows, overrides, facts));
  turned?.spellings.addAll(reading.spellings);
  return turned ?? reading;
}

function readRows(rows: SheetRow[], overrides: ColumnOverride[], facts: Facts): TableContents {
  const reader = new TableReader(formatOfRows(rows.map(({ cells }) => cells)), overrides, facts);
  let previous = 0;
  for (const { line, cells, written } of rows) {
    // Rows that the file leaves out are blank.
    if (line > previous + 1) reader.blankLine();
    const asWritten =
      written === undefined ? null : cells.map((cell, place) => written.get(place) ?? textOf(cell));
    if (!reader.numberRow(cells, line)) reader.row(cells, line, undefined, asWritten);
    previous = line;
  }
  return reader.finish();
}

function measurements(
  sheets: Sheet[],
  hidden: string[],
  fileName: string,
  options: ReadOptions,
  overrides: ColumnOverride[],
): Outcome<FileContent> {
  const holds = ({ reading }: Sheet) => reading.blocks.some(({ rows }) => rows > 0);
  const tables = sheets.filter((sheet) => holds(sheet) || sheet.reading.problems.length > 0);
  if (tables.length === 0) return failed(noTable(sheets));
  const shared = sharedFacts(sheets.filter((sheet) => !tables.includes(sheet)));
  const notices: Notice[] = [];
  if (hidden.length > 0) {
    const names = hidden.map((name) => quoted(name)).join(", ");
    const message = `Hidden and passed over: ${hidden.length === 1 ? "sheet" : "sheets"} ${names}. Show a sheet that is to be read, and save the workbook.`;
    notices.push(notice("io.sheet-hidden", message));
  }
  const sources = tables.map((sheet): Source => {
    const reading = shared === null ? sheet.reading : readSheet(sheet.rows, overrides, shared);
    const stated = options.sample !== undefined || reading.facts.sample !== null;
    const isNamed = tables.length > 1 && !stated && !isGenericName(sheet.name);
    const columns = reading.blocks.some(({ layout }) => layout.sampleColumn !== null);
    if (isNamed && !columns) {
      notices.push(
        notice(
          "io.sample-from-sheet",
          `Sheet ${quoted(sheet.name)} states no sample; the sheet's name was taken for it.`,
        ),
      );
    }
    return { reading, sheet: sheet.name, fallbackSample: isNamed ? sheet.name : null };
  });
  for (const { name, reading } of sheets) {
    const { conflict } = reading;
    if (conflict === null) continue;
    return failed(
      problem(
        "io.decimal-marks-differ",
        `Sheet ${quoted(name)}: ${quoted(conflict.cell)} does not fit the decimal mark of the other numbers written as text; expected one mark. ` +
          "Turn the cells into numbers.",
        conflict.line,
        conflict.column,
      ),
    );
  }
  const spellings = new Spellings();
  for (const { writtenName, reading } of sheets) {
    spellings.note(writtenName);
    spellings.addAll(reading.spellings);
  }
  return measurementsOf(sources, {
    fileName,
    spellings,
    options,
    overrides,
    encoding: "workbook",
    delimiter: "workbook cells",
    decimalMark: markOfText(sheets),
    doubt: null,
    notices,
  });
}

/** Numbers in a workbook have no mark, but those that are held as text do. */
function markOfText(sheets: Sheet[]): "." | "," | null {
  for (const { rows } of sheets) {
    const written: string[] = [];
    for (const { cells } of rows)
      for (const cell of cells) if (typeof cell === "string" && looksNumeric(cell)) written.push(cell);
    if (written.some((cell) => /[.,]/.test(cell))) return formatOfRows([written]).decimal === 44 ? "," : ".";
  }
  return null;
}

/** What sheets without a table state, ranked below what a sheet says of itself. */
function sharedFacts(notes: Sheet[]): Facts | null {
  let shared: Facts | null = null;
  for (const { reading } of notes) {
    const { facts } = reading;
    if (
      facts.sample === null &&
      facts.deformation === null &&
      facts.method === null &&
      facts.frequency === null
    )
      continue;
    const base: Facts = shared ?? noFacts;
    shared = {
      ...base,
      sample: base.sample ?? facts.sample,
      sampleRank: 90,
      deformation: base.deformation ?? facts.deformation,
      deformationRank: 90,
      method: base.method ?? facts.method,
      methodRank: 90,
      frequency: base.frequency ?? facts.frequency,
      heatingRate_K_min: base.heatingRate_K_min ?? facts.heatingRate_K_min,
    };
  }
  return shared;
}

function noTable(sheets: Sheet[]): Problem {
  const troubles = sheets
    .filter(({ rows }) => rows.length > 0)
    .map(({ name, reading }) => ({ name, trouble: tableTrouble(reading) }));
  const [first] = troubles.filter(
    ({ trouble }) => trouble?.code !== "io.no-known-column" || trouble.line !== undefined,
  );
  const chosen = first ?? troubles[0];
  const names = sheets.map(({ name }) => quoted(name, 30)).join(", ");
  return {
    ...chosen.trouble!,
    message: `No sheet of the workbook (${names}) holds a table that can be read. Sheet ${quoted(chosen.name)}: ${chosen.trouble!.message}`,
  };
}

function otherArchive(entries: Map<string, ZipEntry>): Problem {
  const has = (part: string) => [...entries.keys()].some((name) => name.startsWith(part));
  if (has("content.xml") || has("xl/workbook.bin")) {
    return problem(
      "io.other-workbook",
      "This is a spreadsheet in another format (.ods or .xlsb); expected an .xlsx workbook or delimited text. Save it as .xlsx or .csv.",
    );
  }
  if (has("word/") || has("ppt/")) {
    return problem(
      "io.document",
      "This is a text document or a presentation; expected an .xlsx workbook or delimited text. Export the measured values.",
    );
  }
  return problem(
    "io.archive",
    "This is a zip archive without a workbook in it; expected an .xlsx workbook or delimited text. Unpack it and give the files inside.",
  );
}
