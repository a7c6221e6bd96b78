import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join, relative, sep } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { sortDropped } from "../../src/study/drop-page/sort-dropped.js";
import { findInputs } from "../../src/study/inputs/find-inputs.js";

const contents: Record<string, string> = {
  "winter/birch.csv": "1",
  "winter/.hidden.csv": "2",
  "winter/~$alder.xlsx": "3",
  "winter/study.yaml": "title: Winter",
  "winter/README.txt": "4",
  "winter/notes.MD": "5",
  "winter/second/alder.csv": "6",
  "winter/second/study.yaml": "title: Second",
  "winter/node_modules/x.csv": "7",
  "winter/.git/y.csv": "8",
  "winter/out/results.json": '{ "schema": "frostline.results/1" }',
  "winter/out/report.html": "9",
  "winter/out/tables/inputs.csv": "10",
  "winter/out/own.csv": "11",
  "winter/other/results.json": '{ "schema": "of somebody else" }',
  "winter/other/report.html": "12",
  "winter/other/tables/sweep.csv": "13",
  "summer/birch.csv": "14",
  "loose.csv": "15",
};
let root: string;
beforeAll(() => {
  root = mkdtempSync(join(tmpdir(), "frostline-sort-"));
  for (const [path, content] of Object.entries(contents)) {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), content);
  }
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

/** The files as a browser hands them over when these files and folders are dropped. */
function dropOf(given: string[]) {
  return given.flatMap((name) =>
    Object.entries(contents)
      .filter(([path]) => path === name || path.startsWith(`${name}/`))
      .map(([path, content]) => ({
        path: path.slice(dirname(name) === "." ? 0 : dirname(name).length + 1),
        file: new File([content], basename(path)),
      })),
  );
}

describe("dropped files and folders", () => {
  it.each([
    [["winter"]],
    [["winter", "summer"]],
    [["loose.csv", "summer"]],
    [["loose.csv", "winter", "summer"]],
    [["winter/birch.csv", "winter/study.yaml"]],
    [["winter/second"]],
  ])("%j give the inputs, the study and the notices of the command line", async (given) => {
    const sorted = await sortDropped(dropOf(given));
    const { found } = await findInputs(
      given.map((name) => join(root, name)),
      join(root, "frostline-out"),
    );
    expect(sorted.inputs.map(({ path }) => path)).toEqual(found!.inputs.map(({ path }) => path));
    expect(sorted.inputs.length).toBeGreaterThan(0);
    const study = found!.study === null ? null : relative(found!.base!, found!.study).split(sep).join("/");
    expect(sorted.study?.path ?? null).toEqual(study);
    const inOrder = (notices: { message: string }[]) => notices.map(({ message }) => message).sort();
    expect(inOrder(sorted.notices)).toEqual(inOrder(found!.notices));
  });

  it("an earlier results.json among them is what the new results are compared with", async () => {
    const results = new File(['{ "schema": "frostline.results/1" }'], "results.json");
    const dropped = [...dropOf(["loose.csv"]), { path: "results.json", file: results }];
    const sorted = await sortDropped(dropped);
    expect(sorted.since).toEqual({ path: "results.json", content: results });
    expect(sorted.inputs.map(({ path }) => path)).toEqual(["loose.csv"]);
    expect(sorted.notices).toEqual([]);
    // An output folder as a whole is passed over, as on the command line.
    expect((await sortDropped(dropOf(["winter"]))).since).toBeNull();
  });

  it("are read whatever the name says when asked for, and a study elsewhere is named", async () => {
    const dropped = dropOf(["winter", "summer"]);
    const sorted = await sortDropped(dropped, new Set(["winter/notes.MD"]));
    expect(sorted.inputs.map(({ path }) => path)).toContain("winter/notes.MD");
    expect(sorted.passedOver.map(({ path }) => path)).not.toContain("winter/notes.MD");
    expect(sorted.study).toBeNull();
    expect(sorted.unusedStudies).toEqual(["winter/second/study.yaml", "winter/study.yaml"]);
  });
});
