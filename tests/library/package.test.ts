import { spawnSync } from "node:child_process";
import {
  cpSync,
  existsSync,
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
import { nodeBinary, nodeVersions } from "../../scripts/node-versions.mjs";
import { reachableTypes } from "../../scripts/reachable-types.mjs";
import { fencesOf, pages } from "../docs/fences.js";
import { differences } from "../faults/make/output-set.js";

/**
 * The package as somebody gets it: packed from a copy of the sources (so that no other test's build is
 * touched), unpacked into an empty project, its dependencies linked to ours instead of fetched.
 */
const root = process.cwd();
let folder: string;
let project: string;
let packed: { files: { path: string }[] };
/** What the compiler said, a line each, of three files of which one is wrong, and of what docs and notebooks show. */
let saidByCompiler: string[];
let shown: string[];

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
    "container",
    "CHANGELOG.md",
    "CITATION.cff",
    "CONTRIBUTING.md",
    "DEVELOPERS.md",
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
  writeFileSync(
    join(project, "right.ts"),
    `import { glassTransitions, guthGold, readText, type DynamicMeasurement, type Results } from "frostline";
import { readFileSync } from "node:fs";
const peak = (m: DynamicMeasurement): number | null | undefined => glassTransitions(m).transitions[0]?.tanDeltaPeak?.temperature_C;
export const first = (r: Results): string => r.compounds[0].name;
const read = readText(readFileSync("larch.csv", "utf8"), "larch.csv");
if (!read.ok) throw new Error(read.problem.message);
const [measured] = read.value.measurements;
if (measured.kind === "rebound") throw new Error("no sweep");
console.log(guthGold(0.3), Math.round(peak(measured) ?? NaN));
`,
  );
  writeFileSync(
    join(project, "required.cts"),
    'import frostline = require("frostline");\nconst ratio: number = frostline.guthGold(0.3);\nconsole.log(ratio);\n',
  );
  writeFileSync(
    join(project, "wrong.ts"),
    'import { guthGold } from "frostline";\nexport const x: string = guthGold(0.3);\n',
  );
  shown = writeWhatIsShown(join(project, "shown"));
  // As strict as the project itself, and the declarations of the package are checked too; the compiler's own are not.
  writeFileSync(
    join(project, "tsconfig.json"),
    JSON.stringify({
      extends: join(root, "tsconfig.json"),
      compilerOptions: {
        ...{ target: "es2022", lib: ["es2022", "dom"], skipLibCheck: false, allowJs: false, noEmit: false },
        skipDefaultLibCheck: true,
        ...{ typeRoots: ["node_modules/@types"], rootDir: ".", outDir: "compiled" },
        paths: { plot: ["./shown/plot.ts"] },
      },
      include: ["*.ts", "*.cts", "shown/*.ts"],
    }),
  );
  saidByCompiler = run(process.execPath, [join(root, "node_modules/typescript/bin/tsc"), "-p", "."])
    .stdout.split("\n")
    .filter((line) => line !== "");
}, 240_000);

/**
 * Writes the cells of every notebook and the ts blocks of every page as files of TypeScript, with what the notebooks
 * import. The notebooks' kernel and the snippets' bundler drop types without a look.
 *
 * @returns the files' names
 */
function writeWhatIsShown(place: string): string[] {
  mkdirSync(place);
  cpSync(join(root, "notebooks/plot.ts"), join(place, "plot.ts"));
  const written: string[] = [];
  const write = (name: string, text: string) => {
    written.push(`${name}.ts`);
    writeFileSync(join(place, `${name}.ts`), `${text}\nexport {};\n`);
  };
  for (const name of readdirSync(join(root, "notebooks")).filter((name) => name.endsWith(".ipynb"))) {
    const { cells } = JSON.parse(readFileSync(join(root, "notebooks", name), "utf8"));
    const code = cells.filter(({ cell_type }: { cell_type: string }) => cell_type === "code");
    write(
      name.replace(".ipynb", ""),
      code.map(({ source }: { source: string | string[] }) => [source].flat().join("")).join("\n;\n"),
    );
  }
  for (const page of pages()) {
    for (const { language, line, text } of fencesOf(page)) {
      if (language === "ts") write(`${page.replaceAll(/\W/g, "-")}-${line}`, text);
    }
  }
  return written;
}
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

  it("holds all that its README and its docs link to, and its licences", () => {
    const paths = packed.files.map(({ path }) => path);
    const pages = paths.filter((path) => path === "README.md" || /^docs\/.*\.md$/.test(path));
    expect(pages.length).toBeGreaterThan(20);
    // What tests and notebooks show stands in the source, as docs/README.md says.
    const inSource = (page: string, target: string) =>
      page !== "README.md" && /^(tests|notebooks)\//.test(target);
    const broken = pages.flatMap((page) =>
      [...readFileSync(join(project, "node_modules/frostline", page), "utf8").matchAll(/\]\(([^)#\s]+)/g)]
        .map(([, link]) => link)
        .filter((link) => !/^[a-z]+:/.test(link))
        .map((link) => join(dirname(page), link).replace(/\/$/, ""))
        .filter(
          (target) =>
            !inSource(page, target) &&
            !paths.some((path) => path === target || path.startsWith(`${target}/`)),
        )
        .map((target) => `${page}: ${target}`),
    );
    expect(broken).toEqual([]);
    expect(paths).toEqual(
      expect.arrayContaining(["LICENSE", "CHANGELOG.md", "dist/THIRD-PARTY-NOTICES.txt"]),
    );
  });

  it("says where it comes from, or that nobody can have it from there", () => {
    const manifest = JSON.parse(readFileSync(join(project, "node_modules/frostline/package.json"), "utf8"));
    const addresses = [manifest.repository.url, manifest.bugs.url, manifest.homepage];
    for (const address of addresses) expect(address).toMatch(/^(git\+)?https:\/\//);
    expect(manifest.keywords.length).toBeGreaterThan(4);
    // Names under .invalid belong to nobody (RFC 2606, section 2); as long as one is there, nothing can be published.
    if (addresses.some((address) => new URL(address.replace("git+", "")).hostname.endsWith(".invalid")))
      expect(manifest.private).toBe(true);
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

  describe.each(nodeVersions)("on Node.js %s", (version) => {
    const node = nodeBinary(version);
    const on = (args: string[]) => run(node!, args);

    it.skipIf(node === null)("is that version", () => {
      expect(on(["--version"]).stdout).toBe(`v${version}\n`);
    });

    it.skipIf(node === null)("is imported by a module, and what TypeScript made of one", () => {
      writeFileSync(
        join(project, "use.js"),
        'import { guthGold, readText } from "frostline";\nconsole.log(guthGold(0.3), readText("", "a.csv").ok);\n',
      );
      // 3.019: Guth, J. Appl. Phys. 16, 20, 1945, at a volume fraction of 0.30.
      expect(on(["use.js"])).toMatchObject({ stdout: "3.019 false\n", stderr: "", status: 0 });
      expect(on(["compiled/right.js"])).toMatchObject({ stdout: "3.019 -35\n", stderr: "", status: 0 });
    });

    it.skipIf(node === null)("is had by require, and by what TypeScript made of one", () => {
      writeFileSync(
        join(project, "use.cjs"),
        'const { guthGold } = require("frostline");\nconsole.log(guthGold(0.3));\n',
      );
      expect(on(["use.cjs"])).toMatchObject({ stdout: "3.019\n", stderr: "", status: 0 });
      expect(on(["compiled/required.cjs"])).toMatchObject({ stdout: "3.019\n", stderr: "", status: 0 });
    });

    it.skipIf(node === null)("assesses to the same bytes as here", () => {
      const cli = join(project, "node_modules/frostline/dist/cli.js");
      const out = join(project, `report-${version}`);
      expect(on([cli, "assess", "larch.csv", "--out", out, "--quiet"])).toMatchObject({
        stderr: "",
        status: 0,
      });
      expect(differences(out, join(project, "report"))).toEqual([]);
    });
  });

  it("brings the types of the library and no others: right use compiles in strict mode, wrong use does not", () => {
    expect(saidByCompiler.filter((line) => !line.startsWith("shown/"))).toEqual([
      expect.stringMatching(/^wrong\.ts\(2,14\): error TS2322: /),
    ]);
    const types = join(project, "node_modules/frostline/dist/types");
    const all = readdirSync(types, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name));
    expect(new Set(all)).toEqual(reachableTypes(join(types, "src/index.d.ts")));
    expect(all.length).toBeGreaterThan(20);
  });

  it("fits what is shown: the cells of every notebook and the ts blocks of every page compile in strict mode", () => {
    expect(shown.length).toBeGreaterThanOrEqual(7);
    for (const name of shown)
      expect(existsSync(join(project, "compiled/shown", name.replace(/ts$/, "js")))).toBe(true);
    expect(saidByCompiler.filter((line) => line.startsWith("shown/"))).toEqual([]);
  });
});
