import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { unzipSync } from "fflate";
import { describe, expect, test } from "vitest";
import { sheetRows } from "../../src/io/workbook/sheet-rows.js";
import { sharedStrings, sheetParts, workbookPath } from "../../src/io/workbook/workbook-parts.js";
import { zipEntries } from "../../src/io/workbook/zip-entries.js";
import { type WorkbookCell, workbookBytes } from "../../src/report/tables/workbook.js";
import { quickExport } from "../faults/make/quick-export.js";
import { runCli } from "../make/run-cli.js";
import { hostileNames } from "./hostile-names.js";

const table = {
  columns: ["Compound", "Temperature in °C", "Grip µ"],
  rows: [
    ["Birch 60", -5.06, 0.30000000000000004],
    ["=1+1", null, 1e-28],
    ["a < b & c", 6.28, Number.NaN],
  ],
  remarks: ["from a.csv"],
};

const sheetOf = ({
  columns,
  rows,
  remarks,
}: {
  columns: string[];
  rows: WorkbookCell[][];
  remarks: string[];
}) => ({
  name: "Data",
  rows: [...remarks.map((remark) => [remark]), columns, ...rows],
});

/** The cells as the program's own reader of workbooks finds them. */
function cellsOf(bytes: Uint8Array) {
  const entries = zipEntries(bytes)!;
  const budget = { unpacked: 0 };
  const path = workbookPath(entries, budget)!;
  const [{ name, entry }] = sheetParts(entries, path, budget);
  const rows = sheetRows(entry, budget, sharedStrings(entries, path, budget), new Set());
  return { name, rows };
}

describe("the data of a plot as a workbook", () => {
  test("holds texts and numbers as what they are, in full", () => {
    const sheet = new TextDecoder().decode(
      unzipSync(workbookBytes([sheetOf(table)]))["xl/worksheets/sheet1.xml"],
    );
    const cells = [...sheet.matchAll(/<c r="(\w+)"(?: t="(\w+)")?>(?:<v>([^<]*)|<is><t[^>]*>([^<]*))/g)].map(
      ([, at, type, number, text]) => [at, type ?? "number", number ?? text],
    );
    expect(cells).toEqual([
      ["A1", "inlineStr", "from a.csv"],
      ["A2", "inlineStr", "Compound"],
      ["B2", "inlineStr", "Temperature in °C"],
      ["C2", "inlineStr", "Grip µ"],
      ["A3", "inlineStr", "Birch 60"],
      ["B3", "number", "-5.06"],
      ["C3", "number", "0.30000000000000004"],
      ["A4", "inlineStr", "=1+1"],
      ["C4", "number", "1e-28"],
      ["A5", "inlineStr", "a &lt; b &amp; c"],
      ["B5", "number", "6.28"],
    ]);
  });

  test("is read by the program's own reader of workbooks, whatever a compound is called", () => {
    const named = { ...table, rows: hostileNames.map((name, i) => [name, i, null]) };
    const { name, rows } = cellsOf(workbookBytes([sheetOf(named)]));
    expect(name).toBe("Data");
    const read = rows.slice(2).map(({ cells }) => cells[0]);
    // A name of blanks alone is an empty cell to that reader; signs that XML forbids are replaced.
    const expected = hostileNames.map((one) =>
      one.replace(/[^\t\n\r\u0020-\uffff\u{10000}-\u{10ffff}]/gu, "\ufffd"),
    );
    expect(read.map((cell) => String(cell ?? "").trim())).toEqual(expected.map((one) => one.trim()));
  });

  test("is the same for the same table", () => {
    expect(workbookBytes([sheetOf(table)])).toEqual(workbookBytes([sheetOf(table)]));
  });
});

test("assess --format xlsx writes every table as a sheet, numbers as numbers", () => {
  const folder = mkdtempSync(join(tmpdir(), "frostline-workbook-"));
  try {
    writeFileSync(join(folder, "a.csv"), quickExport(1));
    const run = runCli([
      "assess",
      join(folder, "a.csv"),
      "--out",
      join(folder, "out"),
      "--quiet",
      "--format",
      "xlsx",
    ]);
    expect(run).toMatchObject({ status: 0, stderr: "" });
    const tables = readdirSync(join(folder, "out", "tables")).filter((name) => name.endsWith(".csv"));
    const parts = unzipSync(readFileSync(join(folder, "out", "tables", "all-tables.xlsx")));
    const text = (path: string) => new TextDecoder().decode(parts[path]);
    const sheets = [...text("xl/workbook.xml").matchAll(/sheet name="([^"]+)"/g)].map(([, name]) => name);
    expect(sheets.map((name) => `${name}.csv`).sort()).toEqual(
      tables.filter((name) => name !== "files.csv").sort(),
    );
    const outlooks = text(`xl/worksheets/sheet${sheets.indexOf("outlooks") + 1}.xml`);
    expect(outlooks).toMatch(/<c r="C2"><v>23<\/v><\/c>/);
  } finally {
    rmSync(folder, { recursive: true });
  }
});
