import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import {
  appendFileSync,
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
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, inject, it } from "vitest";
import { buildOf } from "../scripts/build-of.mjs";
import { resultsSchema } from "../src/report/results/results.js";
import { demoFolder } from "../src/study/demo/demo-folder.js";
import { quickExport } from "./faults/make/quick-export.js";
import { runCli } from "./make/run-cli.js";

let folder: string;
const { folder: demo, run: first } = inject("demo")!;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-cli-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Hash of every file under a folder, by its path; what the program keeps for itself left out. */
function hashes(root: string, below = ""): Record<string, string> {
  const found: Record<string, string> = {};
  for (const name of readdirSync(join(root, below)).sort()) {
    if (name === ".cache") continue;
    const path = join(below, name);
    if (statSync(join(root, path)).isDirectory()) Object.assign(found, hashes(root, path));
    else
      found[path] = createHash("sha256")
        .update(readFileSync(join(root, path)))
        .digest("hex");
  }
  return found;
}
const exportsOf = () => join(demo, "exports");
const results = (out: string) =>
  resultsSchema.parse(JSON.parse(readFileSync(join(out, "results.json"), "utf8")));

const isLinux = process.platform === "linux" && spawnSync("script", ["--version"]).status === 0;

describe("frostline", () => {
  it("--version tells the version and the build, by the content of what was built", () => {
    const { version } = JSON.parse(readFileSync("package.json", "utf8"));
    const copy = join(folder, "copy");
    cpSync("dist", join(copy, "dist"), { recursive: true });
    cpSync("package.json", join(copy, "package.json"));
    symlinkSync(join(process.cwd(), "node_modules"), join(copy, "node_modules"));
    const told = (cli: string) =>
      spawnSync(process.execPath, [cli, "--version"], { encoding: "utf8" }).stdout;
    const own = told("dist/cli.js");
    expect(own).toMatch(/^\S+ \(build [0-9a-f]{12}\)\n$/);
    expect(own.startsWith(`${version} (`)).toBe(true);
    expect(runCli(["-V"]).stdout).toBe(own);
    expect(buildOf("dist")).toBe(/build (\w+)/.exec(own)![1]);
    appendFileSync(join(copy, "dist/index.js"), "// another\n");
    expect(buildOf(join(copy, "dist"))).not.toBe(buildOf("dist"));
    rmSync(join(copy, "dist/build.txt"));
    expect(told(join(copy, "dist/cli.js"))).toBe(`${version}\n`);
  });

  it.skipIf(!isLinux)(
    "prints no colour on a terminal, NO_COLOR set or not, and no bar where it is no terminal",
    () => {
      const input = join(folder, "colour.csv");
      writeFileSync(input, quickExport(1));
      const command = [process.execPath, "dist/cli.js", "assess", input, "--out", join(folder, "colour")];
      // `script` gives the command a terminal and prints what it wrote there.
      const onTerminal = (env: Record<string, string>) =>
        spawnSync("script", ["-qec", command.map((word) => `'${word}'`).join(" "), "/dev/null"], {
          encoding: "utf8",
          input: "",
          env: { PATH: process.env.PATH, TERM: "xterm-256color", ...env },
        }).stdout;
      for (const env of [{}, { NO_COLOR: "1" }, { FORCE_COLOR: "3", COLORTERM: "truecolor" }] as Record<
        string,
        string
      >[]) {
        const written = onTerminal(env);
        // The bar proves that it was a terminal.
        expect(written).toContain("\r\u001b[2K");
        expect(written).toContain("report   ");
        // Nor any other escape sequence, as those of colours are (ECMA-48, 8.3.117), but to wipe the line.
        for (const after of written.split("\u001b").slice(1)) expect(after.slice(0, 3)).toBe("[2K");
      }
      const { stdout, stderr } = runCli(command.slice(2));
      expect(stdout + stderr).not.toContain("\u001b");
    },
  );
});

describe("frostline demo", () => {
  it("succeeds, keeps progress off stdout and says where the report is", () => {
    expect(first.status).toBe(0);
    expect(first.stdout).toContain("report.html");
    expect(first.stdout).toContain("no friction or safety certificate");
    expect(first.stdout).not.toContain("fitting");
    expect(first.stderr).toContain("fitting");
  });

  it("writes the contract's files, and results.json is valid by its own schema", () => {
    const out = join(demo, "report");
    expect(readdirSync(out).sort()).toEqual(["report.html", "results.json", "tables"]);
    const read = results(out);
    expect(read.compounds.length).toBeGreaterThanOrEqual(6);
    const rejected = read.inputs.filter(({ status }) => status === "rejected");
    expect(rejected.map(({ path }) => path).sort()).toEqual([
      "Linden PU Kopie.xlsx",
      "Maple Duo export abgebrochen.csv",
    ]);
    for (const { problem } of rejected) expect(problem?.code).toMatch(/^io\./);
    for (const input of read.inputs) {
      const bytes = readFileSync(join(exportsOf(), input.path));
      expect(input.sha256).toBe(createHash("sha256").update(bytes).digest("hex"));
      expect(input.bytes).toBe(bytes.length);
    }
  });

  it("leaves the inputs as they were", () => {
    for (const { path, bytes } of demoFolder()) {
      expect(readFileSync(join(exportsOf(), path)).equals(bytes)).toBe(true);
    }
  });
});

/** A part of the demo that still has every kind of file, for what is run several times. */
const partOfDemo = [
  "alder_n_tension.csv",
  "Spruce H isotherms.csv",
  "Juniper 55 barrido.txt",
  "Rückprall ISO 4662.csv",
  "Maple Duo export abgebrochen.csv",
];
function smallFolder(): string {
  const small = join(folder, "small");
  mkdirSync(small, { recursive: true });
  for (const name of [...partOfDemo, "study.yaml"]) cpSync(join(exportsOf(), name), join(small, name));
  return small;
}

describe("determinism", () => {
  it("two runs, files named in another order, and 1, 2 or 8 workers give the same bytes", () => {
    const small = smallFolder();
    const backwards = [...partOfDemo].reverse().map((name) => join(small, name));
    const runs: [string, string[]][] = [
      ["one worker", [small, "--workers", "1"]],
      ["two workers and another order", [...backwards, "--workers", "2"]],
      ["eight workers", [small, "--workers", "8"]],
    ];
    const found = runs.map(([name, args]) => {
      const out = join(folder, name);
      expect(runCli(["assess", ...args, "--out", out, "--quiet"]).status, name).toBe(0);
      return hashes(out);
    });
    expect(Object.keys(found[0])).toContain("report.html");
    for (const [i, [name]] of runs.entries()) expect(found[i], name).toEqual(found[0]);
  });

  it("shares of the work, run as processes of their own and merged, give the bytes of a single run", () => {
    const small = smallFolder();
    const parts = join(folder, "parts");
    for (const share of ["1/3", "2/3", "3/3"]) {
      expect(runCli(["assess", small, "--part", share, "--out", parts, "--quiet"]).status).toBe(0);
    }
    const partials = readdirSync(parts).flatMap((name) => (name === ".cache" ? [] : join(parts, name)));
    expect(partials).toHaveLength(3);
    const out = join(folder, "merged");
    expect(runCli(["merge", ...partials.reverse(), "--out", out]).status).toBe(0);
    expect(hashes(out)).toEqual(hashes(join(folder, "one worker")));
    const lacking = runCli(["merge", ...partials.slice(1), "--out", join(folder, "lacking")]);
    expect(lacking.status).toBe(2);
    expect(lacking.stderr).toContain("3/3 is missing");
  });
});

describe("exit codes and what stands in the terminal", () => {
  it("0 for help, 2 for none and for unknown commands and options", () => {
    const help = runCli(["--help"]);
    expect(help.status).toBe(0);
    for (const command of ["assess", "inspect", "watch", "demo"]) expect(help.stdout).toContain(command);
    expect(runCli([]).status).toBe(2);
    expect(runCli(["asses"]).status).toBe(2);
    expect(runCli(["assess", "--ou", "x"]).status).toBe(2);
    expect(runCli(["assess", ".", "--fail-on"]).status).toBe(2);
    expect(runCli(["assess", ".", "--fail-on", "cold"]).stderr).toContain("glassy");
  });

  it.each<[string, (place: string) => string[], RegExp]>([
    ["a misspelt command", () => ["asses", "x"], /Did you mean assess\?[\s\S]*--help/],
    ["a misspelt option", () => ["assess", "x", "--outt", "y"], /Did you mean --out\?[\s\S]*--help/],
    ["no path", () => ["assess"], /missing required argument 'paths'[\s\S]*frostline --help/],
    [
      "a folder that is not there",
      () => ["assess", "nowhere"],
      /nowhere: no such file or folder\. Check the/,
    ],
    [
      "a pattern that the shell left",
      () => ["assess", "no/*.csv"],
      /pattern[\s\S]*give the folder that holds/,
    ],
    ["a folder without files", (place) => ["assess", join(place, "empty")], /No file to read was found/],
    [
      "inspect: a file that is not there",
      () => ["inspect", "nowhere.csv"],
      /nowhere\.csv: no such file\. Check/,
    ],
    [
      "inspect: a folder",
      (place) => ["inspect", place],
      /a folder; expected one file[\s\S]*frostline assess/,
    ],
    ["watch: no folder", () => ["watch", "nowhere"], /nowhere: no such folder/],
    ["page: a folder", (place) => ["page", "--out", join(place, "empty")], /such as .*empty.frostline\.html/],
    [
      "page: a folder to be",
      (place) => ["page", "--out", `${join(place, "new")}/`],
      /such as .*frostline\.html/,
    ],
    [
      "no study file",
      (place) => ["assess", place, "--study", "no.yaml"],
      /no\.yaml: the study file is not read: there is no such file/,
    ],
    ["half a worker", () => ["assess", "x", "--workers", "0.5"], /Expected a whole number from 1 up/],
  ])("%s: 2, and what to do", (_, words, said) => {
    const place = mkdtempSync(join(folder, "wrong-"));
    mkdirSync(join(place, "empty"));
    writeFileSync(join(place, "a.txt"), "a letter\n");
    const before = hashes(place);
    const run = runCli(words(place));
    expect(run.status).toBe(2);
    expect(run.stdout).toBe("");
    expect(run.stderr).toMatch(said);
    expect(hashes(place)).toEqual(before);
  });

  it("--fail-on gives 1 where it occurs, 0 where it does not", () => {
    const out = join(folder, "gate");
    const gate = (path: string, what: string) =>
      runCli(["assess", path, "--fail-on", what, "--out", out, "--quiet"]).status;
    // One compound, and a file that is cut off.
    const two = join(folder, "two");
    mkdirSync(two);
    for (const name of ["Juniper 55 barrido.txt", "Maple Duo export abgebrochen.csv"])
      cpSync(join(exportsOf(), name), join(two, name));
    expect(gate(two, "rejected")).toBe(1);
    expect(gate(two, "glassy")).toBe(1);
    expect(gate(join(two, "Juniper 55 barrido.txt"), "rejected")).toBe(0);
  });

  it("--fail-on undetermined stops on a compound without a verdict; --fail-on glassy names it", () => {
    const path = join(folder, "no verdict");
    mkdirSync(path);
    // A ramp above the glass transition: no peak, so nothing to hang a shift law on, and no verdict in the cold.
    const rows = [40, 45, 50, 55, 60, 65, 70, 75, 80].map(
      (T) => `${T},1,${3 - 0.002 * T},${0.2 - 0.001 * T}`,
    );
    writeFileSync(
      join(path, "Hazel.csv"),
      `Temperature (°C),Frequency (Hz),E' (MPa),E'' (MPa)\n${rows.join("\n")}\n`,
    );
    const gate = (what: string[]) =>
      runCli([
        "assess",
        path,
        ...what.flatMap((one) => ["--fail-on", one]),
        "--out",
        join(folder, "gate"),
        "--quiet",
      ]);
    const glassy = gate(["glassy"]);
    // Without a verdict glassy is among the words left open.
    expect(glassy.status).toBe(1);
    expect(glassy.stderr).toContain("1 of 1 compound could not be judged in every use");
    expect(glassy.stderr).toContain("Hazel (");
    expect(glassy.stdout).toContain("? not determined, so possibly glassy:");
    expect(gate(["undetermined"]).status).toBe(1);
    const both = gate(["glassy", "undetermined"]);
    expect(both.status).toBe(1);
    expect(both.stderr).toBe(glassy.stderr);
  });

  it("one usable file among broken ones is assessed; each broken one is named with its code", () => {
    const mixed = join(folder, "mixed");
    mkdirSync(mixed);
    cpSync(join(exportsOf(), "alder_n_tension.csv"), join(mixed, "alder.csv"));
    writeFileSync(join(mixed, "empty.csv"), "");
    writeFileSync(join(mixed, "letter.txt"), "Dear all,\nplease find the data attached.\n");
    const run = runCli(["assess", mixed, "--out", join(folder, "mixed-out"), "--quiet"]);
    expect(run.status).toBe(0);
    expect(run.stderr).toBe("");
    expect(run.stdout).toContain("2 of 3 files rejected");
    const read = results(join(folder, "mixed-out"));
    expect(read.inputs.map(({ path, status }) => `${path} ${status}`)).toEqual([
      "alder.csv read",
      "empty.csv rejected",
      "letter.txt rejected",
    ]);
  });

  it("nothing usable: 2, every reason on stderr, and nothing written", () => {
    const bad = join(folder, "bad");
    const out = join(folder, "bad-out");
    mkdirSync(bad);
    writeFileSync(join(bad, "empty.csv"), "");
    const run = runCli(["assess", bad, "--out", out, "--quiet"]);
    expect(run.status).toBe(2);
    expect(run.stderr).toContain("empty.csv");
    expect(() => statSync(out)).toThrow();
    expect(runCli(["assess", join(folder, "nowhere"), "--out", out]).status).toBe(2);
  });

  it("a wrong study file names the line and writes nothing", () => {
    const study = join(folder, "wrong.yaml");
    writeFileSync(study, "uses:\n  - temperatur_C: 5\n");
    const out = join(folder, "wrong-out");
    const run = runCli(["assess", exportsOf(), "--study", study, "--out", out, "--quiet"]);
    expect(run.status).toBe(2);
    expect(run.stderr).toContain("wrong.yaml:2");
    expect(run.stderr).toContain('"temperature_C"');
    expect(() => statSync(out)).toThrow();
  });

  it("control characters in a file's name do not reach the terminal", () => {
    const odd = join(folder, "odd");
    mkdirSync(odd);
    writeFileSync(join(odd, "a\u001b[31mb\nc.csv"), "");
    const run = runCli(["assess", odd, "--out", join(folder, "odd-out"), "--quiet"]);
    expect(run.stdout + run.stderr).not.toContain("\u001b[31m");
  });
});

describe("frostline inspect", () => {
  it("shows columns with quantity and unit", () => {
    const run = runCli(["inspect", join(exportsOf(), "alder_n_tension.csv")]);
    expect(run.status).toBe(0);
    expect(run.stdout).toContain("storage modulus");
    expect(run.stdout).toContain("temperature sweep");
  });

  it("a rejected file gives its code and 2", () => {
    const run = runCli(["inspect", join(exportsOf(), "Maple Duo export abgebrochen.csv")]);
    expect(run.status).toBe(2);
    expect(run.stdout).toMatch(/rejected \[io\./);
  });
});
