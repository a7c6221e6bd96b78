import { spawn, spawnSync } from "node:child_process";
import {
  chownSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { bundleOf } from "../../scripts/bundler.mjs";
import { stagingName } from "../../src/study/outputs/staging-name.js";
import {
  cleanOutputs,
  type OutputFile,
  whyNotWritten,
  writeOutputs,
} from "../../src/study/outputs/write-outputs.js";
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
  it("half-written: it is removed once it is forgotten, and what somebody may still be writing is not", async () => {
    await writeOutputs(folder, output(1));
    const [old, young] = [stagingName(), stagingName()];
    for (const name of [old, young]) {
      mkdirSync(join(folder, name, "tables"), { recursive: true });
      writeFileSync(join(folder, name, "results.json"), "{");
    }
    const hourAgo = new Date(Date.now() - 3_600_000);
    for (const path of [join(folder, old, "tables"), join(folder, old)]) utimesSync(path, hourAgo, hourAgo);
    await cleanOutputs(folder);
    expect(leftovers(folder)).toEqual([young]);
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

describe("a folder that others may write to", () => {
  /** A folder with somebody's files. */
  function theirs(): string {
    const other = join(folder, "theirs");
    mkdirSync(join(other, "tables"), { recursive: true });
    writeFileSync(join(other, "diary.txt"), "mine");
    writeFileSync(join(other, "report.html"), "my report");
    writeFileSync(join(other, "tables", "sums.csv"), "1");
    return other;
  }
  const textsOf = (other: string) =>
    ["diary.txt", "report.html", "tables/sums.csv"].map((path) => readFileSync(join(other, path), "utf8"));

  it("a link planted under the name of a complete output moves and overwrites nobody's files", async () => {
    const other = theirs();
    const out = join(folder, "out");
    mkdirSync(out);
    symlinkSync(other, join(out, ".frostline-ready"));
    const problem = await writeOutputs(out, output(1));
    expect(problem?.message).toMatch(
      /nothing was replaced: \.frostline-ready in it was made by another user/,
    );
    await cleanOutputs(out);
    expect(textsOf(other)).toEqual(["mine", "my report", "1"]);
    expect(readdirSync(out)).toEqual([".frostline-ready"]);
  });

  it("a folder planted there has nothing moved but what its list names", async () => {
    const out = join(folder, "out");
    mkdirSync(out);
    writeFileSync(join(out, "diary.txt"), "yours");
    const other = theirs();
    renameSync(other, join(out, ".frostline-ready"));
    const problem = await writeOutputs(out, output(1));
    expect(problem?.message).toMatch(/\.frostline-ready in it holds what is no output of Frostline/);
    expect(readFileSync(join(out, "diary.txt"), "utf8")).toBe("yours");
    expect(textsOf(join(out, ".frostline-ready"))).toEqual(["mine", "my report", "1"]);
    expect(readdirSync(out).sort()).toEqual([".frostline-ready", "diary.txt"]);
  });

  it.skipIf(process.getuid?.() !== 0)("a whole output that another user planted is not moved", async () => {
    await writeOutputs(folder, output(1));
    await writeOutputs(join(folder, "other"), output(2));
    renameSync(join(folder, "other"), join(folder, ".frostline-ready"));
    chownSync(join(folder, ".frostline-ready"), 65534, 65534);
    await cleanOutputs(folder);
    expect(numberIn(filesOf(folder))).toBe(1);
    expect((await writeOutputs(folder, output(3)))?.message).toMatch(/made by another user/);
  });

  it("tables that are a link are not written through", async () => {
    const other = theirs();
    const out = join(folder, "out");
    mkdirSync(out);
    symlinkSync(join(other, "tables"), join(out, "tables"));
    const problem = await writeOutputs(out, output(1));
    expect(problem?.message).toMatch(/nothing was replaced: a link stands in the place of a folder/);
    expect(readdirSync(join(other, "tables"))).toEqual(["sums.csv"]);
    expect(readdirSync(out)).toEqual(["tables"]);
  });

  it("a failed write leaves no folder that was not there before", async () => {
    const long = { path: `tables/${"x".repeat(300)}.csv`, content: "" };
    const problem = await writeOutputs(join(folder, "new", "deeper", "out"), [...output(1), long]);
    expect(problem).not.toBeNull();
    expect(readdirSync(folder)).toEqual([]);
  });
});

describe("a place that cannot be written", () => {
  it("names the spreadsheet program that holds a table open as the likely reason", () => {
    const refusedRename = Object.assign(new Error(), { code: "EPERM", syscall: "rename" });
    expect(whyNotWritten(refusedRename, "win32")).toMatch(/most likely a spreadsheet program such as Excel/);
    expect(whyNotWritten(refusedRename, "linux")).toMatch(/may not be written/);
    expect(whyNotWritten(Object.assign(new Error(), { code: "EBUSY" }))).toMatch(/close the file there/);
  });
});

// Two containers on one share: the same process numbers mean other processes.
const hasNamespaces =
  process.getuid?.() === 0 && spawnSync("unshare", ["--pid", "--fork", "true"]).status === 0;
it.skipIf(!hasNamespaces)(
  "writers in process namespaces of their own lose nothing of each other's",
  { timeout: 120_000 },
  async () => {
    const script = join(import.meta.dirname, "make", "write-shares.mjs");
    const bundle = fileURLToPath(await bundleOf(script, join(folder, "bundle")));
    const ends = await Promise.all(
      ["a", "b", "c"].map(
        (letter) =>
          new Promise<string>((done) => {
            const child = spawn("unshare", [
              "--pid",
              "--fork",
              process.execPath,
              bundle,
              join(folder, "out"),
              letter,
            ]);
            let said = "";
            child.stdout.on("data", (piece) => (said += piece));
            child.stderr.on("data", (piece) => (said += piece));
            child.on("close", (code) => done(`${code} ${said.trim()}`));
          }),
      ),
    );
    expect(ends).toEqual(["0 20 written", "0 20 written", "0 20 written"]);
    expect(readdirSync(join(folder, "out")).filter((name) => name.startsWith("part-"))).toHaveLength(60);
    expect(leftovers(join(folder, "out"))).toEqual([]);
  },
);
