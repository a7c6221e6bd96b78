import {
  appendFileSync,
  chmodSync,
  mkdirSync,
  mkdtempSync,
  renameSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { outputFiles } from "../../src/study/outputs/output-files.js";
import { writeOutputs } from "../../src/study/outputs/write-outputs.js";
import { assess } from "../../src/study/run/assess.js";
import { type FolderCache, folderCache } from "../../src/study/run/cache.js";
import { WatchedFolder } from "../../src/study/watch/watched-folder.js";
import { differences, differing, filesOf } from "./make/output-set.js";
import { quickExport } from "./make/quick-export.js";
import { unprivileged } from "./make/unprivileged.js";

/** The same folder as in watch.test.ts, without a program of its own and with a clock that the test holds. */
let folder: string;
let inputs: string;
let out: string;
let said: string[];

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-watched-"));
  inputs = join(folder, "in");
  out = join(folder, "out");
  for (const each of [inputs, out]) mkdirSync(each);
  for (const each of [folder, inputs, out]) chmodSync(each, 0o777);
  said = [];
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const settle = 1000;
const put = (name: string, content: string) => writeFileSync(join(inputs, name), content);
function watched(cache: FolderCache = folderCache(join(folder, "cache"), "test")): WatchedFolder {
  return new WatchedFolder(inputs, { out, settle, workers: 1, version: "test" }, cache, (text) =>
    said.push(text),
  );
}
/** Everything said since the last call. */
const news = () => said.splice(0);
const reports = (lines: string[]) => lines.filter((line) => line.startsWith("report written")).length;

async function expectClean() {
  const clean = join(folder, "clean");
  rmSync(clean, { recursive: true, force: true });
  const outcome = await assess([inputs], { outputFolder: out, studyFile: null, workers: 1, version: "test" });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  expect(await writeOutputs(clean, await outputFiles(outcome.assessment, []))).toBeNull();
  expect(differences(out, clean)).toEqual([]);
}

it("a file that grows for a minute is read once, when it stands still, and holds nobody up", async () => {
  const content = quickExport(1, "Birch 60");
  const piece = (second: number) =>
    content.slice(
      Math.floor((second * content.length) / 61),
      Math.floor(((second + 1) * content.length) / 61),
    );
  put("slow.csv", piece(0));
  put("quick.csv", quickExport(2, "Alder 45"));
  const one = watched();
  let now = 0;
  await one.look(now);
  for (let second = 1; second <= 60; second++) {
    appendFileSync(join(inputs, "slow.csv"), piece(second));
    now += 999;
    expect(await one.look(now)).toBeLessThanOrEqual(settle);
  }
  expect(news()).toEqual(["+ quick.csv  rebound", "report written: 1 compound from 1 file"]);
  await one.look(now + settle);
  expect(news()).toEqual(["+ slow.csv  rebound", "report written: 2 compounds from 2 files"]);
  await expectClean();
});

it("does not depend on the wall clock: times far back and far ahead are changes like any other", async () => {
  put("a.csv", quickExport(1));
  const one = watched();
  await one.look(0);
  await one.look(settle);
  news();
  for (const [i, time] of [new Date(0), new Date("2099-01-01"), new Date("1999-12-31")].entries()) {
    put("a.csv", quickExport(2 + i));
    utimesSync(join(inputs, "a.csv"), time, time);
    await one.look(10_000 * (i + 1));
    await one.look(10_000 * (i + 1) + settle);
    expect(news(), time.toISOString()).toEqual([
      "~ a.csv  rebound",
      "report written: 1 compound from 1 file",
    ]);
  }
  await expectClean();
});

it("a clock that stands still delays, and loses nothing", async () => {
  put("a.csv", quickExport(1));
  const one = watched();
  for (let i = 0; i < 5; i++) await one.look(7);
  expect(news()).toEqual([]);
  await one.look(7 + settle);
  expect(reports(news())).toBe(1);
});

it("looks that find nothing new write nothing and say nothing", async () => {
  put("a.csv", quickExport(1));
  const one = watched();
  await one.look(0);
  await one.look(settle);
  news();
  for (let i = 2; i < 6; i++) expect(await one.look(i * settle)).toBeGreaterThan(settle);
  expect(news()).toEqual([]);
});

it("a file that vanishes between listing and opening is said to be gone, and the next look puts that right", async () => {
  put("a.csv", quickExport(1));
  put("b.csv", quickExport(2));
  // The first file's entry in the cache is asked for after the folder was listed and before b is opened.
  const cache = folderCache(join(folder, "cache"), "test");
  const get = cache.get.bind(cache);
  cache.get = async (kind, key) => {
    rmSync(join(inputs, "b.csv"), { force: true });
    return get(kind, key);
  };
  const one = watched(cache);
  await one.look(0);
  await one.look(settle);
  expect(news()).toEqual([
    "+ a.csv  rebound",
    expect.stringMatching(/^✗ b\.csv {2}rejected \[study\.unreadable-file\].*is gone\..*run again\.$/),
    "report written: 1 compound from 2 files, 1 rejected",
  ]);
  await one.look(2 * settle);
  expect(news()).toEqual(["− b.csv  left", "report written: 1 compound from 1 file"]);
  await expectClean();
});

it("a file that may not be read is named, said once, and read as soon as it may be", async () => {
  put("a.csv", quickExport(1));
  put("b.csv", quickExport(2));
  chmodSync(join(inputs, "b.csv"), 0o000);
  await unprivileged(async () => {
    const one = watched();
    await one.look(0);
    await one.look(settle);
    const first = news();
    expect(first[1]).toMatch(
      /^✗ b\.csv {2}rejected \[study\.unreadable-file\] The file may not be read\. Give the user/,
    );
    expect(reports(first)).toBe(1);
    for (let i = 2; i < 5; i++) expect(await one.look(i * settle)).toBeLessThan(10_000);
    expect(news()).toEqual([]);
    process.seteuid?.(process.getuid!());
    chmodSync(join(inputs, "b.csv"), 0o644);
    await one.look(6 * settle);
    expect(news()).toEqual(["~ b.csv  rebound", "report written: 2 compounds from 2 files"]);
  });
  await expectClean();
});

it("an output folder that may not be written is said once, what is there stays, and it is tried again", async () => {
  put("a.csv", quickExport(1));
  const one = watched();
  await one.look(0);
  await one.look(settle);
  const before = filesOf(out);
  expect(before.size).toBeGreaterThan(5);
  news();
  chmodSync(out, 0o555);
  chmodSync(join(out, "tables"), 0o555);
  put("b.csv", quickExport(2));
  await unprivileged(async () => {
    await one.look(2 * settle);
    for (let i = 3; i < 6; i++) await one.look(i * settle);
  });
  const told = news();
  expect(told[0]).toBe("+ b.csv  rebound");
  expect(told.slice(1)).toEqual([
    expect.stringMatching(
      /^\[study\.cannot-write\] .*nothing was replaced: the folder may not be written; .* tried again\.$/,
    ),
  ]);
  expect(differing(filesOf(out), before)).toEqual([]);
  chmodSync(out, 0o755);
  chmodSync(join(out, "tables"), 0o755);
  await one.look(7 * settle);
  expect(news()).toEqual(["report written: 2 compounds from 2 files"]);
  await expectClean();
});

it("a file replaced by another of the same size and time is a change", async () => {
  const time = new Date("2024-02-03T04:05:06Z");
  put("a.csv", quickExport(1, "Birch 60"));
  utimesSync(join(inputs, "a.csv"), time, time);
  const one = watched();
  await one.look(0);
  await one.look(settle);
  news();
  writeFileSync(join(folder, "other.csv"), quickExport(1, "Alder 45").replace(/ +$/, ""));
  utimesSync(join(folder, "other.csv"), time, time);
  renameSync(join(folder, "other.csv"), join(inputs, "a.csv"));
  await one.look(2 * settle);
  await one.look(3 * settle);
  expect(news()[0]).toBe("~ a.csv  rebound");
  await expectClean();
});

it("a defect in the computation is said once and does not end the watch", async () => {
  put("a.csv", quickExport(1));
  const cache = folderCache(join(folder, "cache"), "test");
  const sound = cache.get.bind(cache);
  cache.get = async (kind, key) => {
    if (kind === "compounds") throw new Error("no such thing as this");
    return sound(kind, key);
  };
  const one = watched(cache);
  await one.look(0);
  for (let i = 1; i < 4; i++) await one.look(i * settle);
  expect(news()).toEqual([
    "+ a.csv  rebound",
    expect.stringMatching(/^\[study\.failed\] no such thing as this; /),
  ]);
  cache.get = sound;
  put("b.csv", quickExport(2));
  await one.look(5 * settle);
  await one.look(6 * settle);
  expect(news()).toEqual(["+ b.csv  rebound", "report written: 2 compounds from 2 files"]);
  await expectClean();
});

it("10,000 files: a change in one costs one look, and only that one is read", async () => {
  const count = 10_000;
  for (let i = 0; i < count; i++) put(`f${i}.log`, "");
  put("a.csv", quickExport(1));
  const one = watched();
  await one.look(0);
  await one.look(settle);
  // Passed over by name, and counted in one notice.
  expect(news()).toEqual(["+ a.csv  rebound", "report written: 1 compound from 1 file"]);
  const notices = filesOf(out).get("tables/notices.csv")!.toString("utf8");
  expect(notices).toContain(`${count} files were passed over`);
});
