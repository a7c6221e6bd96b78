import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { csvText } from "../../src/report/tables/csv.js";

const text = (...cells: (string | number | null | boolean)[]) =>
  csvText({ name: "t.csv", header: ["a"], rows: [cells] }).split("\r\n")[1];

describe("csvText", () => {
  it.each(["=1+1", "+1", "-1+2", "@SUM(A1)", "\t=1", "\r=1", " =1", "＝1", "-cmd|' /C calc'!A0"])(
    "no cell starts a formula: %j",
    (cell) => {
      const [[read]] = Papa.parse<string[]>(text(cell), { delimiter: "," }).data;
      expect(read).toBe(`'${cell}`);
    },
  );

  it("numbers stay numbers, also negative ones, in full precision", () => {
    expect(text(-38.12345678901234, 1e-7, 0.1 + 0.2)).toBe("-38.12345678901234,1e-7,0.30000000000000004");
  });

  it("what is not finite, null or missing is an empty cell", () => {
    expect(text(Number.NaN, Number.POSITIVE_INFINITY, null)).toBe(",,");
  });

  it("a comma, a quote or a line break inside a cell survives (RFC 4180)", () => {
    const cells = ['Birch, 60 "A"', "two\nlines"];
    expect(Papa.parse<string[]>(text(...cells), { delimiter: "," }).data[0]).toEqual(cells);
  });

  it("opens as UTF-8 in a spreadsheet: byte order mark, CRLF", () => {
    const csv = csvText({ name: "t.csv", header: ["°C", "µm"], rows: [] });
    expect(csv).toBe("\uFEFF°C,µm\r\n");
  });
});
