import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Papa from "papaparse";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { readText } from "../../src/io/read-text.js";
import type { Results } from "../../src/report/results/results.js";
import { parseStudyFile } from "../../src/study/study-file/study-file.js";
import { spelledOut } from "../../src/words/spelled-out.js";
import { workbook } from "../fixtures/make/workbook.mjs";
import { runCli } from "../make/run-cli.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-names-"));
  mkdirSync(join(folder, "in"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const put = (name: string, content: string | Uint8Array) => writeFileSync(join(folder, "in", name), content);
const quote = (text: string) => `"${text.replaceAll('"', '""')}"`;
/** Invented rebounds of one sample; the number makes them differ. */
const rebounds = (number: number) => [-20, 0, 20].map((t) => [t, (40 + 0.5 * t + number / 10).toFixed(1)]);
const table = (name: string, number: number, delimiter = ",") =>
  [
    ["Compound", "Temperature (°C)", "Rebound resilience (%)"],
    ...rebounds(number).map((row) => [quote(name), ...row]),
  ]
    .map((cells) => `${cells.join(delimiter)}\n`)
    .join("");

function assessed(): Results {
  const { status, stderr } = runCli(["assess", join(folder, "in"), "--out", join(folder, "out"), "--quiet"]);
  expect(status, stderr).toBe(0);
  return JSON.parse(readFileSync(join(folder, "out", "results.json"), "utf8"));
}

const joined = ({ notices }: Results) => notices.filter(({ code }) => code === "study.names-joined");

/** Every compound's name in every table, as a spreadsheet shows it: a leading apostrophe is taken for a mark of text. */
function namesInTables(): Set<string> {
  const tables = join(folder, "out", "tables");
  const names = new Set<string>();
  for (const file of readdirSync(tables)) {
    const text = readFileSync(join(tables, file), "utf8").replace("\uFEFF", "");
    const { data } = Papa.parse<Record<string, string>>(text, { header: true, delimiter: "," });
    for (const { compound } of data) if (compound) names.add(compound);
  }
  return names;
}

describe("names that differ in what nobody sees", () => {
  const odd = [
    ["\t=1+1 N", "⟨tab⟩=1+1 N"],
    ["=1+1 N\t", "=1+1 N⟨tab⟩"],
    ["=1+1\tN", "=1+1⟨tab⟩N"],
    ["=1+1\u00a0N", "=1+1⟨no-break space⟩N"],
    ["\u00a0=1+1 N", "⟨no-break space⟩=1+1 N"],
    ["=1\u200b+1 N", "=1⟨zero-width space⟩+1 N"],
    ["\u200d=1+1 N", "⟨zero-width joiner⟩=1+1 N"],
    ["=1\u00ad+1 N", "=1⟨soft hyphen⟩+1 N"],
    ["=1+1 N\ufeff", "=1+1 N⟨byte order mark⟩"],
    ["\u202e=1+1 N", "⟨U+202E⟩=1+1 N"],
    ["=1+1\u2009N", "=1+1⟨U+2009⟩N"],
    ["=1+1  N", "=1+1⟨2 blanks⟩N"],
    ["=1+1\nN", "=1+1⟨line break⟩N"],
    ["=1+1\u0085N", "=1+1⟨U+0085⟩N"],
  ];
  it("are joined, and a notice names both files", () => {
    const named = odd.map((pair, i) => pair.map((text) => text.replace("N", `N${i}`)));
    for (const [i, [name]] of named.entries()) {
      put(`${i} plain.csv`, table(`=1+1 N${i}`, 2 * i));
      put(`${i} second.csv`, table(name, 2 * i + 1, i % 2 === 0 ? "," : ";"));
    }
    const results = assessed();
    expect(results.compounds).toHaveLength(odd.length);
    expect(namesInTables()).toEqual(new Set(named.map((_, i) => `'=1+1 N${i}`)));
    const page = readFileSync(join(folder, "out", "report.html"), "utf8");
    const notices = readFileSync(join(folder, "out", "tables", "notices.csv"), "utf8");
    for (const [i, [, inWords]] of named.entries()) {
      const { name, inputs } = results.compounds.find((each) => each.name === `=1+1 N${i}`)!;
      expect(inputs).toEqual([`${i} plain.csv`, `${i} second.csv`]);
      const [told, ...more] = joined(results).filter(({ message }) => message.startsWith(`"${name}"`));
      expect(more).toEqual([]);
      expect(told.severity).toBe("caution");
      const said = `"${name}" in ${i} plain.csv, "${inWords}" in ${i} second.csv`;
      expect(told.message).toContain(said);
      expect(notices).toContain(said.replaceAll('"', '""'));
      expect(page).toContain(inWords);
    }
  });

  it("are joined from every place that a name stands in: rows, lines, sheets, cells of a workbook, file names", () => {
    put("row.csv", table("Birch\u00a060", 0));
    put("line.csv", `Sample: Birch\t60\nTemperature (°C);Rebound (%)\n${rows(1)}`);
    put(
      "tabs.txt",
      `Sample\tBirch \u200b60\nTemperature (°C)\tRebound (%)\n${rows(2).replaceAll(";", "\t")}`,
    );
    put("Birch\u200960.csv", `Temperature (°C);Rebound (%)\n${rows(3)}`);
    const cells = (name: string, number: number) => [
      ["Compound", "Temperature (°C)", "Rebound (%)"],
      ...rebounds(number).map(([t, r]) => [name, { number: String(t) }, { number: String(r) }]),
    ];
    put("cells.xlsx", workbook([{ name: "Data", rows: cells("Birch  60\u2060", 4) }]));
    const bare = (number: number) => cells("", number).map((row) => row.slice(1));
    put(
      "sheets.xlsx",
      workbook([
        { name: "Birch\u200a60", rows: bare(5) },
        { name: "Rowan 7", rows: bare(6) },
      ]),
    );
    const results = assessed();
    expect(results.compounds.map(({ name, inputs }) => [name, inputs.length])).toEqual([
      ["Birch 60", 6],
      ["Rowan 7", 1],
    ]);
    // All six are in it: the first five in words, the rest counted.
    expect(joined(results).map(({ message }) => message)).toEqual([
      `"Birch 60" is written in ways that look alike and were taken for one compound: "Birch⟨U+2009⟩60" in Birch\u200960.csv, "Birch⟨2 blanks⟩60⟨word joiner⟩" in cells.xlsx, "Birch⟨tab⟩60" in line.csv, "Birch⟨no-break space⟩60" in row.csv, "Birch⟨U+200A⟩60" in sheets.xlsx and 1 more. If they are two, give them names that differ visibly.`,
    ]);
  });

  it("are joined within one file too, whichever way its rows are read", () => {
    const names = ["Alder 1", "Alder\u00a01", "Alder 1", "Alder 1"];
    const all = names.map((name, i) => `${quote(name)};${-20 + 10 * i};${30 + 5 * i}.5`).join("\n");
    put("one.csv", `Compound;Temperature (°C);Rebound (%)\n${all}\n`);
    const results = assessed();
    expect(results.compounds.map(({ name }) => name)).toEqual(["Alder 1"]);
    expect(joined(results)[0].message).toContain('"Alder 1" in one.csv, "Alder⟨no-break space⟩1" in one.csv');
  });

  it("accents of their own are the letter's", () => {
    put("a.csv", table("Érable 3", 0));
    put("b.csv", table("E\u0301rable 3", 1));
    const results = assessed();
    expect(results.compounds.map(({ name }) => name)).toEqual(["Érable 3"]);
    expect(joined(results)[0].message).toContain('"Érable 3" in a.csv, "E⟨U+0301⟩rable 3" in b.csv');
  });

  it("blanks that pad a column, and a name written one way throughout, are nothing to speak of", () => {
    put("a.csv", table("Birch\u00a060", 0));
    put("b.csv", table("Birch\u00a060", 1));
    put("c.csv", "Compound   ;Temperature (°C);Rebound (%)\nRowan 7   ;0;30.5\nRowan 7   ;10;33.5\n");
    put("d.csv", "Compound;Temperature (°C);Rebound (%)\nRowan 7;20;36.5\nRowan 7;30;39.5\n");
    const results = assessed();
    expect(results.compounds.map(({ name }) => name)).toEqual(["Birch 60", "Rowan 7"]);
    expect(joined(results)).toEqual([]);
  });

  it("a file that the study sends to a compound may call it what it likes", () => {
    put("a.csv", table("Birch 60", 0));
    put("b.csv", table("Birch\u00a060", 1));
    put("study.yaml", 'compounds:\n  - { name: Birch 60, files: ["?.csv"] }\n');
    expect(joined(assessed())).toEqual([]);
    put("study.yaml", "compounds:\n  - { name: Birch 60 }\n");
    expect(joined(assessed())).toHaveLength(1);
  });

  it("two compounds of a study may not look alike", () => {
    const text = 'compounds:\n  - { name: "Birch 60" }\n  - { name: "Birch\\u00a060" }\n';
    const outcome = parseStudyFile(text);
    expect(!outcome.ok && outcome.problem).toMatchObject({ code: "study.duplicate-name", line: 3 });
    expect(!outcome.ok && outcome.problem.message).toContain(
      '"Birch 60" and "Birch⟨no-break space⟩60" under compounds look alike',
    );
  });
});

it("names that differ visibly stay different compounds, in every table", () => {
  const names = ["=1+1", "'=1+1", "=1 +1", "＝1+1", "=1+1-", "@=1+1", "=l+1"];
  for (const [i, name] of names.entries()) put(`${i}.csv`, table(name, i));
  const results = assessed();
  expect(new Set(results.compounds.map(({ name }) => name))).toEqual(new Set(names));
  expect(joined(results)).toEqual([]);
  expect(namesInTables().size).toBe(names.length);
});

it("a text is spelled out by what nobody sees in it", () => {
  expect(spelledOut("\tBirch\u00a060  \u200b\u0007")).toBe(
    "⟨tab⟩Birch⟨no-break space⟩60⟨2 blanks⟩⟨zero-width space⟩⟨U+0007⟩",
  );
  expect(spelledOut("Érable 3")).toBe("Érable 3");
});

function rows(number: number): string {
  return rebounds(number)
    .map((row) => `${row.join(";")}\n`)
    .join("");
}

it("a header with what nobody sees in it is meant by an override as a reader would type it", () => {
  const text = "T\u00a0oven;Reb\u200bound \n-20;20.5\n0;33.5\n";
  const columns = { "T oven": "temperature in °C", Rebound: "resilience in %" };
  const outcome = readText(text, "odd.csv", { columns });
  expect(outcome.ok && outcome.value.measurements).toHaveLength(1);
});
