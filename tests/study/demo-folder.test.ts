import { unzipSync } from "fflate";
import picomatch from "picomatch";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { demoCompounds } from "../../src/study/demo/compounds.js";
import { demoFolder } from "../../src/study/demo/demo-folder.js";
import { resolveStudy } from "../../src/study/study-file/study.js";
import { parseStudyFile } from "../../src/study/study-file/study-file.js";

const files = demoFolder();
const bytesOf = (path: string) => files.find((file) => file.path === path)!.bytes;
const textOf = (path: string) => new TextDecoder().decode(bytesOf(path));

describe("the demo folder", () => {
  it("is the same bytes at every call, small, with every path once", () => {
    const again = demoFolder();
    expect(again.map(({ path }) => path)).toEqual(files.map(({ path }) => path));
    for (const [i, { bytes }] of again.entries()) expect(bytes).toEqual(files[i].bytes);
    expect(new Set(files.map(({ path }) => path.normalize("NFC").toLowerCase())).size).toBe(files.length);
    expect(files.reduce((sum, { bytes }) => sum + bytes.length, 0)).toBeLessThan(1.5e6);
  });

  it("says that everything in it is invented", () => {
    expect(textOf("README.txt")).toMatch(/Everything in this folder is invented/);
    for (const { name } of demoCompounds) expect(textOf("README.txt")).toContain(name);
  });

  it("is written in four encodings", () => {
    const starts = files.map(({ bytes }) =>
      [...bytes.slice(0, 3)].map((byte) => byte.toString(16)).join(" "),
    );
    expect(starts.filter((start) => start.startsWith("ff fe")).length).toBeGreaterThan(0);
    expect(starts.filter((start) => start === "ef bb bf").length).toBeGreaterThan(0);
    // 0xFC is "ü" in Windows-1252; on its own it is not valid UTF-8.
    const german = bytesOf("Birch 60 Temperaturdurchläufe.csv");
    expect(german).toContain(0xfc);
    expect(() => new TextDecoder("utf-8", { fatal: true }).decode(german)).toThrow();
  });

  it("holds a workbook of whole parts, and a broken copy that does not open", () => {
    const parts = unzipSync(bytesOf("Linden PU.xlsx"));
    expect(Object.keys(parts)).toEqual(
      expect.arrayContaining(["[Content_Types].xml", "_rels/.rels", "xl/workbook.xml"]),
    );
    const read = (path: string) => new TextDecoder().decode(parts[path]);
    const sheets = [...read("xl/workbook.xml").matchAll(/<sheet name="([^"]+)"/g)].map(([, name]) => name);
    expect(sheets).toEqual(["Notes", "Temperature sweep", "Isotherms"]);
    for (const path of Object.keys(parts).filter((name) => name.startsWith("xl/worksheets/"))) {
      expect(read("[Content_Types].xml")).toContain(`PartName="/${path}"`);
      expect(read("xl/_rels/workbook.xml.rels")).toContain(`Target="${path.slice(3)}"`);
    }
    expect(() => unzipSync(bytesOf("Linden PU Kopie.xlsx"))).toThrow();
  });

  it("has a study file whose globs each take a file and leave only the shared ones", () => {
    const study = parse(textOf("study.yaml"));
    const paths = files.map(({ path }) => path);
    const taken = new Map<string, string>();
    for (const { name, files: globs } of study.compounds) {
      for (const glob of globs) {
        const matching = paths.filter((path) => picomatch.isMatch(path, glob));
        expect(matching, `${name}: ${glob}`).not.toHaveLength(0);
        for (const path of matching) {
          expect(taken.get(path), path).toBeUndefined();
          taken.set(path, name);
        }
      }
    }
    expect(paths.filter((path) => !taken.has(path))).toEqual([
      "Rückprall ISO 4662.csv",
      "Routine properties winter trial.csv",
      "Perda por abrasão.txt",
      "Abrasion repeats, second look.csv",
      "study.yaml",
      "README.txt",
    ]);
    expect(study.compounds.map(({ name }: { name: string }) => name)).toEqual(
      demoCompounds.map(({ name }) => name),
    );
    expect(study.compounds.filter(({ reference }: { reference?: boolean }) => reference)).toHaveLength(1);
    expect(study.uses.map((use: { temperature_C: number }) => use.temperature_C)).toEqual([5, -10, -20, -30]);
    expect(study.superposition.verticalShift).toBe("auto");
    expect(study.seed).toBe(1);
  });

  it("has a study file that the program takes, with the values it says are defaults", () => {
    const parsed = parseStudyFile(textOf("study.yaml"));
    if (!parsed.ok) throw new Error(JSON.stringify(parsed.problem));
    const study = resolveStudy(parsed.value, new Map());
    const defaults = parseStudyFile("");
    if (!defaults.ok) throw new Error(JSON.stringify(defaults.problem));
    const plain = resolveStudy(defaults.value, new Map());
    // Every superposition and verdict value in the example is the default, as its comment says.
    expect(study.superposition).toEqual(plain.superposition);
    expect(study.prediction).toEqual(plain.prediction);
    expect(study.seed).toBe(plain.seed);
    const [first] = study.uses;
    const [assumed] = plain.uses;
    expect(first.sliding).toEqual(assumed.sliding);
    expect({ ...first.impact, method: "" }).toEqual({ ...assumed.impact, method: "" });
  });

  it("comments every key of the study file at its first use", () => {
    const seen = new Set<string>();
    for (const line of textOf("study.yaml").split("\n")) {
      const key = /^\s*(?:- )?([A-Za-z]\w*):/.exec(line)?.[1];
      if (key === undefined || seen.has(key)) continue;
      seen.add(key);
      const before = textOf("study.yaml").split(line)[0].trimEnd().split("\n").pop()!;
      expect(line.includes(" # ") || before.startsWith("#"), `"${key}" has no comment: ${line}`).toBe(true);
    }
    expect(seen.size).toBeGreaterThan(30);
  });

  it("uses the texture, the files and the compounds that it names", () => {
    const study = parse(textOf("study.yaml"));
    const textures = ["worn asphalt", ...study.textures.map(({ name }: { name: string }) => name)];
    for (const use of study.uses) expect(textures).toContain(use.sliding.texture);
    const names = demoCompounds.map(({ name }) => name);
    for (const series of study.fillerSeries) {
      for (const name of series.compounds) expect(names).toContain(name);
    }
    for (const [path, columns] of Object.entries(study.columns)) {
      for (const header of Object.keys(columns as object)) expect(textOf(path)).toContain(header);
    }
  });
});
