import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { findInputs } from "../../src/study/inputs/find-inputs.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-find-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const write = (path: string) => {
  mkdirSync(join(folder, path, ".."), { recursive: true });
  writeFileSync(join(folder, path), "x");
};
const find = async (paths: string[], out = join(folder, "frostline-out")) => {
  const { found, problems } = await findInputs(paths, out);
  return { paths: found?.inputs.map(({ path }) => path), found, problems };
};

it("finds files in folders within folders, sorted, with forward slashes", async () => {
  for (const path of ["b.csv", "a.txt", "sub/deep/c.xlsx"]) write(path);
  expect((await find([folder])).paths).toEqual(["a.txt", "b.csv", "sub/deep/c.xlsx"]);
});

it("the order of the arguments does not matter, and a file named twice is read once", async () => {
  for (const path of ["b.csv", "a.csv"]) write(path);
  const a = join(folder, "a.csv");
  const b = join(folder, "b.csv");
  expect((await find([b, a, b])).paths).toEqual(["a.csv", "b.csv"]);
});

it("leaves out hidden files, lock files of open workbooks and the output folder", async () => {
  for (const path of ["a.csv", ".hidden", "~$a.xlsx", "frostline-out/tables/spectrum.csv"]) write(path);
  expect((await find([folder])).paths).toEqual(["a.csv"]);
});

it("says which files it passed over by name, and reads them when asked", async () => {
  for (const path of ["a.csv", "notes.docx", "README.txt"]) write(path);
  const { paths, found } = await find([folder]);
  expect(paths).toEqual(["a.csv"]);
  expect(found!.notices[0]).toMatchObject({ code: "study.passed-over" });
  expect(found!.notices[0].message).toContain("notes.docx");
  expect((await find([join(folder, "README.txt")])).paths).toEqual(["README.txt"]);
});

it("does not follow a link out of the folder, and says so", async () => {
  write("in/a.csv");
  write("out.csv");
  symlinkSync(join(folder, "out.csv"), join(folder, "in", "link.csv"));
  symlinkSync(join(folder), join(folder, "in", "up"));
  const { paths, found } = await find([join(folder, "in")]);
  expect(paths).toEqual(["a.csv"]);
  expect(found!.notices.map(({ code }) => code)).toEqual(["study.not-followed", "study.not-followed"]);
});

it("finds the study file beside the exports, and does not take it for one", async () => {
  for (const path of ["a.csv", "study.yaml"]) write(path);
  const { paths, found } = await find([folder]);
  expect(paths).toEqual(["a.csv"]);
  expect(found!.study).toBe(join(folder, "study.yaml"));
});

it("a path that is not there is a problem, not an empty result", async () => {
  const { found, problems } = await find([join(folder, "nowhere")]);
  expect(found).toBeNull();
  expect(problems[0]).toMatchObject({ code: "study.no-such-path" });
});
