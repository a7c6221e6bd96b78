import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import type { DynamicMeasurement, ReboundMeasurement } from "../../src/io/measurement.js";
import { readBytes } from "../../src/io/read-bytes.js";

const main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const packages = "http://schemas.openxmlformats.org/package/2006/relationships";

/** A minimal workbook (ECMA-376): `sheets` gives the XML inside each worksheet element. */
function workbook(
  sheets: Record<string, string>,
  others: Record<string, string> = {},
  states: Record<string, "hidden" | "veryHidden"> = {},
): Uint8Array {
  const names = Object.keys(sheets);
  const state = (name: string) => (states[name] === undefined ? "" : ` state="${states[name]}"`);
  const relation = (id: number, type: string, target: string) =>
    `<Relationship Id="r${id}" Type="${office}/${type}" Target="${target}"/>`;
  const parts: Record<string, string> = {
    "_rels/.rels": `<Relationships xmlns="${packages}">${relation(1, "officeDocument", "xl/workbook.xml")}</Relationships>`,
    "xl/workbook.xml": `<workbook xmlns="${main}" xmlns:r="${office}"><sheets>${names
      .map((name, i) => `<sheet name="${name}" sheetId="${i + 1}"${state(name)} r:id="r${i + 1}"/>`)
      .join("")}</sheets></workbook>`,
    "xl/_rels/workbook.xml.rels": `<Relationships xmlns="${packages}">${names
      .map((_, i) => relation(i + 1, "worksheet", `worksheets/sheet${i + 1}.xml`))
      .join(
        "",
      )}${relation(98, "styles", "styles.xml")}${relation(99, "sharedStrings", "sharedStrings.xml")}</Relationships>`,
    ...others,
  };
  names.forEach((name, i) => {
    parts[`xl/worksheets/sheet${i + 1}.xml`] = `<worksheet xmlns="${main}">${sheets[name]}</worksheet>`;
  });
  return zipSync(Object.fromEntries(Object.entries(parts).map(([path, xml]) => [path, strToU8(xml)])), {
    mtime: new Date(1980, 0, 1),
  });
}

type Value = string | number | null | { xml: string };

const letter = (i: number) => String.fromCharCode(65 + i);

function cell(value: Value, reference: string): string {
  if (value === null) return "";
  if (typeof value === "number") return `<c r="${reference}"><v>${value}</v></c>`;
  if (typeof value === "string") {
    const text = value.replace(/&/g, "&amp;").replace(/</g, "&lt;");
    return `<c r="${reference}" t="inlineStr"><is><t>${text}</t></is></c>`;
  }
  return value.xml.replace("REF", reference);
}

function rows(table: Value[][], from = 1): string {
  const list = table.map((cells, i) => {
    const line = from + i;
    return `<row r="${line}">${cells.map((value, j) => cell(value, `${letter(j)}${line}`)).join("")}</row>`;
  });
  return `<sheetData>${list.join("")}</sheetData>`;
}

const row1 = (cells: Value[]) => /<row.*<\/row>/s.exec(rows([cells]))![0];

const header = ["Temperature (°C)", "Frequency (Hz)", "E' (MPa)", "tan δ"];
const sweep = (count = 6): Value[][] =>
  Array.from({ length: count }, (_, i) => [-60 + 10 * i, 10, 1000 - 100 * i, 0.1]);

async function read(bytes: Uint8Array) {
  const outcome = await readBytes(bytes, "invented.xlsx");
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problem));
  return outcome.value;
}

const problemOf = async (bytes: Uint8Array) => {
  const outcome = await readBytes(bytes, "invented.xlsx");
  return outcome.ok ? null : outcome.problem;
};

describe("workbooks", () => {
  it("a sheet of notes speaks for the others, a sheet for itself", async () => {
    const { measurements } = await read(
      workbook({
        Notes: rows([
          ["Sample", "Birch 60"],
          ["Mode", "tension"],
        ]),
        One: rows([header, ...sweep()]),
        Two: rows([["Sample", "Rowan W"], header, ...sweep()]),
      }),
    );
    const found = measurements.map(({ sample, provenance }) => [provenance.sheet, sample]);
    expect(found).toEqual([
      ["One", "Birch 60"],
      ["Two", "Rowan W"],
    ]);
    expect((measurements as DynamicMeasurement[]).map(({ deformation }) => deformation)).toEqual([
      "tension",
      "tension",
    ]);
  });

  it("sheets that bear the samples' names, and none that bears a test's", async () => {
    const { measurements, notices } = await read(
      workbook({
        "Birch 60": rows([header, ...sweep()]),
        "Rowan W": rows([header, ...sweep()]),
        Sheet3: rows([header, ...sweep()]),
      }),
    );
    expect(measurements.map(({ sample }) => sample)).toEqual(["Birch 60", "Rowan W", null]);
    expect(notices.filter(({ code }) => code === "io.sample-from-sheet").length).toBe(2);
  });

  it("a long sheet of plain rows with odd ones between them loses none", async () => {
    const count = 9000;
    const plain = (i: number, cells: string) => `<row r="${i + 2}" spans="1:5">${cells}</row>`;
    const numbers = (i: number, from = 0) =>
      [-60 + i / 100, 10, 5 + i / 1000, 0.125]
        .map((value, j) => (j < from ? "" : `<c r="${letter(j)}${i + 2}"><v>${value}</v></c>`))
        .join("");
    const odd = [
      (i: number) => plain(i, `<c r="A${i + 2}" t="str"><v>${-60 + i / 100}</v></c>${numbers(i, 1)}`),
      (i: number) => plain(i, `<c r="A${i + 2}"><f>1+1</f><v>${-60 + i / 100}</v></c>${numbers(i, 1)}`),
      (i: number) =>
        `<!-- </row> --><row r="${i + 2}">${numbers(i)}<c r="E${i + 2}" t="inlineStr"><is><t>ok &lt;1&gt;</t></is></c></row>`,
      (i: number) => `\n  ${plain(i, `${numbers(i)}<c r="E${i + 2}" s="0"/>`)}`,
    ];
    const body = Array.from({ length: count }, (_, i) =>
      i % 7 === 3 ? odd[((i / 7) % 4) | 0](i) : plain(i, numbers(i)),
    );
    for (const comments of [true, false]) {
      const list = comments ? body : body.map((row) => row.replace("<!-- </row> -->", ""));
      const sheet = `<sheetData>${row1([...header, "Remark"])}${list.join("")}</sheetData>`;
      const { measurements } = await read(workbook({ Data: sheet }));
      const [one] = measurements as DynamicMeasurement[];
      expect(measurements.length).toBe(1);
      expect(one.temperature_C.length).toBe(count);
      for (let i = 0; i < count; i += 101) {
        expect(one.temperature_C[i]).toBe(-60 + i / 100);
        expect(one.storageModulus_Pa[i]).toBeCloseTo((5 + i / 1000) * 1e6, 3);
      }
    }
  });

  it("hidden sheets are passed over and named", async () => {
    const { measurements, notices } = await read(
      workbook(
        {
          Data: rows([["Sample", "Birch 60"], header, ...sweep()]),
          "Old run": rows([["Sample", "Rowan W"], header, ...sweep()]),
          Constants: rows([["Frequency", "2000 Hz"]]),
        },
        {},
        { "Old run": "hidden", Constants: "veryHidden" },
      ),
    );
    expect(measurements.map(({ sample, provenance }) => [sample, provenance.sheet])).toEqual([
      ["Birch 60", "Data"],
    ]);
    const told = notices.filter(({ code }) => code === "io.sheet-hidden");
    expect(told.length).toBe(1);
    expect(told[0].message).toMatch(/Old run.*Constants/);
  });

  it("a workbook of hidden sheets alone is read: there is nothing else to show", async () => {
    const bytes = workbook({ Data: rows([header, ...sweep()]) }, {}, { Data: "hidden" });
    const { measurements, notices } = await read(bytes);
    expect(measurements.length).toBe(1);
    expect(notices.map(({ code }) => code)).not.toContain("io.sheet-hidden");
  });

  it("a sheet that cannot be read is told of; the others stand", async () => {
    const { measurements, notices } = await read(
      workbook({
        Good: rows([header, ...sweep()]),
        Bad: rows([["Temperature (°C)", "Frequency (Hz)", "E' (furlong)", "tan δ"], ...sweep()]),
      }),
    );
    expect(measurements.length).toBe(1);
    expect(notices).toContainEqual(
      expect.objectContaining({
        severity: "error",
        code: "io.sheet-not-read",
        message: expect.stringMatching(/Bad.*furlong/),
      }),
    );
  });

  it("fractions that are shown as per cent, under either header", async () => {
    const styles = {
      "xl/styles.xml": `<styleSheet xmlns="${main}"><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="10"/></cellXfs></styleSheet>`,
    };
    const percent = (value: number): Value => ({ xml: `<c r="REF" s="1"><v>${value}</v></c>` });
    for (const title of ["Rebound (%)", "Rebound resilience"]) {
      const table = [
        ["Sample", "Temperature (°C)", title],
        ["Birch 60", 0, percent(0.285)],
        ["Birch 60", 23, percent(0.48)],
      ];
      const [one] = (await read(workbook({ Rebound: rows(table) }, styles)))
        .measurements as ReboundMeasurement[];
      expect(one.readings.flatMap(({ fractions }) => fractions)).toEqual([0.285, 0.48]);
    }
  });

  it("a name merged over its rows stands for each", async () => {
    const table: Value[][] = [
      ["Sample", "Temperature (°C)", "Rebound (%)"],
      ["Birch 60", 0, 28],
      [null, 23, 48],
      ["Rowan W", 0, 60],
      [null, 23, 70],
    ];
    const xml = `${rows(table)}<mergeCells><mergeCell ref="A2:A3"/><mergeCell ref="A4:A5"/><mergeCell ref="A1:ZZ1"/><mergeCell ref="nonsense"/></mergeCells>`;
    const { measurements, notices } = await read(workbook({ Rebound: xml }));
    expect(
      (measurements as ReboundMeasurement[]).map(({ sample, readings }) => [sample, readings.length]),
    ).toEqual([
      ["Birch 60", 2],
      ["Rowan W", 2],
    ]);
    expect(notices.map(({ code }) => code)).not.toContain("io.sample-carried-down");
  });

  it("errors, booleans, dates and formulas do no harm", async () => {
    const odd = (xml: string): Value => ({ xml });
    const table: Value[][] = [
      [...header, "Date", "Valid"],
      ...sweep().map((cells) => [
        ...cells,
        odd('<c r="REF"><v>45500</v></c>'),
        odd('<c r="REF" t="b"><v>1</v></c>'),
      ]),
      [20, 10, odd('<c r="REF" t="e"><v>#DIV/0!</v></c>'), 0.1],
      [30, 10, odd('<c r="REF"><f>1/0</f></c>'), 0.1],
      [40, 10, odd('<c r="REF" t="str"><f>A1&amp;""</f><v>300</v></c>'), 0.1],
    ];
    const { measurements, skipped } = await read(workbook({ Sheet1: rows(table) }));
    expect([...(measurements[0] as DynamicMeasurement).temperature_C]).toEqual([
      -60, -50, -40, -30, -20, -10, 40,
    ]);
    expect(skipped.map(({ line }) => line)).toEqual([8, 9]);
  });

  it("rows and cells without references stand one after the other", async () => {
    const plain = rows([header, ...sweep()]).replace(/ r="[A-Z]*\d+"/g, "");
    expect((await read(workbook({ Sheet1: plain }))).measurements[0].provenance).toMatchObject({
      firstLine: 2,
      lastLine: 7,
    });
  });

  it("gives the row and column of a bad value, and the sheet", async () => {
    const table = [header, ...sweep()];
    table[3][0] = -400;
    expect(await problemOf(workbook({ Sweep: rows(table, 5) }))).toMatchObject({
      code: "io.below-absolute-zero",
      line: 8,
      column: 1,
      message: expect.stringContaining("Sweep"),
    });
  });
});

describe("hostile workbooks", () => {
  it.each<[string, string, string]>([
    ["a document type", `<!DOCTYPE x [<!ENTITY a "b">]><worksheet xmlns="${main}"/>`, "io.unsafe-workbook"],
    ["an undeclared entity", `<worksheet xmlns="${main}">&a;</worksheet>`, "io.damaged-workbook"],
    ["nesting without end", "<a>".repeat(100_000), "io.unsafe-workbook"],
    ["an attribute twice", '<worksheet a="1" a="2"/>', "io.damaged-workbook"],
    ["no XML", "\u0001\u0002 nonsense", "io.damaged-workbook"],
  ])("%s in a sheet", async (_, xml, code) => {
    const bytes = workbook({ Sheet1: "" }, {});
    const { unzipSync } = await import("fflate");
    const parts = unzipSync(bytes);
    parts["xl/worksheets/sheet1.xml"] = strToU8(xml);
    expect((await problemOf(zipSync(parts, { mtime: new Date(1980, 0, 1) })))?.code).toBe(code);
  });

  it("a reference to a column far outside, a row number of millions", async () => {
    const far = rows([header, ...sweep()]).replace(
      "</row></sheetData>",
      '<c r="XFD9999999"><v>1</v></c><c r="ZZZZZZZZ1"><v>1</v></c></row><row r="99999999999"><c><v>1</v></c></row></sheetData>',
    );
    expect((await read(workbook({ Sheet1: far }))).measurements.length).toBe(1);
  });

  it("a shared string that is not there reads as blank", async () => {
    const table = rows([header, ...sweep()]).replace(
      "</row></sheetData>",
      '<c r="E7" t="s"><v>123456</v></c><c r="F7" t="s"><v>-1</v></c></row></sheetData>',
    );
    expect((await read(workbook({ Sheet1: table }))).measurements.length).toBe(1);
  });

  it("targets that climb out of the archive, or lie on the network, are not followed", async () => {
    const climbing = workbook(
      { Sheet1: rows([header, ...sweep()]) },
      {
        "xl/_rels/workbook.xml.rels": `<Relationships xmlns="${packages}"><Relationship Id="r1" Type="${office}/worksheet" Target="../../../etc/passwd"/></Relationships>`,
      },
    );
    expect((await problemOf(climbing))?.code).toBe("io.no-sheets");
    const external = workbook(
      { Sheet1: rows([header, ...sweep()]) },
      {
        "xl/_rels/workbook.xml.rels": `<Relationships xmlns="${packages}"><Relationship Id="r1" Type="${office}/worksheet" TargetMode="External" Target="http://example.invalid/sheet.xml"/></Relationships>`,
      },
    );
    expect((await problemOf(external))?.code).toBe("io.no-sheets");
  });

  it("a byte that was changed in a stored part does not go unseen", async () => {
    const bytes = zipSync(
      { "xl/workbook.xml": strToU8("<workbook/>") },
      { level: 0, mtime: new Date(1980, 0, 1) },
    );
    bytes[Buffer.from(bytes).indexOf("<workbook/>") + 3] ^= 1;
    expect((await problemOf(bytes))?.message).toMatch(/checksum|damaged/);
  });

  it("a bomb in the shared strings, not in a sheet", async () => {
    const bytes = workbook(
      { Sheet1: rows([header, ...sweep()]) },
      { "xl/sharedStrings.xml": `<sst><si><t>${"a".repeat(60_000_000)}</t></si></sst>` },
    );
    expect((await problemOf(bytes))?.code).toBe("io.workbook-too-large");
  }, 20_000);
});
