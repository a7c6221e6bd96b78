import { spawnSync } from "node:child_process";
import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { publint } from "publint";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

/**
 * The package as somebody gets it: packed from a copy of the sources (so that no other test's build is
 * touched), unpacked into an empty project, its dependencies linked to ours instead of fetched.
 */
const root = process.cwd();
let folder: string;
let project: string;
let packed: { files: { path: string }[] };

function run(command: string, args: string[], cwd = project) {
  return spawnSync(command, args, { cwd, encoding: "utf8", env: { ...process.env, NO_COLOR: "1" } });
}

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-package-"));
  const copy = join(folder, "copy");
  for (const path of [
    "package.json",
    "README.md",
    "tsconfig.json",
    "tsconfig.types.json",
    "src",
    "scripts",
    "reference-curves",
    "schema",
    "docs",
    "CHANGELOG.md",
    "LICENSE",
  ]) {
    cpSync(join(root, path), join(copy, path), { recursive: true });
  }
  symlinkSync(join(root, "node_modules"), join(copy, "node_modules"));
  const pack = run("npm", ["pack", "--json", "--loglevel=error", "--pack-destination", folder], copy);
  expect(pack.status, pack.stderr).toBe(0);
  packed = JSON.parse(pack.stdout.slice(pack.stdout.indexOf("[")))[0];
  const tarball = readdirSync(folder).find((name) => name.endsWith(".tgz"))!;

  project = join(folder, "project");
  const modules = join(project, "node_modules");
  mkdirSync(join(modules, "frostline"), { recursive: true });
  expect(
    run("tar", ["-xzf", join(folder, tarball), "-C", join(modules, "frostline"), "--strip-components=1"])
      .status,
  ).toBe(0);
  const { dependencies, peerDependencies } = JSON.parse(
    readFileSync(join(modules, "frostline", "package.json"), "utf8"),
  );
  const asked = [...Object.keys(dependencies), ...Object.keys(peerDependencies)];
  for (const name of [...asked, "@types/node", "undici-types"]) {
    mkdirSync(dirname(join(modules, name)), { recursive: true });
    symlinkSync(join(root, "node_modules", name), join(modules, name));
  }
  writeFileSync(join(project, "package.json"), '{ "name": "empty", "private": true, "type": "module" }\n');
}, 240_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("the packed package", () => {
  it("holds the program, its types and its data, and nothing of the workshop", () => {
    const paths = packed.files.map(({ path }) => path);
    for (const path of [
      "README.md",
      "dist/cli.js",
      "dist/index.js",
      "dist/compound-worker.js",
      "dist/page/page-assets.json",
      "dist/types/src/index.d.ts",
      "schema/results.schema.json",
      "reference-curves/textures.json",
    ]) {
      expect(paths).toContain(path);
    }
    expect(paths.filter((path) => /^(src|tests|scripts|notebooks|bench)\//.test(path))).toEqual([]);
    expect(paths.filter((path) => path.endsWith(".map"))).toEqual([]);
  });

  it("holds the docs that its README links to, and its licences", () => {
    const paths = packed.files.map(({ path }) => path);
    const linked = readFileSync(join(root, "README.md"), "utf8").matchAll(/\]\((docs\/[^)#]+\.(?:md|png))/g);
    for (const [, path] of linked) expect(paths).toContain(path);
    expect(paths).toEqual(
      expect.arrayContaining(["LICENSE", "CHANGELOG.md", "dist/THIRD-PARTY-NOTICES.txt"]),
    );
  });

  it("asks for nothing at run time that is bundled already", () => {
    const { dependencies, peerDependenciesMeta } = JSON.parse(
      readFileSync(join(project, "node_modules/frostline/package.json"), "utf8"),
    );
    expect(Object.keys(dependencies)).toEqual(["tinypool"]);
    // Only the types speak of zod.
    expect(peerDependenciesMeta).toEqual({ zod: { optional: true } });
  });

  it("has exports, types and bin in order (publint)", async () => {
    const { messages } = await publint({
      pkgDir: join(project, "node_modules/frostline"),
      pack: false,
      strict: true,
    });
    expect(messages).toEqual([]);
  });

  it("runs as a command", () => {
    const cli = join(project, "node_modules/frostline/dist/cli.js");
    expect(statSync(cli).mode & 0o111).toBe(0o111);
    const help = run(cli, ["--help"]);
    expect(help.status).toBe(0);
    for (const command of ["assess", "inspect", "watch", "demo", "merge"])
      expect(help.stdout).toContain(command);
  });

  it("assesses a file and writes the report with its page", () => {
    const rows = Array.from({ length: 31 }, (_, i) => {
      const temperature_C = -80 + 4 * i;
      const rubbery = 1 / (1 + Math.exp(-(temperature_C + 40) / 5));
      const storage_MPa = 1000 ** (1 - rubbery);
      const tanDelta = 0.05 + 1.2 * Math.exp(-(((temperature_C + 35) / 12) ** 2));
      return `${temperature_C},10,${storage_MPa.toFixed(4)},${tanDelta.toFixed(4)}`;
    });
    writeFileSync(
      join(project, "larch.csv"),
      `Temperature (°C),Frequency (Hz),G' (MPa),tan delta\n${rows.join("\n")}\n`,
    );
    const cli = join(project, "node_modules/frostline/dist/cli.js");
    const assessed = run(cli, ["assess", "larch.csv", "--out", "report", "--quiet"]);
    expect(assessed.stderr).toBe("");
    expect(assessed.status).toBe(0);
    expect(readFileSync(join(project, "report/report.html"), "utf8")).toContain("larch");
    const { compounds } = JSON.parse(readFileSync(join(project, "report/results.json"), "utf8"));
    expect(compounds[0].glassTransitions[0].tanDeltaPeak.temperature_C).toBeCloseTo(-35, 0);
  });

  it("imports as a library", () => {
    writeFileSync(
      join(project, "use.js"),
      'import { guthGold, readText } from "frostline";\nconsole.log(guthGold(0.3), readText("", "a.csv").ok);\n',
    );
    const used = run(process.execPath, ["use.js"]);
    expect(used.stderr).toBe("");
    // 3.019: Guth, J. Appl. Phys. 16, 20, 1945, at a volume fraction of 0.30.
    expect(used.stdout).toBe("3.019 false\n");
  });

  it("is had by require too", () => {
    writeFileSync(
      join(project, "use.cjs"),
      'const { guthGold } = require("frostline");\nconsole.log(guthGold(0.3));\n',
    );
    expect(run(process.execPath, ["use.cjs"])).toMatchObject({ stdout: "3.019\n", status: 0 });
  });

  it("brings its types: right use compiles in strict mode, wrong use does not", () => {
    writeFileSync(
      join(project, "right.ts"),
      'import { glassTransitions, type DynamicMeasurement, type Results } from "frostline";\n' +
        "export const peak = (m: DynamicMeasurement) => glassTransitions(m).transitions[0]?.tanDeltaPeak?.temperature_C;\n" +
        "export const first = (r: Results): string => r.compounds[0].name;\n",
    );
    writeFileSync(
      join(project, "right.cts"),
      'import frostline = require("frostline");\nexport const ratio: number = frostline.guthGold(0.3);\n',
    );
    writeFileSync(
      join(project, "wrong.ts"),
      'import { guthGold } from "frostline";\nexport const x: string = guthGold(0.3);\n',
    );
    const { stdout } = run(process.execPath, [
      join(root, "node_modules/typescript/bin/tsc"),
      ..."--noEmit --strict --module nodenext --target es2023 --types node right.ts right.cts wrong.ts".split(
        " ",
      ),
    ]);
    expect(stdout).toMatch(/^wrong\.ts\(2,14\): error TS2322: [^\n]+\n$/);
  });
});
