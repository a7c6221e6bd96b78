import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

/** Wrong and right imports, each in a file of its own, linted by the project's own rules in one run. */
const forbidden = [
  ["src/io/a.ts", "../fit/peak.js"],
  ["src/io/b.ts", "../study/assess.js"],
  ["src/fit/a.ts", "../predict/rebound.js"],
  ["src/predict/a.ts", "../report/results.js"],
  ["src/report/a.ts", "../study/assess.js"],
  ["src/report/html/a.ts", "../../study/assess.js"],
  ["src/study/a.ts", "../cli.js"],
];
const allowed = [
  ["src/fit/ok.ts", "../io/measurement.js"],
  ["src/predict/ok.ts", "../fit/peak.js"],
  ["src/study/ok.ts", "../report/results.js"],
];
const nodeModules = ["src/io/n.ts", "src/fit/n.ts", "src/predict/n.ts"].map((path) => [path, "node:fs"]);

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
  const biome = join(process.cwd(), "node_modules/@biomejs/biome/bin/biome");
  const { stdout } = spawnSync(process.execPath, [biome, "lint", "--reporter=json", "."], {
    cwd: folder,
    encoding: "utf8",
  });
  for (const { category, location } of JSON.parse(stdout).diagnostics) {
    const path = String(location.path.file ?? location.path).replaceAll("\\", "/");
    rulesBroken.set(path, [...(rulesBroken.get(path) ?? []), category]);
  }
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("the arrows io -> fit -> predict -> report -> study -> cli, by the linter's rules", () => {
  it.each(forbidden)("%s may not import %s", (path) => {
    expect(rulesBroken.get(path)).toContain("lint/style/noRestrictedImports");
  });

  it.each(allowed)("%s may import %s", (path) => {
    expect(rulesBroken.get(path)).toBeUndefined();
  });

  it.each(nodeModules)("%s may not import the Node module %s", (path) => {
    expect(rulesBroken.get(path)).toContain("lint/correctness/noNodejsModules");
  });
});
