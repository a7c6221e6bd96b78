import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { zipSync } from "fflate";
import Papa from "papaparse";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { readBytes } from "../../src/io/read-bytes.js";
import { printable } from "../../src/report/terminal/terminal-summary.js";
import { findInputs } from "../../src/study/inputs/find-inputs.js";
import { outputFiles } from "../../src/study/outputs/output-files.js";
import { assess } from "../../src/study/run/assess.js";
import { parseStudyFile } from "../../src/study/study-file/study-file.js";
import { bombWorkbook } from "../fixtures/make/hostile.mjs";
import { runCli } from "../make/run-cli.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-hostile-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const bytesOf = (text: string) => new TextEncoder().encode(text);
async function problemOf(bytes: Uint8Array, name = "hostile.xlsx") {
  const outcome = await readBytes(bytes, name);
  if (outcome.ok) throw new Error("read, though it should be rejected");
  return outcome.problem;
}

const main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const packaged = "http://schemas.openxmlformats.org/package/2006/relationships";
const soundRows = [
  ["Temperature (°C)", "Frequency (Hz)", "E' (MPa)", "tan delta"],
  ["-20", "10", "120", "0.8"],
  ["-10", "10", "45", "0.9"],
];
const sheet = (rows = soundRows) =>
  `<worksheet xmlns="${main}"><sheetData>${rows
    .map((row, r) => `<row r="${r + 1}">${row.map((cell) => `<c t="str"><v>${cell}</v></c>`).join("")}</row>`)
    .join("")}</sheetData></worksheet>`;

/** A small workbook by ECMA-376, any part of it replaced or added. */
function workbook(parts: Record<string, string> = {}): Uint8Array {
  const all = {
    "_rels/.rels": `<Relationships xmlns="${packaged}"><Relationship Id="r1" Type="${office}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    "xl/workbook.xml": `<workbook xmlns="${main}" xmlns:r="${office}"><sheets><sheet name="Data" sheetId="1" r:id="r1"/></sheets></workbook>`,
    "xl/_rels/workbook.xml.rels": `<Relationships xmlns="${packaged}"><Relationship Id="r1" Type="${office}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
    "xl/worksheets/sheet1.xml": sheet(),
    ...parts,
  };
  return zipSync(Object.fromEntries(Object.entries(all).map(([path, text]) => [path, bytesOf(text)])), {
    mtime: new Date(1980, 0, 1),
  });
}

describe("workbooks", () => {
  it("the one that the others are made from is sound", async () => {
    const outcome = await readBytes(workbook(), "sound.xlsx");
    expect(outcome.ok && outcome.value.measurements.length).toBe(1);
  });

  it("a zip that unpacks to a gigabyte is refused, and so is one that states a small size", async () => {
    expect((await problemOf(bombWorkbook())).code).toBe("io.workbook-too-large");
    expect((await problemOf(bombWorkbook({ declaredSize: 5000 }))).code).toMatch(
      /^io\.(workbook-too-large|damaged)/,
    );
  });

  it("a zip within a zip is not unpacked", async () => {
    const inner = workbook();
    const outer = zipSync({ "xl/workbook.xml": inner, "more.zip": inner });
    expect((await problemOf(outer)).code).toMatch(/^io\.(archive|damaged-workbook|other-workbook)$/);
  });

  it("XML nested a hundred thousand deep is refused", async () => {
    const deep = `${"<a>".repeat(100_000)}${"</a>".repeat(100_000)}`;
    const problem = await problemOf(
      workbook({ "xl/worksheets/sheet1.xml": `<worksheet xmlns="${main}">${deep}</worksheet>` }),
    );
    expect(problem.code).toBe("io.unsafe-workbook");
    expect(problem.message).toContain("nested");
  });

  it.each(["xl/worksheets/sheet1.xml", "xl/workbook.xml", "_rels/.rels", "xl/_rels/workbook.xml.rels"])(
    "entities that multiply (a billion of them) in %s are refused, not expanded",
    async (path) => {
      const entities = Array.from(
        { length: 9 },
        (_, i) => `<!ENTITY e${i + 1} "${`&e${i};`.repeat(10)}">`,
      ).join("");
      const doctype = `<!DOCTYPE x [<!ENTITY e0 "ha">${entities}]>`;
      const parts: Record<string, string> = {
        "xl/worksheets/sheet1.xml": sheet(),
        "xl/workbook.xml": `<workbook xmlns="${main}"/>`,
        "_rels/.rels": `<Relationships xmlns="${packaged}"/>`,
        "xl/_rels/workbook.xml.rels": `<Relationships xmlns="${packaged}"/>`,
      };
      const problem = await problemOf(
        workbook({ [path]: `${doctype}${parts[path].replace("E' (MPa)", "&e9;")}` }),
      );
      expect(problem.code).toBe("io.unsafe-workbook");
      expect(problem.message).toContain("DOCTYPE");
    },
  );

  it("an entity that names a file is refused, and the file's content is nowhere", async () => {
    writeFileSync(join(folder, "secret"), "top secret");
    const doctype = `<!DOCTYPE x [<!ENTITY s SYSTEM "file://${folder}/secret">]>`;
    const problem = await problemOf(
      workbook({ "xl/worksheets/sheet1.xml": doctype + sheet().replace("E' (MPa)", "&s;") }),
    );
    expect(problem.code).toBe("io.unsafe-workbook");
    expect(problem.message).not.toContain("secret\n");
  });

  it.each([
    "../../../../../../etc/passwd",
    "/../../etc/passwd",
    "..\\..\\windows\\win.ini",
    "file:///etc/passwd",
    "http://example.com/sheet.xml",
  ])("a part said to be at %s is looked for inside the archive alone", async (target) => {
    const relations = `<Relationships xmlns="${packaged}"><Relationship Id="r1" Type="${office}/worksheet" Target="${target}"/></Relationships>`;
    const { code, message } = await problemOf(workbook({ "xl/_rels/workbook.xml.rels": relations }));
    expect(code).toBe("io.no-sheets");
    expect(message).not.toContain("root:");
  });

  it("parts with `..` in their names are written nowhere", async () => {
    const name = `../../frostline-escaped-${process.pid}`;
    await readBytes(workbook({ [name]: "x", [`/tmp/../${name}`]: "x" }), "sound.xlsx");
    expect(() => readFileSync(join(folder, name))).toThrow();
    expect(() => readFileSync(name)).toThrow();
  });
});

describe("folders", () => {
  it("links out of the folder are not followed and named; links in a circle end", async () => {
    mkdirSync(join(folder, "in", "sub"), { recursive: true });
    writeFileSync(join(folder, "outside.csv"), "x");
    writeFileSync(join(folder, "in", "a.csv"), "x");
    symlinkSync("../outside.csv", join(folder, "in", "relative.csv"));
    symlinkSync(join(folder, "outside.csv"), join(folder, "in", "absolute.csv"));
    symlinkSync("/etc", join(folder, "in", "etc"));
    symlinkSync("../sub", join(folder, "in", "sub", "circle"));
    symlinkSync("nowhere", join(folder, "in", "dangling.csv"));
    symlinkSync("itself.csv", join(folder, "in", "itself.csv"));
    const { found } = await findInputs([join(folder, "in")], join(folder, "out"));
    expect(found?.inputs.map(({ path }) => path)).toEqual(["a.csv"]);
    expect(found?.notices.map(({ path }) => path).sort()).toEqual([
      "absolute.csv",
      "dangling.csv",
      "etc",
      "itself.csv",
      "relative.csv",
    ]);
    for (const { code } of found!.notices) expect(code).toBe("study.not-followed");
  });

  it("a folder that only begins like the given one is outside it", async () => {
    for (const name of ["in", "inside"]) mkdirSync(join(folder, name));
    writeFileSync(join(folder, "inside", "b.csv"), "x");
    symlinkSync("../inside/b.csv", join(folder, "in", "b.csv"));
    const { found } = await findInputs([join(folder, "in")], join(folder, "out"));
    expect(found?.inputs).toEqual([]);
    expect(found?.notices.length).toBe(1);
  });

  it("pipes and devices that are given by name are refused", async () => {
    execFileSync("mkfifo", [join(folder, "pipe.csv")]);
    for (const path of [join(folder, "pipe.csv"), "/dev/zero"]) {
      const { problems } = await findInputs([path], join(folder, "out"));
      expect(problems[0]?.code).toBe("study.not-a-file");
    }
  });

  it("a study file cannot make the program read outside its folder", async () => {
    writeFileSync(join(folder, "a.csv"), soundRows.map((row) => row.join(";")).join("\n"));
    mkdirSync(join(folder, "study"));
    const texture = "textures:\n  - name: road\n    profile: ../../../etc/passwd\n";
    writeFileSync(join(folder, "study", "study.yaml"), texture);
    const outcome = await assess([join(folder, "a.csv")], {
      outputFolder: join(folder, "out"),
      studyFile: join(folder, "study", "study.yaml"),
      workers: 1,
      version: "test",
    });
    expect(outcome.ok).toBe(false);
    expect(!outcome.ok && outcome.problems[0].message).toContain("outside the study's folder");
  });
});

describe("names", () => {
  const hostile = [
    "=cmd|' /C calc'!A0",
    "@SUM(1+1)*cmd",
    "+1+1",
    "-2+3",
    "<script>alert(1)</script>",
    `"><img src=x onerror=alert(1)>`,
    "</script><script>alert(2)</script>",
    "<!-- ",
    "]]>",
    "\u202egnp.exe",
    "\u001b[2J\u001b]0;title\u0007",
    "__proto__",
    "constructor",
  ];

  it("reach neither CSV as formulas nor HTML as markup nor JSON unquoted", async () => {
    const inputs = join(folder, "in");
    mkdirSync(inputs);
    const cell = (text: string) => `"${text.replaceAll('"', '""')}"`;
    const rows = hostile.map((name, i) => [cell(name), 23, 40 + i, 41 + i].join(","));
    writeFileSync(
      join(inputs, "table.csv"),
      `Compound,Temperature (°C),Rebound 1 (%),Rebound 2 (%)\n${rows.join("\n")}\n`,
    );
    // Names that a file system takes, with line breaks and escape sequences among them.
    const files = [
      "=1+1.csv",
      "two\nlines\u001b[31m.csv",
      "<img src=x onerror=alert(3)>.csv",
      "'quoted\".csv",
    ];
    for (const [i, name] of files.entries()) {
      writeFileSync(
        join(inputs, name),
        i % 2 ? "no table\n" : `Temperature (°C),Rebound (%)\n23,5${i}\n10,4${i}\n`,
      );
    }
    const outcome = await assess([inputs], {
      outputFolder: join(folder, "out"),
      studyFile: null,
      workers: 1,
      version: "test",
    });
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    expect(outcome.assessment.results.compounds.length).toBeGreaterThanOrEqual(10);
    const output = await outputFiles(outcome.assessment, []);
    for (const { path, content } of output) {
      const text = Array.from(content as Iterable<string>).join("");
      if (path.endsWith(".csv")) {
        const { data, errors } = Papa.parse<string[]>(text.replace("\uFEFF", "").trimEnd(), {
          delimiter: ",",
        });
        expect(errors, path).toEqual([]);
        expect(new Set(data.map((row) => row.length)).size, path).toBe(1);
        for (const each of data.flat()) {
          // A number may begin with a minus; anything else that begins like a formula must not.
          if (/^[=+\-@\t\r]/.test(each)) expect(Number(each), `${path}: ${each}`).not.toBeNaN();
        }
      }
      if (path === "results.json") {
        const names = JSON.parse(text).compounds.map((each: { name: string }) => each.name);
        expect(names).toContain("<script>alert(1)</script>");
        expect(names).toContain("__proto__");
      }
      if (path === "report.html") {
        expect(text).not.toMatch(/<script>alert|<img src=x/);
        expect(text).toContain("&lt;script&gt;alert(1)&lt;/script&gt;");
        expect(text.match(/<script/g)?.length).toBe(3);
      }
    }
  });

  it("of files with line breaks and escape sequences take one line of the terminal, without them", () => {
    const inputs = join(folder, "in");
    mkdirSync(inputs);
    writeFileSync(join(inputs, "evil\n\u001b[2Jname\u0007\u202e.csv"), "no table\n");
    writeFileSync(join(inputs, "good.csv"), "Compound,Temperature (°C),Rebound (%)\n\u001b[31mred,23,50\n");
    for (const args of [
      ["assess", inputs, "--out", join(folder, "out")],
      ["inspect", join(inputs, "good.csv")],
    ]) {
      const { stdout, stderr } = runCli(args);
      for (const line of `${stdout}${stderr}`.split("\n")) {
        expect(line).toBe(printable(line));
        expect(line).not.toMatch(/^.?\[2Jname/);
      }
    }
  });
});

describe("study files", () => {
  it("aliases that multiply are refused", () => {
    const levels = Array.from(
      { length: 9 },
      (_, i) => `a${i + 1}: &a${i + 1} [${Array(10).fill(`*a${i}`).join(", ")}]`,
    );
    const study = parseStudyFile(`a0: &a0 [x, x]\n${levels.join("\n")}\n`);
    expect(study.ok).toBe(false);
    expect(!study.ok && study.problem.code).toBe("study.not-yaml");
  });

  it.each([
    ["flow", `title: ${"[".repeat(5000)}${"]".repeat(5000)}\n`],
    ["block", `${Array.from({ length: 3000 }, (_, i) => `${" ".repeat(i)}a:`).join("\n")}\n`],
  ])("nesting beyond reason (%s) is a problem and no crash", (_, text) => {
    expect(parseStudyFile(text).ok).toBe(false);
  });

  it("keys that are special to the language are keys like any other: unknown", () => {
    for (const key of ["__proto__", "constructor", "toString"]) {
      const study = parseStudyFile(`${key}:\n  polluted: true\n`);
      expect(study.ok, key).toBe(false);
    }
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });
});

describe("headers of a megabyte", () => {
  // What backtracks or grows with the square of the length does not end within the time of a test.
  const million = (piece: string) => piece.repeat(Math.ceil(1e6 / piece.length));
  it.each([
    ["letters", million("a")],
    ["brackets", million("(")],
    ["closed brackets", million("()")],
    ["primes", million("E'")],
    ["blanks", million(" ")],
    ["blanks and a letter", `${million(" ")}x`],
    ["almost units", million("MPa/")],
    ["almost a unit in brackets", `E' (${million("M")}`],
    ["almost a number", `${million("1")}x`],
    ["digits and marks", million("1.")],
    ["minus signs", million("-")],
    ["superscripts", million("²")],
    ["wide characters", million("储能模量")],
    ["combining marks", `e${million("\u0301")}`],
    ["colons", million("a:")],
    ["equal signs", million("f=")],
    ["quotes", million('""')],
    ["many cells", million("E' (MPa);")],
    ["many cells of words", million("Temperature;")],
  ])(
    "%s are read in one go",
    async (_, header) => {
      const rows = "-20;10;120;0.8\n-10;10;45;0.9\n";
      for (const text of [
        `${header}\n${rows}`,
        `T (°C);f (Hz);E' (MPa);${header}\n${rows}`,
        `Sample: ${header}\nT (°C);f (Hz);E' (MPa);tan delta\n${rows}`,
        `T (°C);f (Hz);E' (MPa);tan delta\n${rows}${header}\n${rows}`,
      ]) {
        const outcome = await readBytes(bytesOf(text), "header.csv");
        if (!outcome.ok) expect(outcome.problem.code).toMatch(/^io\.(?!not-read)/);
        const said = outcome.ok
          ? outcome.value.notices.map(({ message }) => message)
          : [outcome.problem.message];
        for (const message of said) expect(message.length).toBeLessThan(3000);
      }
    },
    60_000,
  );
});
