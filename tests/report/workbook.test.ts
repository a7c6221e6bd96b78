import { unzipSync } from "fflate";
import { describe, expect, test } from "vitest";
import { sheetRows } from "../../src/io/workbook/sheet-rows.js";
import { sharedStrings, sheetParts, workbookPath } from "../../src/io/workbook/workbook-parts.js";
import { zipEntries } from "../../src/io/workbook/zip-entries.js";
import { workbookBytes } from "../../src/report/page/tools/workbook.js";
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
    const sheet = new TextDecoder().decode(unzipSync(workbookBytes(table))["xl/worksheets/sheet1.xml"]);
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
    const { name, rows } = cellsOf(workbookBytes(named));
    expect(name).toBe("Data");
    const read = rows.slice(2).map(({ cells }) => cells[0]);
    // A name of blanks alone is an empty cell to that reader; signs that XML forbids are replaced.
    const expected = hostileNames.map((one) =>
      one.replace(/[^\t\n\r\u0020-\uffff\u{10000}-\u{10ffff}]/gu, "\ufffd"),
    );
    expect(read.map((cell) => String(cell ?? "").trim())).toEqual(expected.map((one) => one.trim()));
  });

  test("is the same for the same table", () => {
    expect(workbookBytes(table)).toEqual(workbookBytes(table));
  });
});
