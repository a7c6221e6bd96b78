import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { validate } from "dockerfile-utils";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { quickExport } from "../faults/make/quick-export.js";
import { startWatcher } from "../faults/make/watcher.js";
import { runCli } from "../make/run-cli.js";
import { fencesOf } from "./fences.js";

/** What the how-to gives an administrator to copy: each is run, with its paths put elsewhere, or checked by its own tool. */
const page = "docs/how-to/watch-a-share.md";
const blockOf = (language: string) => fencesOf(page).find((fence) => fence.language === language)!.text;
const cli = fileURLToPath(new URL("../../dist/cli.js", import.meta.url));
const manifest = JSON.parse(readFileSync("package.json", "utf8"));

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-services-"));
  mkdirSync(join(folder, "exports"));
  writeFileSync(join(folder, "exports", "a.csv"), quickExport(1));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const hasSystemd = spawnSync("systemd-analyze", ["--version"]).status === 0;

describe("the systemd unit", () => {
  const unit = blockOf("ini");
  const start = /^ExecStart=(\S+) (.*)$/m.exec(unit)!;

  /** What systemd says of a unit; empty where it finds nothing. */
  function verified(text: string): string {
    const file = join(folder, "frostline.service");
    writeFileSync(file, text.replace(start[1], "/bin/true").replace("User=lab", "User=root"));
    const { status, stderr } = spawnSync("systemd-analyze", ["verify", "--man=no", file], {
      encoding: "utf8",
    });
    const own = stderr.split("\n").filter((line) => line.includes("frostline.service"));
    return status === 0 && own.length === 0 ? "" : own.join("\n") || `exit code ${status}: ${stderr}`;
  }

  it.skipIf(!hasSystemd)("is sound by systemd's own check, which finds a misspelt key", () => {
    expect(verified(unit)).toBe("");
    expect(verified(unit.replace("RestartSec=", "RestartSecs="))).toContain("RestartSecs");
    expect(verified(unit.replace("on-failure", "on-falure"))).toContain("on-falure");
  });

  it("starts a watch that ends on systemd's SIGTERM with exit code 0, and writes where the unit lets it", async () => {
    const [command, input, ...options] = start[2].split(" ");
    expect(command).toBe("watch");
    const out = options[options.indexOf("--out") + 1];
    expect(unit).toContain(`ReadWritePaths=${out}\n`);
    expect(input).toBe("/srv/lab/exports");
    const more = options.filter((word) => word !== "--out" && word !== out);
    // Quiet tells nothing of a report, so it is started without, too.
    expect(more).toContain("--quiet");
    const place = join(folder, "service");
    const watcher = startWatcher(cli, join(folder, "exports"), place, {
      more: more.filter((word) => word !== "--quiet"),
    });
    await watcher.line(/^report written/);
    expect(await watcher.end("SIGTERM")).toEqual({ code: 0, signal: null });
  });
});

it("the line for cron is five times, a user and a command that does what it says", () => {
  const [line, ...more] = blockOf("cron").trim().split("\n");
  expect(more).toEqual([]);
  const [, times, user, command] = /^((?:\S+\s+){5})(\S+)\s+(.*)$/.exec(line)!;
  expect(times.trim().split(/\s+/)).toEqual(["30", "5", "*", "*", "*"]);
  expect(user).toBe("lab");
  // In a crontab a percent sign ends the command.
  expect(command).not.toContain("%");
  const placed = command
    .replace("/usr/local/bin/frostline", `"${process.execPath}" "${cli}"`)
    .replaceAll("/srv/lab", folder);
  const { status, stdout, stderr } = spawnSync("sh", ["-c", placed], { encoding: "utf8" });
  expect(status).toBe(1);
  expect(stdout).toBe("");
  expect(stderr).toMatch(/^frostline: --fail-on glassy: 1 of 1 compound could not be judged/);
});

it("the Windows task names options that watch has", () => {
  const [, argument] = /-Argument '([^']+)'/.exec(blockOf("powershell"))!;
  const help = runCli(["watch", "--help"]).stdout;
  const options = argument.match(/--[a-z-]+/g)!;
  expect(options.length).toBeGreaterThan(2);
  for (const option of options) expect(help).toContain(option);
});

describe("the container recipe", () => {
  const recipe = readFileSync("container/Containerfile", "utf8");
  const found = (text: string) => validate(text).map(({ message }) => message);

  it("is sound by a linter, which finds what is wrong", () => {
    expect(found(recipe)).toEqual([]);
    expect(found(recipe.replace("ENTRYPOINT", "ENTRYPIONT"))).not.toEqual([]);
    expect(found(recipe.replace("USER node", "USER"))).not.toEqual([]);
  });

  it("starts the command of the package, on a Node.js that it runs on, as a user without rights", () => {
    expect(recipe).toContain(`ENTRYPOINT ["${Object.keys(manifest.bin)[0]}"]`);
    const [, major] = /^FROM node:(\d+)-/m.exec(recipe)!;
    expect(Number(major)).toBeGreaterThan(Number(/\d+/.exec(manifest.engines.node)![0]));
    expect(recipe.indexOf("USER node")).toBeGreaterThan(recipe.lastIndexOf("RUN "));
    const build = fencesOf(page).find(({ text }) => text.includes("podman build"))!.text;
    expect(build).toContain(`frostline:${manifest.version}`);
    const words = /podman run .*frostline:\S+ (.*)$/m.exec(build)![1].split(" ");
    const help = runCli([words[0], "--help"]).stdout;
    for (const word of words.filter((each) => each.startsWith("--"))) expect(help).toContain(word);
  });
});
