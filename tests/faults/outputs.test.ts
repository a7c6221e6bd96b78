import { spawnSync } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Worker } from "node:worker_threads";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { cleanOutputs, type OutputFile, writeOutputs } from "../../src/study/outputs/write-outputs.js";
import { filesOf, isOneSet, leftovers } from "./make/output-set.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-outputs-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** An output that states its number everywhere, large enough to be written in many pieces. */
function output(number: number, tables = ["outlooks", "spectrum"]): OutputFile[] {
  const body = `${number}\n`.repeat(100_000);
  return [
    { path: "results.json", content: JSON.stringify({ schema: "frostline.results/1", body, number }) },
    ...tables.map((name) => ({ path: `tables/${name}.csv`, content: `number\r\n${body}${number}\r\n` })),
    { path: "report.html", content: `<html>${body}</html>` },
  ];
}
const numberIn = (files: Map<string, Buffer>) =>
  JSON.parse(files.get("results.json")!.toString("utf8")).number;

describe("a reader beside the writer", () => {
  it("never sees half a file, and can tell by the list whether all are of one output", async () => {
    await writeOutputs(folder, output(0));
    const reader = new Worker(new URL("./make/read-in-a-loop.mjs", import.meta.url), { workerData: folder });
    const seen = new Promise<{
      reads: number;
      whole: number;
      half: string[];
      sets: number;
      torn: number;
      lied: number;
    }>((done, fail) => {
      reader.on("message", done);
      reader.on("error", fail);
    });
    for (let number = 1; number <= 60; number++)
      expect(await writeOutputs(folder, output(number))).toBeNull();
    reader.postMessage("stop");
    const { reads, whole, half, sets, torn, lied } = await seen;
    expect(half).toEqual([]);
    expect(whole).toBe(reads);
    expect(reads).toBeGreaterThan(100);
    expect(sets + torn).toBeGreaterThan(20);
    // Where the hashes fit, every file states the same number.
    expect(lied).toBe(0);
    expect(numberIn(filesOf(folder))).toBe(60);
  });
});

describe("what a killed writer leaves", () => {
  /** A process that has ended for sure. */
  const deadPid = () => spawnSync(process.execPath, ["-e", ""]).pid;

  it("half-written: it is removed at the next start, and what a living writer is at is not", async () => {
    await writeOutputs(folder, output(1));
    const dead = join(folder, `.frostline-${deadPid()}-abc123`);
    mkdirSync(join(dead, "tables"), { recursive: true });
    writeFileSync(join(dead, "results.json"), "{");
    const living = `.frostline-${process.ppid}-def456`;
    mkdirSync(join(folder, living));
    await cleanOutputs(folder);
    expect(leftovers(folder)).toEqual([living]);
    expect(numberIn(filesOf(folder))).toBe(1);
  });

  it.each([0, 1, 2, 3, 4])(
    "complete, with %i files moved: the rest is moved at the next start",
    async (moved) => {
      await writeOutputs(folder, output(1));
      await writeOutputs(join(folder, "other"), output(2));
      renameSync(join(folder, "other"), join(folder, ".frostline-ready"));
      const order = ["report.html", "results.json", "tables/outlooks.csv", "tables/spectrum.csv"];
      for (const path of order.slice(0, moved))
        renameSync(join(folder, ".frostline-ready", path), join(folder, path));
      expect(isOneSet(filesOf(folder))).toBe(moved === 0);
      await cleanOutputs(folder);
      expect(isOneSet(filesOf(folder))).toBe(true);
      expect(numberIn(filesOf(folder))).toBe(2);
      expect(leftovers(folder)).toEqual([]);
    },
  );

  it("complete, when another output is written at once: that one wins, and it is whole", async () => {
    await writeOutputs(folder, output(1));
    await writeOutputs(join(folder, "other"), output(2));
    renameSync(join(folder, "other"), join(folder, ".frostline-ready"));
    expect(await writeOutputs(folder, output(3))).toBeNull();
    expect(isOneSet(filesOf(folder))).toBe(true);
    expect(numberIn(filesOf(folder))).toBe(3);
  });
});

it("several writers at once: the folder holds one whole output of theirs in the end", async () => {
  const problems = await Promise.all(
    [1, 2, 3, 4, 5, 6].map((number) => writeOutputs(folder, output(number))),
  );
  expect(problems).toEqual([null, null, null, null, null, null]);
  expect(isOneSet(filesOf(folder))).toBe(true);
  expect(leftovers(folder)).toEqual([]);
});

it("tables that an output no longer has go with the output they belonged to; other files stay", async () => {
  await writeOutputs(folder, output(1, ["outlooks", "spectrum", "shift-factors"]));
  writeFileSync(join(folder, "tables", "mine.csv"), "mine");
  await writeOutputs(folder, output(2, ["outlooks"]));
  expect(readdirSync(join(folder, "tables")).sort()).toEqual(["files.csv", "mine.csv", "outlooks.csv"]);
});

it("a list that was tampered with makes it remove nothing outside its tables", async () => {
  await writeOutputs(folder, output(1));
  writeFileSync(join(folder, "precious.csv"), "precious");
  const hash = "0".repeat(64);
  const rows = ["tables/../precious.csv", "../precious.csv", "precious.csv", "results.json", "/etc/hostname"];
  const list = join(folder, "tables", "files.csv");
  writeFileSync(list, `\uFEFFpath,bytes,sha256\r\n${rows.map((path) => `${path},1,${hash}\r\n`).join("")}`);
  await writeOutputs(folder, output(2));
  expect(readFileSync(join(folder, "precious.csv"), "utf8")).toBe("precious");
  expect(existsSync(join(folder, "results.json"))).toBe(true);
});

it("a folder in the way of a file is named before anything is replaced", async () => {
  await writeOutputs(folder, output(1));
  rmSync(join(folder, "report.html"));
  mkdirSync(join(folder, "report.html"));
  const problem = await writeOutputs(folder, output(2));
  expect(problem?.message).toMatch(/nothing was replaced: a folder is in the way/);
  expect(numberIn(filesOf(folder))).toBe(1);
  expect(leftovers(folder)).toEqual([]);
});

it("a link in the place of a file is replaced, and what it points to is not written", async () => {
  writeFileSync(join(folder, "elsewhere"), "mine");
  mkdirSync(join(folder, "out"));
  symlinkSync(join(folder, "elsewhere"), join(folder, "out", "results.json"));
  await writeOutputs(join(folder, "out"), output(1));
  expect(readFileSync(join(folder, "elsewhere"), "utf8")).toBe("mine");
  expect(isOneSet(filesOf(join(folder, "out")))).toBe(true);
});
