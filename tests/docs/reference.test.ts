import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { fitNoticeCodes } from "../../src/fit/notice-codes.js";
import { readerCodes } from "../../src/io/problem-codes.js";
import { readOverrides } from "../../src/io/table/header/column-override.js";
import { predictionNotices } from "../../src/predict/notice-codes.js";
import { studyFileSchema } from "../../src/report/results/study-file-schema.js";
import { studyCodes } from "../../src/study/study-codes.js";
import { publicFunctions } from "../library/public-functions.js";
import { runCli } from "../make/run-cli.js";
import { pages } from "./fences.js";

const read = (path: string) => readFileSync(path, "utf8");

/** All sources of a folder but the table of codes itself. */
function sourcesOf(folder: string, table: string): string {
  return readdirSync(folder, { recursive: true })
    .map(String)
    .filter((name) => name.endsWith(".ts") && name !== table)
    .map((name) => read(join(folder, name)))
    .join("\n");
}

describe("codes", () => {
  it.each([
    { folder: "src/fit", table: "notice-codes.ts", prefix: "fit", codes: Object.keys(fitNoticeCodes) },
    { folder: "src/study", table: "study-codes.ts", prefix: "study", codes: Object.keys(studyCodes) },
    { folder: "src/io", table: "problem-codes.ts", prefix: "io", codes: Object.keys(readerCodes) },
  ])("each code in $folder has a meaning in its table, and each in the table is used", (one) => {
    const sources = sourcesOf(one.folder, one.table);
    const found = [
      ...sources.matchAll(new RegExp(`(?:"|frostline: \\[)(${one.prefix}\\.[a-z-]+)["\\]]`, "g")),
    ].map(([, code]) => code);
    // The study file's own names are no codes.
    const used = new Set(found.filter((code) => code !== "study.yaml" && code !== "study.yml"));
    expect([...used].filter((code) => !one.codes.includes(code))).toEqual([]);
    expect(one.codes.filter((code) => !used.has(code))).toEqual([]);
  });

  it("the prediction's are all used", () => {
    const sources = sourcesOf("src/predict", "notice-codes.ts");
    expect(Object.keys(predictionNotices).filter((code) => !sources.includes(`"${code}"`))).toEqual([]);
  });

  it("docs/reference/codes.md and the keys in results.md are what the program says", () => {
    const check = spawnSync(process.execPath, ["scripts/write-codes.mjs", "--check"], { encoding: "utf8" });
    expect(check.stderr).toBe("");
    expect(check.status).toBe(0);
  });
});

describe("docs/reference/commands.md", () => {
  const page = read("docs/reference/commands.md");
  const help = runCli(["--help"]).stdout;
  const commands = [...help.slice(help.indexOf("Commands:")).matchAll(/^ {2}([a-z]+) (?:\[|<)/gm)].map(
    ([, name]) => name,
  );

  it("knows the commands", () => {
    for (const name of ["assess", "merge", "inspect", "watch", "demo"]) expect(commands).toContain(name);
  });

  it.each(commands.filter((name) => name !== "help"))("has frostline %s with every option", (name) => {
    const start = page.indexOf(`## frostline ${name}`);
    expect(start).toBeGreaterThan(0);
    const options = new Set(runCli([name, "--help"]).stdout.match(/--[a-z][a-z-]+/g));
    options.delete("--help");
    expect(options.size).toBeGreaterThan(0);
    // An option that an example in a help text names for another command stands in that command's section.
    for (const option of options) expect(page, `${name} ${option}`).toContain(option);
  });
});

/** Keys of an object schema, and of the objects in it. */
function keysOf(schema: unknown): string[] {
  let inner = schema;
  while (inner instanceof z.ZodOptional || inner instanceof z.ZodNullable || inner instanceof z.ZodDefault) {
    inner = inner.def.innerType;
  }
  if (inner instanceof z.ZodArray) return keysOf(inner.element);
  if (!(inner instanceof z.ZodObject)) return [];
  return Object.entries(inner.shape).flatMap(([key, value]) => [key, ...keysOf(value)]);
}

it("docs/reference/study-file.md has every key of a study", () => {
  const page = read("docs/reference/study-file.md");
  const keys = [...new Set(keysOf(studyFileSchema))];
  expect(keys.length).toBeGreaterThan(40);
  expect(keys.filter((key) => !page.includes(`\`${key}\``) && !page.includes(`## ${key}\n`))).toEqual([]);
});

describe("docs/how-to/stubborn-file.md", () => {
  const table = read("docs/how-to/stubborn-file.md").split("| quantity | units |")[1].split("\n\n")[0];
  const ticked = (cell: string) => [...cell.matchAll(/`([^`]+)`/g)].map(([, text]) => text);
  const overrides = table
    .split("\n")
    .slice(2)
    .flatMap((row) => {
      const [, names, units] = row.split("|");
      const without = /none|misleads/.test(units) ? [""] : [];
      return ticked(names).flatMap((name) =>
        [...without, ...ticked(units).map((unit) => ` in ${unit}`)].map((unit) => name + unit),
      );
    });

  it("lists enough", () => expect(overrides.length).toBeGreaterThan(35));

  it.each(overrides)('the reader understands "%s"', (words) => {
    const found = readOverrides({ ch1: words });
    expect(Array.isArray(found) ? "" : found.message).toBe("");
  });
});

it("docs/reference/library.md names every public function", () => {
  const page = read("docs/reference/library.md");
  const missing = publicFunctions().filter(({ name }) => !page.includes(`\`${name}\``));
  expect(missing.map(({ name }) => name)).toEqual([]);
});

describe.each(pages())("%s", (path) => {
  const text = read(path).replace(/```[\s\S]*?```/g, "");

  it("links to what is there", () => {
    const broken = [...text.matchAll(/\]\(([^)\s]+)\)/g)]
      .map(([, target]) => target)
      .filter((target) => !/^[a-z]+:/.test(target))
      .filter((target) => {
        const [file, anchor] = target.split("#");
        const at = file === "" ? path : join(dirname(path), file);
        if (!existsSync(at)) return true;
        return anchor !== undefined && !anchorsOf(read(at)).includes(anchor);
      });
    expect(broken).toEqual([]);
  });
});

/** The anchors that headings get on a code host. */
function anchorsOf(markdown: string): string[] {
  return [...markdown.matchAll(/^#+ (.+)$/gm)].map(([, heading]) =>
    heading
      .toLowerCase()
      .replace(/[^\p{L}\p{N}\s_-]/gu, "")
      .trim()
      .replaceAll(" ", "-"),
  );
}

it("docs/README.md leads to every page", () => {
  const index = read("docs/README.md");
  const pagesOfDocs = pages().filter((page) => page.startsWith("docs/") && page !== "docs/README.md");
  expect(pagesOfDocs.filter((page) => !index.includes(`](${page.slice("docs/".length)})`))).toEqual([]);
});

describe("cautions stand where the numbers stand", () => {
  it.each(["explanation/grip.md", "explanation/rebound.md", "explanation/cold.md", "README.md"])(
    "docs/%s defers to tests, standards and a qualified person",
    (page) => {
      const text = read(join("docs", page));
      expect(text).toMatch(/qualified person/);
      expect(text).toMatch(/standard/);
      // In the first lines, not at the end.
      expect(text.split("\n").slice(0, 6).join(" ")).toMatch(/certificate|not in this number|safe to use/);
    },
  );

  it.each(readdirSync("docs/explanation"))("docs/explanation/%s says when not to trust it", (page) => {
    expect(read(join("docs/explanation", page))).toContain("**When not to trust it**");
  });
});
