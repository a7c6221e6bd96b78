import { spawn, spawnSync } from "node:child_process";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, dirname, join } from "node:path";
import { transform } from "esbuild";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parse } from "yaml";
import { demoFolder } from "../../src/study/demo/demo-folder.js";
import { parseStudyFile } from "../../src/study/study-file/study-file.js";
import { keepFits, takeKeptFits } from "../make/kept-fits.js";
import { type Fence, fencesOf, pages } from "./fences.js";

/**
 * Every page's blocks are run in order, in a folder of the page's own that holds a few invented exports:
 *
 * - `sh`: run by bash; `file=NAME` writes it instead, `watch` ends it after its first report, `not-run: why`
 *   (why is there for the reader too) has only its syntax checked
 * - `yaml study`: read as a study file; `yaml not-study: what`: as YAML
 * - `ts`: run against the built library
 * - `text output`: each of its lines stands in what the block before it printed
 * - any with `file=NAME`: also written there
 */
const root = process.cwd();
/** Commands of the workshop, which .ci/run and other tests run. */
const elsewhere = ["npm run demo", "npm test", "npm run notebooks"];
const small = [
  "exports/Birch 60 Frequenzdurchläufe.txt",
  "exports/Juniper 55 barrido.txt",
  "exports/Maple Duo export abgebrochen.csv",
  "deliveries/alder_n_tension.csv",
  "deliveries/Alder N seconda mescola.csv",
];
/** The names under which README's examples go. */
const places: [string, string][] = [
  ["path/to/exports/odd.csv", "exports/Juniper 55 barrido.txt"],
  ["path/to/exports", "exports"],
  ["path/to/report", "report"],
];

/** Where the pages' commands write: most of them assess the same three files. */
const outputs = ["report", "shares"];

let base: string;

beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), "frostline-docs-"));
  const bin = join(base, "bin");
  mkdirSync(bin);
  const cli = join(root, "dist/cli.js");
  writeFileSync(join(bin, "frostline"), `#!/bin/sh\nexec "${process.execPath}" "${cli}" "$@"\n`);
  // From a checkout: npm run --silent frostline -- …
  writeFileSync(
    join(bin, "npm"),
    `#!/bin/sh\n[ "$1 $2 $3 $4" = "run --silent frostline --" ] || exit 97\nshift 4\nexec frostline "$@"\n`,
  );
  for (const name of ["frostline", "npm"]) chmodSync(join(bin, name), 0o755);
  mkdirSync(join(base, "node_modules"));
  symlinkSync(root, join(base, "node_modules", "frostline"), "junction");
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

const demo = new Map(demoFolder().map(({ path, bytes }) => [path, bytes]));
const folderNamedBy = (page: string) => join(base, page.replaceAll("/", "-"));

function folderOf(page: string): string {
  const folder = folderNamedBy(page);
  if (existsSync(folder)) return folder;
  for (const path of small) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), demo.get(path.slice(path.indexOf("/") + 1))!);
  }
  for (const out of outputs) takeKeptFits(join(folder, out));
  return folder;
}

const environment = () => ({ ...process.env, PATH: `${join(base, "bin")}${delimiter}${process.env.PATH}` });

function bash(script: string, cwd: string, ...options: string[]) {
  return spawnSync("bash", [...options, "-c", script], {
    cwd,
    encoding: "utf8",
    env: environment(),
    timeout: 100_000,
  });
}

function bashSyntax(script: string) {
  const { status, stderr } = spawnSync("bash", ["-n"], { input: script, encoding: "utf8" });
  expect(status, stderr).toBe(0);
}

/** Runs a command that goes on for ever, until it has written its first report, and ends it as Ctrl-C does. */
function runWatch(script: string, cwd: string): Promise<string> {
  return new Promise((done, failed) => {
    const child = spawn("bash", ["-c", `exec ${script}`], { cwd, env: environment() });
    let output = "";
    let isEnding = false;
    child.stderr.on("data", (data) => {
      output += data;
    });
    child.stdout.on("data", (data) => {
      output += data;
      // Once: a second one would be taken for impatience.
      if (!isEnding && output.includes("report written")) isEnding = child.kill("SIGINT");
    });
    child.on("exit", (code) => {
      if (code === 0) done(output);
      else failed(new Error(`exit code ${code}: ${output}`));
    });
  });
}

async function runTypeScript(text: string, cwd: string): Promise<string> {
  // As in a project that has the package: "frostline" is found in a node_modules above.
  const file = join(cwd, "snippet.mjs");
  const { code } = await transform(text, { loader: "ts" });
  writeFileSync(file, code);
  const run = spawnSync(process.execPath, [file], { cwd, encoding: "utf8" });
  expect(run.status, run.stderr).toBe(0);
  return run.stdout;
}

function isStudy(text: string) {
  const parsed = parseStudyFile(text);
  expect(parsed.ok ? "" : parsed.problem.message).toBe("");
}

/** Runs one block and gives what it printed. */
async function run(fence: Fence, folder: string): Promise<string | null> {
  const { language, info, text } = fence;
  const file = /file=(.+)$/.exec(info)?.[1];
  if (file !== undefined) {
    mkdirSync(dirname(join(folder, file)), { recursive: true });
    writeFileSync(join(folder, file), `${text}\n`);
  }
  if (language === "sh") {
    if (file !== undefined || /^not-run: \S.{10,}/.test(info)) bashSyntax(text);
    else if (info === "watch") return runWatch(text, folder);
    else {
      expect(info, "an sh block is run, or says why not").toBe("");
      if (elsewhere.includes(text.trim())) return null;
      const { status, stdout, stderr } = bash(text, folder, "-euo", "pipefail");
      expect(status, stdout + stderr).toBe(0);
      return stdout + stderr;
    }
    return null;
  }
  if (language === "yaml") {
    if (info.startsWith("not-study: ")) expect(typeof parse(text)).toBe("object");
    else isStudy(text);
    return null;
  }
  if (language === "ts") return runTypeScript(text, folder);
  if (language === "csv") {
    expect(file, "a csv block names its file").toBeDefined();
    return null;
  }
  // Untagged blocks of README: commands of a checkout.
  if (language === "" && fence.page === "README.md") {
    for (const line of text.split("\n")) {
      const command = line.replace(/\s+#.*$/, "").trim();
      if (elsewhere.includes(command)) continue;
      const placed = places.reduce((written, [from, to]) => written.replaceAll(from, `"${to}"`), command);
      if (/ -- watch /.test(placed)) await runWatch(placed, folder);
      else {
        const { status, stdout, stderr } = bash(placed, folder);
        expect(status, `${placed}\n${stdout}${stderr}`).toBe(0);
      }
    }
    return null;
  }
  expect(
    ["ini", "json", "cron", "powershell"],
    `${fence.page}:${fence.line}: a block of an unknown kind`,
  ).toContain(language);
  return null;
}

describe.each(pages())("%s", (page) => {
  const fences = fencesOf(page);
  if (fences.length === 0) it("has no snippet", () => expect(fences).toEqual([]));
  let printed: string | null = null;
  for (const fence of fences) {
    it(`line ${fence.line}: ${fence.language} ${fence.info}`.trim(), async () => {
      if (fence.language === "text") {
        expect(fence.info).toBe("output");
        expect(printed).not.toBeNull();
        for (const line of fence.text.split("\n")) expect(printed).toContain(line);
        return;
      }
      printed = await run(fence, folderOf(page));
    });
  }
  afterAll(() => {
    for (const out of outputs) keepFits(join(folderNamedBy(page), out));
  });
});

describe("what is said to be run elsewhere", () => {
  it("is in .ci/run, or in the tests of the notebooks", () => {
    const ci = readFileSync(join(root, ".ci/run"), "utf8");
    expect(ci).toContain("npm test");
    expect(ci).toMatch(/npm run (--silent )?demo/);
    expect(readFileSync(join(root, "tests/notebooks/notebooks.test.ts"), "utf8")).toContain(
      "run-notebooks.mjs",
    );
  });
});
