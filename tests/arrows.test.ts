import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

/** Wrong and right imports, each in a file of its own, linted by the project's own rules in one run. */
const forbidden = [
  ["src/numeric/a.ts", "../words/notice.js"],
  ["src/numeric/b.ts", "../io/measurement.js"],
  ["src/words/b.ts", "../io/measurement.js"],
  ["src/io/a.ts", "../fit/peak.js"],
  ["src/io/b.ts", "../study/assess.js"],
  ["src/fit/a.ts", "../predict/rebound.js"],
  ["src/predict/a.ts", "../report/results.js"],
  ["src/report/a.ts", "../study/assess.js"],
  ["src/report/html/a.ts", "../../study/assess.js"],
  ["src/study/a.ts", "../cli.js"],
];
const allowed = [
  ["src/io/ok.ts", "../words/notice.js"],
  ["src/fit/ok-too.ts", "../numeric/statistics/quantile.js"],
  ["src/words/ok.ts", "../numeric/statistics/quantile.js"],
  ["src/fit/ok.ts", "../io/measurement.js"],
  ["src/predict/ok.ts", "../fit/peak.js"],
  ["src/study/ok.ts", "../report/results.js"],
];
/** Circles: of two files, of types alone, and through a third file in another folder. */
const circles = [
  [
    ["src/report/circle-a.ts", 'import { b } from "./circle-b.js";\n\nexport const a = (): unknown => b;\n'],
    ["src/report/circle-b.ts", 'import { a } from "./circle-a.js";\n\nexport const b = (): unknown => a;\n'],
  ],
  [
    ["src/fit/circle-c.ts", 'import type { D } from "./circle-d.js";\n\nexport type C = { d: D | null };\n'],
    ["src/fit/circle-d.ts", 'import type { C } from "./circle-c.js";\n\nexport type D = { c: C | null };\n'],
  ],
  [
    [
      "src/predict/circle-e.ts",
      'import type { F } from "./rooms/circle-f.js";\n\nexport type E = { f: F | null };\n',
    ],
    [
      "src/predict/rooms/circle-f.ts",
      'import type { G } from "../circle-g.js";\n\nexport type F = { g: G | null };\n',
    ],
    [
      "src/predict/circle-g.ts",
      'import type { E } from "./circle-e.js";\n\nexport type G = { e: E | null };\n',
    ],
  ],
];
const nodeModules = [
  "src/numeric/n.ts",
  "src/words/n.ts",
  "src/io/n.ts",
  "src/fit/n.ts",
  "src/predict/n.ts",
].map((path) => [path, "node:fs"]);

let folder: string;
const rulesBroken = new Map<string, string[]>();

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-arrows-"));
  const { vcs: _vcs, $schema: _schema, ...rules } = JSON.parse(readFileSync("biome.json", "utf8"));
  writeFileSync(join(folder, "biome.json"), JSON.stringify(rules));
  for (const [path, target] of [...forbidden, ...allowed, ...nodeModules]) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), `import { thing } from "${target}";\n\nexport const used = thing;\n`);
  }
  for (const [path, text] of circles.flat()) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  const biome = join(process.cwd(), "node_modules/@biomejs/biome/bin/biome");
  const { stdout } = spawnSync(
    process.execPath,
    [biome, "lint", "--reporter=json", "--max-diagnostics=none", "."],
    {
      cwd: folder,
      encoding: "utf8",
    },
  );
  for (const { category, location } of JSON.parse(stdout).diagnostics) {
    const path = String(location.path.file ?? location.path).replaceAll("\\", "/");
    rulesBroken.set(path, [...(rulesBroken.get(path) ?? []), category]);
  }
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("the arrows numeric, words -> io -> fit -> predict -> report -> study -> cli, by the linter's rules", () => {
  it.each(forbidden)("%s may not import %s", (path) => {
    expect(rulesBroken.get(path)).toContain("lint/style/noRestrictedImports");
  });

  it.each(allowed)("%s may import %s", (path) => {
    expect(rulesBroken.get(path)).toBeUndefined();
  });

  it.each(circles.map((files) => ({ files: files.map(([path]) => path) })))(
    "$files may not import one another in a circle",
    ({ files }) => {
      for (const path of files)
        expect(rulesBroken.get(path), path).toContain("lint/suspicious/noImportCycles");
    },
  );

  it.each(nodeModules)("%s may not import the Node module %s", (path) => {
    expect(rulesBroken.get(path)).toContain("lint/correctness/noNodejsModules");
  });
});
