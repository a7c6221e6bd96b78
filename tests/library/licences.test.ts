import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, inject, it } from "vitest";
import { licencesOf, packagesIn } from "../../scripts/third-party.mjs";

const root = process.cwd();
const metafile = (path: string) => ({
  inputs: {},
  outputs: { "dist/x.js": { bytes: 1, imports: [], exports: [], inputs: { [path]: { bytesInOutput: 12 } } } },
});

it("a bundled package is known by its path, also below another or a scope", () => {
  expect(packagesIn(metafile("node_modules/zod/v4/index.js"))).toEqual(["zod"]);
  expect(packagesIn(metafile("../copy/node_modules/@noble/hashes/sha2.js"))).toEqual(["@noble/hashes"]);
  expect(packagesIn(metafile("node_modules/a/node_modules/b/index.js"))).toEqual(["b"]);
  expect(packagesIn(metafile("src/cli.ts"))).toEqual([]);
});

it("a bundled package without a notice ends the build", () => {
  // saxes has no licence file of its own, and one of ours; fflate's is its own.
  expect(licencesOf(["saxes"])).toContain("Louis-Dominique Dubeau");
  expect(licencesOf(["fflate"])).toContain("Arjun Barrett");
  const bare = mkdtempSync(join(tmpdir(), "frostline-licence-"));
  mkdirSync(join(bare, "node_modules", "bare"), { recursive: true });
  writeFileSync(
    join(bare, "node_modules", "bare", "package.json"),
    '{ "name": "bare", "version": "1.2.3", "license": "MIT" }',
  );
  expect(() => licencesOf(["bare"], bare)).toThrow(/bare 1\.2\.3 \(MIT\) is bundled and has no licence file/);
  rmSync(bare, { recursive: true });
});

it("the package and every report carry the notices of what is bundled in them", () => {
  const notices = readFileSync(join(root, "dist", "THIRD-PARTY-NOTICES.txt"), "utf8");
  for (const name of ["zod", "yaml", "papaparse", "plotly.js-dist", "ml-matrix", "saxes"]) {
    expect(notices).toMatch(
      new RegExp(`^${name.replace(".", "\\.")} \\d+\\.\\d+\\.\\d+ \\((MIT|ISC)\\)$`, "m"),
    );
  }
  const report = readFileSync(join(inject("demo")!.folder, "report", "report.html"), "utf8");
  expect(report).toMatch(/plotly\.js-dist \d+\.\d+\.\d+ \(MIT\)/);
  expect(report).toMatch(/Permission is hereby granted, free of charge/);
});
