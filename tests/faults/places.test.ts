import { spawn, spawnSync } from "node:child_process";
import {
  closeSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { createServer, type Server } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { quickExport } from "./make/quick-export.js";
import { startWatcher } from "./make/watcher.js";

const cli = new URL("../../dist/cli.js", import.meta.url).pathname;
/** What hangs is ended; how long a refusal takes on a busy machine is no matter here. */
const patience_ms = 60_000;

let folder: string;
let exports: string;
let servers: Server[] = [];
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-places-"));
  exports = join(folder, "exports");
  mkdirSync(exports);
  writeFileSync(join(exports, "good.csv"), quickExport(1));
});
afterEach(() => {
  for (const server of servers) server.close();
  servers = [];
  rmSync(folder, { recursive: true, force: true });
});

const pipe = (path: string) => spawnSync("mkfifo", [path]);
async function socket(path: string): Promise<void> {
  const server = createServer();
  servers.push(server);
  await new Promise<void>((done) => server.listen(path, done));
}
function run(args: string[], stdio: ("pipe" | "ignore" | number)[] = ["ignore", "pipe", "pipe"]) {
  const { status, stdout, stderr, signal } = spawnSync(process.execPath, [cli, ...args], {
    encoding: "utf8",
    stdio,
    timeout: patience_ms,
  });
  return { status, signal, stdout, stderr };
}
const out = () => join(folder, "out");
const assess = () => run(["assess", exports, "--out", out(), "--quiet"]);
const inputsOf = () =>
  JSON.parse(readFileSync(join(out(), "results.json"), "utf8")).inputs as {
    path: string;
    status: string;
    problem?: { message: string };
  }[];

describe("what is no file", { timeout: 2 * patience_ms }, () => {
  it("under the name of an export is refused by its name, and the rest is read", async () => {
    pipe(join(exports, "pipe.csv"));
    await socket(join(exports, "socket.csv"));
    mkdirSync(join(exports, "folder.csv"));
    expect(assess().status).toBe(0);
    const told = Object.fromEntries(inputsOf().map(({ path, problem }) => [path, problem?.message]));
    expect(told).toEqual({
      "good.csv": undefined,
      "pipe.csv": "This is a named pipe, expected a file.",
      "socket.csv": "This is a socket, expected a file.",
    });
    expect(run(["inspect", join(exports, "pipe.csv")])).toMatchObject({
      status: 2,
      stdout: expect.stringContaining("This is a named pipe"),
    });
  });

  it.each([
    ["a pipe", pipe, "it is a named pipe"],
    ["a folder", (path: string) => mkdirSync(path), "it is a folder"],
    ["larger than any study", (path: string) => writeFileSync(path, "a: 1\n".repeat(1_600_000)), "8 MB"],
  ])("as study.yaml, or %s, is refused by its name", (_, make, said) => {
    make(join(exports, "study.yaml"));
    const { status, stderr } = assess();
    expect(status).toBe(2);
    expect(stderr).toMatch(/study\.yaml: the study file is not read: /);
    expect(stderr).toContain(said);
  });

  it("as a texture's profile is refused by its name", () => {
    pipe(join(exports, "ice.csv"));
    writeFileSync(join(exports, "study.yaml"), "textures:\n  - { name: ice, profile: ice.csv }\n");
    expect(assess()).toMatchObject({ status: 2, stderr: expect.stringContaining("ice.csv") });
  });

  it("as a partial result is refused by its name", () => {
    pipe(join(folder, "part-1-of-1.json"));
    const { status, stderr } = run(["merge", join(folder, "part-1-of-1.json"), "--out", out()]);
    expect(status).toBe(2);
    expect(stderr).toMatch(/part-1-of-1\.json: it is a named pipe, expected a file/);
  });

  it("is named by watch, which goes on, and ends on the first Ctrl-C", async () => {
    pipe(join(exports, "pipe.csv"));
    const watcher = startWatcher(cli, exports, out());
    await watcher.line(/pipe\.csv.*named pipe/);
    await watcher.line(/report written/);
    pipe(join(exports, "study.yaml"));
    await watcher.line(/study\.yaml: the study file is not read: it is a named pipe/);
    rmSync(join(exports, "study.yaml"));
    await watcher.line(/study changed/);
    expect(await watcher.end("SIGINT")).toEqual({ code: 0, signal: null });
  });
});

describe("links and names", { timeout: 2 * patience_ms }, () => {
  const profile = `x in mm,z in mm\n${Array.from({ length: 400 }, (_, i) => `${i * 0.01},${Math.sin(i) * 0.1 + ((i * 7) % 13) / 100}`).join("\n")}\n`;

  it("a profile that is a link out of the folder is refused, and nothing of it is quoted", () => {
    writeFileSync(join(folder, "secret.csv"), "password,hunter2\n");
    symlinkSync(join(folder, "secret.csv"), join(exports, "ice.csv"));
    writeFileSync(join(exports, "study.yaml"), "textures:\n  - { name: ice, profile: ice.csv }\n");
    const { status, stderr } = assess();
    expect(status).toBe(2);
    expect(stderr).toMatch(/the profile ice\.csv lies outside the study's folder/);
    expect(stderr).not.toMatch(/hunter2|password/);
  });

  it("a profile whose name begins with two points is a file like any other", () => {
    writeFileSync(join(exports, "..ice.csv"), profile);
    writeFileSync(join(exports, "study.yaml"), "textures:\n  - { name: ice, profile: ..ice.csv }\n");
    expect(assess()).toMatchObject({ status: 0, stderr: "" });
  });

  it("a partial result that is none is refused without its content", () => {
    writeFileSync(join(folder, "part.json"), JSON.stringify({ schema: "hunter2" }));
    const { status, stderr } = run(["merge", join(folder, "part.json"), "--out", out()]);
    expect(status).toBe(3);
    expect(stderr).toMatch(/part\.json: its key \S+ does not fit/);
    expect(stderr).not.toMatch(/hunter2|\bat .*:\d+:\d+/);
  });

  it("a link that is not followed is the reason, even where nothing else was usable", () => {
    rmSync(join(exports, "good.csv"));
    symlinkSync("/etc/hostname", join(exports, "far.csv"));
    const { status, stderr } = assess();
    expect(status).toBe(2);
    expect(stderr).toMatch(/\[study\.not-followed\] far\.csv: a link that leads out of the folder/);
  });
});

describe("exit codes", { timeout: 2 * patience_ms }, () => {
  const oneLine = /^frostline: [^\n]+\n(?:frostline: nothing was written\.\n)?$/;

  it("3 where the output cannot be written", () => {
    writeFileSync(out(), "a file in the way");
    expect(assess()).toMatchObject({ status: 3, stderr: expect.stringMatching(oneLine) });
  });

  it("3 where a partial result is damaged in what a merge relies on", () => {
    expect(run(["assess", exports, "--part", "1/1", "--out", out(), "--quiet"]).status).toBe(0);
    const file = join(out(), "part-1-of-1.json");
    const partial = JSON.parse(readFileSync(file, "utf8"));
    expect(run(["merge", file, "--out", join(folder, "merged")]).status).toBe(0);
    partial.compounds[0].assessment = { outlooks: 7 };
    writeFileSync(file, JSON.stringify(partial));
    const { status, stderr } = run(["merge", file, "--out", join(folder, "merged")]);
    expect(status).toBe(3);
    expect(stderr).toMatch(/its key compounds\.0\.assessment\.\S+ does not fit/);
  });

  it("3 where the answer cannot be given: a disk that is full, a reader that left", async () => {
    const full = openSync("/dev/full", "w");
    const onFull = run(["inspect", join(exports, "good.csv")], ["ignore", full, "pipe"]);
    closeSync(full);
    expect(onFull).toMatchObject({
      status: 3,
      stderr: expect.stringMatching(/^frostline: stdout: [^\n]+\n$/),
    });
    const child = spawn(process.execPath, [cli, "inspect", ...Array(400).fill(join(exports, "good.csv"))], {
      stdio: ["ignore", "pipe", "pipe"],
    });
    let said = "";
    child.stderr.on("data", (piece) => (said += piece));
    child.stdout.once("data", () => child.stdout.destroy());
    const code = await new Promise((done) => child.on("close", done));
    expect({ code, said }).toEqual({ code: 3, said: "frostline: stdout: it was closed before the end\n" });
  });

  it("0 all the same where nobody reads stderr", () => {
    const { status } = spawnSync(
      "sh",
      ["-c", `"${process.execPath}" "${cli}" assess "${exports}" --out "${out()}" 2>&-`],
      {
        timeout: patience_ms,
      },
    );
    expect(status).toBe(0);
    expect(inputsOf()).toHaveLength(1);
  });
});
