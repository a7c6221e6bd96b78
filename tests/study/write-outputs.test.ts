import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { writeOutputs } from "../../src/study/outputs/write-outputs.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-write-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const files = (text: string) => [
  { path: "results.json", content: text },
  { path: "tables/a.csv", content: text },
];

it("writes into a new folder, replaces what is there, and leaves nothing else behind", async () => {
  const out = join(folder, "deep", "out");
  expect(await writeOutputs(out, files("one"))).toBeNull();
  expect(await writeOutputs(out, files("two"))).toBeNull();
  expect(readFileSync(join(out, "tables", "a.csv"), "utf8")).toBe("two");
  expect(readdirSync(out).sort()).toEqual(["results.json", "tables"]);
});

it("other files in the folder are left alone", async () => {
  writeFileSync(join(folder, "mine.txt"), "mine");
  await writeOutputs(folder, files("one"));
  expect(readFileSync(join(folder, "mine.txt"), "utf8")).toBe("mine");
});

it("where one file cannot be written, nothing is replaced and the reason is named", async () => {
  await writeOutputs(folder, files("one"));
  const long = { path: `tables/${"x".repeat(300)}.csv`, content: "two" };
  const problem = await writeOutputs(folder, [...files("two"), long]);
  expect(problem).toMatchObject({ code: "study.cannot-write" });
  expect(readFileSync(join(folder, "results.json"), "utf8")).toBe("one");
  expect(readdirSync(folder).sort()).toEqual(["results.json", "tables"]);
});

it("a file where the folder should be is named as the reason", async () => {
  writeFileSync(join(folder, "out"), "");
  const problem = await writeOutputs(join(folder, "out"), files("one"));
  expect(problem?.message).toContain("a file is in the way");
});
